/** Torn lines, kilns, plants and meters of other things as a stranger would bring them. */
import type { Own } from './own-shape.ts';
import { clockFrom, f, n, comma, wander, toF, fromF, all } from './shape-values.ts';

const clock = clockFrom(14, 8);
export const plants: Own[] = [
  {
    name: 'fixed width with a ruled header',
    expect: 'read',
    why: 'names over dashes, blanks between',
    head: ['   TIME      O2     CO   TSTACK   TAIR', '   h:m:s     %      ppm   degC    degC', ' --------  -----  -----  ------  -----'],
    row: (r, at) =>
      ` ${clock(at)}  ${f(r.o2, 1).padStart(5)}  ${f(r.co, 0).padStart(5)}  ${f(r.stack, 1).padStart(6)}  ${f(r.air, 1).padStart(5)}`,
    truth: all,
  },

  {
    name: 'status words and over-range',
    expect: 'read',
    why: 'words in the value cells',
    head: ['Time,O2 [%],CO [ppm],Stack [°C],Status'],
    row: (r, at) =>
      `${clock(at)},${at < 6 ? '----' : f(r.o2, 1)},${at % 17 === 9 ? 'OVER' : f(r.co, 0)},${f(r.stack, 1)},${at < 6 ? 'WARMUP' : 'RUN'}`,
    truth: (r, at) => ({
      ...(at < 6 ? {} : { o2: n(r.o2, 1) }),
      ...(at % 17 === 9 ? {} : { co: n(r.co, 0) }),
      stack: n(r.stack, 1),
    }),
  },

  {
    name: 'torn lines among good ones',
    expect: 'read',
    why: 'every ninth line is cut',
    head: ['Time;O2 %;CO ppm;Tflue °C;Tair °C'],
    row: (r, at) => {
      const line = `${clock(at)};${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)}`;
      return at % 23 === 11 ? line.slice(0, 11) : line;
    },
    truth: (r, at) => (at % 23 === 11 ? {} : all(r)),
  },

  {
    name: 'pellet stove: values with names, no units',
    expect: 'ask',
    why: 'Temp without a place, O2 is named',
    row: (r, at) => `T=${f(r.stack, 0)} Tr=${f(r.air, 0)} fan=${1400 + (at % 9)} aug=${at % 4} O2=${f(r.o2, 1)}`,
  },

  {
    name: 'kiln: six thermocouples and one oxygen probe',
    expect: 'ask',
    why: 'no word says which thermocouple is the stack',
    head: ['Time,TC1 (C),TC2 (C),TC3 (C),TC4 (C),TC5 (C),TC6 (C),O2 (%)'],
    row: (r, at) => `${clock(at)},${[1, 2, 3, 4, 5, 6].map((k) => f(r.stack + k * 40, 1)).join(',')},${f(r.o2, 2)}`,
  },

  {
    name: 'kiln with zones and a stack',
    expect: 'read',
    why: 'zones are not the stack',
    head: ['Time,Zone 1 (°C),Zone 2 (°C),Zone 3 (°C),Stack (°C),O2 (%)'],
    row: (r, at) => `${clock(at)},${[1, 2, 3].map((k) => f(900 + k * 40 + wander(at, 0, 5), 1)).join(',')},${f(r.stack, 1)},${f(r.o2, 2)}`,
    truth: (r) => ({ o2: n(r.o2, 2), stack: n(r.stack, 1) }),
  },

  {
    name: 'wet oxygen only, with a steam flow',
    expect: 'ask',
    why: 'O2 wet is not O2 dry',
    head: ['Time,Stack O2 (wet) [%],Steam [t/h],Stack CO [ppm]'],
    row: (r, at) => `${clock(at)},${f(r.o2 * 0.9, 2)},${f(wander(at, 11, 13), 2)},${f(r.co, 0)}`,
  },

  {
    name: 'zirconia probe: millivolts, cell temperature, oxygen',
    expect: 'read',
    why: 'cell temperature is not the stack',
    row: (r, at) =>
      `${clock(at)} Probe: ${f(48 * Math.log10(20.9 / r.o2), 1)} mV, Cell: ${f(wander(at, 699, 701, 5), 0)} C, O2: ${f(r.o2, 2)} %`,
    truth: (r) => ({ o2: n(r.o2, 2) }),
  },

  {
    name: 'room alarm meter',
    expect: 'ask',
    why: 'CO in the room is not CO in the flue',
    head: ['Time,Room CO [ppm],Room temperature [°C],Humidity [%]'],
    row: (_, at) => `${clock(at)},${at % 4},${f(wander(at, 20, 22), 1)},${f(wander(at, 40, 44), 0)}`,
    truth: (_, at) => ({ air: n(wander(at, 20, 22), 1) }),
  },

  {
    name: 'oxygen concentrator',
    expect: 'refuse',
    why: 'O2 flow, purity in l/min and bar only',
    head: ['Time,O2 flow [l/min],Outlet pressure [kPa],Run hours'],
    row: (_, at) => `${clock(at)},${f(wander(at, 4.9, 5.1), 2)},${f(wander(at, 59, 61), 1)},${4011 + Math.floor(at / 30)}`,
  },

  {
    name: 'heat pump',
    expect: 'refuse',
    why: 'water and brine temperatures, no gas',
    head: ['Time;Flow temp [°C];Return temp [°C];Brine in [°C];Brine out [°C];COP;Compressor [Hz]'],
    row: (_, at) =>
      `${clock(at)};${f(wander(at, 35, 40), 1)};${f(wander(at, 30, 34), 1)};${f(wander(at, 4, 6), 1)};${f(wander(at, 1, 3), 1)};${f(wander(at, 3.8, 4.4), 2)};${f(wander(at, 40, 60), 0)}`,
  },

  {
    name: 'scales with a date',
    expect: 'refuse',
    why: 'weights only',
    row: (_, at) => `04.05.2031 ${clock(at)}  N  ${f(48.2 - at * 0.01, 3).padStart(9)} kg  S`,
  },

  {
    name: 'carbon content of coke',
    expect: 'refuse',
    why: 'C, CO3, O in per cent of mass by sample number',
    head: ['sample,C [wt%],H [wt%],O [wt%],S [wt%],ash [wt%]'],
    row: (_, at) =>
      `${at + 1},${f(wander(at, 84, 88, 3), 2)},${f(wander(at, 9, 12, 5), 2)},${f(wander(at, 0.4, 1.9, 7), 2)},0.0${at % 9},0.1${at % 7}`,
  },

  {
    name: 'engine control unit: O2 sensor volts and trims',
    expect: 'refuse',
    why: 'O2 sensor in volts, coolant temperature',
    head: ['time (s),O2 B1S1 (V),STFT (%),LTFT (%),Coolant (°C),IAT (°C),RPM'],
    row: (_, at) =>
      `${f(at * 0.2, 1)},${f(wander(at, 0.1, 0.9, 1), 3)},${f(wander(at, -3, 3, 4), 1)},${f(wander(at, 1, 3, 40), 1)},${f(wander(at, 88, 92), 0)},${f(wander(at, 30, 33), 0)},${f(wander(at, 2480, 2520, 2), 0)}`,
  },

  {
    name: 'header with a unit row in parentheses and an empty name',
    expect: 'read',
    why: 'units row in parentheses under the names',
    head: ['Date\tTime\tO2\tCO\tCO2\tFlue gas\tAmbient\t', '\t\t(%)\t(ppm)\t(%)\t(°C)\t(°C)\t'],
    row: (r, at) => `04.05.31\t${clock(at)}\t${f(r.o2, 1)}\t${f(r.co, 0)}\t${f(r.co2, 1)}\t${f(r.stack, 1)}\t${f(r.air, 1)}\t`,
    truth: (r) => ({ ...all(r), co2: n(r.co2, 1) }),
  },

  {
    name: 'Kelvin and mole fractions',
    expect: 'ask',
    why: 'O2 as a fraction without a unit',
    head: ['t,x_O2,x_CO,T_flue'],
    row: (r, at) => `${at},${f(r.o2 / 100, 5)},${(r.co / 1e6).toExponential(3)},${f(r.stack + 273.15, 2)}`,
  },

  {
    name: 'name and value pairs with commas',
    expect: 'read',
    why: 'name, value, unit, name, value, unit',
    row: (r) => `O2,${f(r.o2, 1)},%,CO,${f(r.co, 0)},ppm,TSTK,${f(r.stack, 1)},C`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: n(r.stack, 1) }),
  },

  {
    name: 'units glued to the values',
    expect: 'read',
    why: '5.1%O2 is read from value and unit with the name behind',
    row: (r) => `O2:${f(r.o2, 1)}% CO:${f(r.co, 0)}ppm FT:${f(r.stack, 1)}C AT:${f(r.air, 1)}C`,
    truth: all,
  },

  {
    name: 'a logger with a long banner, channel list and numbered channels',
    expect: 'read',
    why: 'channel list above, header below it',
    head: [
      'Logger report',
      'Serial no.: 10072',
      'Interval: 1 s',
      'Channels: 4',
      'CH1 = O2 [%]  CH2 = CO [ppm]  CH3 = flue [°C]  CH4 = air [°C]',
      '',
      'Date;Time;O2 [%];CO [ppm];Flue [°C];Air [°C]',
    ],
    row: (r, at) => `2031-05-04;${clock(at)};${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)}`,
    truth: all,
  },

  {
    name: 'CO in mg/m3 with its state given',
    expect: 'ask',
    why: 'mg/m3 needs its reference state',
    head: ['Zeit;O2 [%];CO [mg/Nm³];T Abgas [°C]'],
    row: (r, at) => `${clock(at)};${comma(`${f(r.o2, 1)};${f(r.co * 1.25, 1)};${f(r.stack, 1)}`)}`,
  },

  {
    name: 'ISO clock with a zone, torn lines',
    expect: 'read',
    why: 'clean table, 4 % of the lines torn',
    head: ['timestamp,o2,co,stack,air', ',%,ppm,C,C'],
    row: (r, at) => {
      const line = `2031-05-04T${clock(at)}.250+02:00,${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)}`;
      return at % 25 === 13 ? line.slice(0, 31) : line;
    },
    truth: (r, at) => (at % 25 === 13 ? {} : all(r)),
  },

  {
    name: 'clean commas: stack first, then oxygen',
    expect: 'read',
    why: 'names without units, burner values',
    head: ['stack,o2,air,co'],
    row: (r) => `${f(r.stack, 1)},${f(r.o2, 1)},${f(r.air, 1)},${f(r.co, 0)}`,
    truth: all,
  },

  {
    name: 'clean keys with ambient',
    expect: 'read',
    why: 'plain keys',
    row: (r) => `CO=${f(r.co, 0)};O2=${f(r.o2, 1)};FLUE=${f(r.stack, 1)};AMB=${f(r.air, 1)}`,
    truth: all,
  },

  {
    name: 'Fahrenheit by its values only',
    expect: 'ask',
    why: 'temperatures carry no unit, the values of Fahrenheit',
    head: ['time,o2,co,stack temp,room temp'],
    row: (r, at) => `${clock(at)},${f(r.o2, 1)},${f(r.co, 0)},${f(toF(r.stack), 0)},${f(toF(r.air), 0)}`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: fromF(n(toF(r.stack), 0)), air: fromF(n(toF(r.air), 0)) }),
  },

  {
    name: 'oxygen deficit and depletion',
    expect: 'ask',
    why: 'O2 depletion is not O2; CO in ppm is',
    head: ['time [s],O2 depletion [%],CO [ppm],HRR [kW]'],
    row: (r, at) => `${at},${f(20.9 - r.o2, 3)},${f(r.co, 1)},${f(wander(at, 10, 30), 2)}`,
    truth: (r) => ({ co: n(r.co, 1) }),
  },

  {
    name: 'hydrogen, methane, CO and O2 of a gas engine plant',
    expect: 'read',
    why: 'other gases beside; CO_ppm and O2_%',
    head: ['Time,CH4_%,H2S_ppm,H2_ppm,O2_%,CO_ppm,ExhaustTemp_degC'],
    row: (r, at) =>
      `${clock(at)},${f(wander(at, 0.1, 0.2), 2)},${f(wander(at, 0, 4), 0)},${f(wander(at, 10, 30), 0)},${f(r.o2, 2)},${f(r.co, 0)},${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0), stack: n(r.stack, 1) }),
  },

  {
    name: 'draft and net temperature',
    expect: 'read',
    why: 'net temperature is not the stack temperature',
    head: ['Time,O2 (%),CO (ppm),Net temp (°C),Flue temp (°C),Inlet temp (°C),Dew point (°C)'],
    row: (r, at) =>
      `${clock(at)},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack - r.air, 1)},${f(r.stack, 1)},${f(r.air, 1)},${f(wander(at, 46, 48), 1)}`,
    truth: all,
  },
];
