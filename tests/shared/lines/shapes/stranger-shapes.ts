/**
 * Lines written by someone who did not know how the learner works, each with what a careful reader would do with it. Values are our own.
 */
import type { Row } from './corpus.ts';
import { shapesOf, type Own } from './own-field-shapes.ts';
import type { FieldShape } from '../score-field.ts';

const f = (value: number, digits: number): string => value.toFixed(digits);
const n = (value: number, digits: number): number => Number(value.toFixed(digits));
const comma = (text: string): string => text.replaceAll('.', ',');
const two = (value: number): string => String(value).padStart(2, '0');
const clock = (at: number): string => `14:${two(8 + Math.floor(at / 60))}:${two(at % 60)}`;
const wander = (at: number, low: number, high: number, period = 37): number => low + ((high - low) * (1 + Math.sin(at / period))) / 2;
const toF = (celsius: number): number => celsius * 1.8 + 32;
const fromF = (fahrenheit: number): number => (fahrenheit - 32) / 1.8;
const all = (r: Row) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: n(r.stack, 1), air: n(r.air, 1) });

const shapes: Own[] = [
  {
    name: 'boiler control: set values and alarm limits beside the values',
    expect: 'read',
    why: 'set value and limit columns are not measured',
    head: ['Time;O2 [%];O2 setpoint [%];O2 min alarm [%];CO [ppm];CO alarm limit [ppm];Flue gas temp [°C];Mode'],
    row: (r, at) => `${clock(at)};${f(r.o2, 1)};4.5;1.5;${f(r.co, 0)};200;${f(r.stack, 1)};AUTO`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: n(r.stack, 1) }),
  },
  {
    name: 'stove bench: dry and wet oxygen side by side',
    expect: 'read',
    why: 'dry is asked for and is there',
    head: ['t_s,O2_wet_pct,O2_dry_pct,CO_dry_ppm,T_flue_C,T_amb_C'],
    row: (r, at) => `${at},${f(r.o2 * 0.91, 2)},${f(r.o2, 2)},${f(r.co, 1)},${f(r.stack, 1)},${f(r.air, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 1), stack: n(r.stack, 1), air: n(r.air, 1) }),
  },
  {
    name: 'two oxygen probes, two flues, one CO',
    expect: 'ask',
    why: 'two O2 columns of equal right',
    head: ['Time,O2 probe 1 [%],O2 probe 2 [%],CO [ppm],Stack [°C]'],
    row: (r, at) => `${clock(at)},${f(r.o2, 1)},${f(r.o2 + 0.6, 1)},${f(r.co, 0)},${f(r.stack, 1)}`,
  },
  {
    name: 'Italian logger with accents and apostrophes',
    expect: 'read',
    why: 'Italian names, degrees',
    head: ['Data;Ora;Ossigeno %;Monossido di carbonio (ppm);Temperatura fumi [°C];Temperatura aria comburente [°C];Umidità %'],
    row: (r, at) =>
      `04/05/2031;${clock(at)};${comma(`${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)};${f(wander(at, 41, 44), 1)}`)}`,
    truth: all,
  },
  {
    name: 'Spanish logger, monóxido de carbono',
    expect: 'read',
    why: 'Spanish names',
    head: ['Fecha;Hora;Oxígeno (%);Monóxido de carbono (ppm);Temperatura de humos (°C);Temperatura del aire (°C)'],
    row: (r, at) => `04/05/2031;${clock(at)};${comma(`${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)}`)}`,
    truth: all,
  },
  {
    name: 'French logger, oxygène and monoxyde',
    expect: 'read',
    why: 'French names, latin-1 bytes',
    latin: true,
    head: ['Date;Heure;Oxygène (%);Monoxyde de carbone (ppm);Température fumées (°C);Température air comburant (°C);Dépression (Pa)'],
    row: (r, at) => `04/05/2031;${clock(at)};${comma(`${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)};${f(r.draft, 1)}`)}`,
    truth: all,
  },
  {
    name: 'German kiln log with slashes before the units',
    expect: 'read',
    why: 'Name/unit',
    head: ['Zeit/s\tO2/%\tCO/ppm\tTabgas/°C\tTluft/°C\tDruck/mbar'],
    row: (r, at) => `${at}\t${comma(`${f(r.o2, 1)}\t${f(r.co, 0)}\t${f(r.stack, 1)}\t${f(r.air, 1)}\t${f(wander(at, 1011, 1012), 1)}`)}`,
    truth: all,
  },
  {
    name: 'German laboratory: Abgastemperatur, Raumtemperatur, Kohlenmonoxid',
    expect: 'read',
    why: 'full German words, units in brackets',
    head: ['Datum;Uhrzeit;Sauerstoffgehalt [Vol.-%];Kohlenmonoxid [ppm];Abgastemperatur [°C];Raumtemperatur [°C];Wirkungsgrad [%]'],
    row: (r, at) =>
      `04.05.2031;${clock(at)};${comma(`${f(r.o2, 1)};${f(r.co, 0)};${f(r.stack, 1)};${f(r.air, 1)};${f(91 - r.o2 / 3, 1)}`)}`,
    truth: all,
  },
  {
    name: 'board, three temperatures TEMP1 to TEMP3',
    expect: 'ask',
    why: 'no word says where the temperatures are',
    head: ['ms,O2_pct,CO_ppm,TEMP1,TEMP2,TEMP3'],
    row: (r, at) => `${at * 1000 + 13},${f(r.o2, 2)},${f(r.co, 0)},${f(r.stack, 2)},${f(r.air, 2)},${f(wander(at, 55, 60), 2)}`,
  },
  {
    name: 'underscores: o2_pct, co_ppm, T_stack_C, T_air_C',
    expect: 'read',
    why: 'names hold the units',
    head: ['epoch_ms,o2_pct,co_ppm,T_stack_C,T_air_C,batt_V'],
    row: (r, at) =>
      `${1_946_203_440_000 + at * 1000},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)},${f(wander(at, 3.7, 3.8), 2)}`,
    truth: all,
  },
  {
    name: 'exponents everywhere',
    expect: 'read',
    why: '1e-3 notation, volume fractions named %',
    head: ['time [s],O2 [%],CO [ppm],T_stack [degC],m_fuel [kg/s]'],
    row: (r, at) =>
      `${at.toExponential(3)},${r.o2.toExponential(4)},${r.co.toExponential(4)},${r.stack.toExponential(4)},${wander(at, 1e-4, 2e-4).toExponential(3)}`,
    truth: (r) => ({
      o2: Number(r.o2.toExponential(4)),
      co: Number(r.co.toExponential(4)),
      stack: Number(r.stack.toExponential(4)),
    }),
  },
  {
    name: 'nested JSON',
    expect: 'read',
    why: 'objects in objects, units in the keys',
    row: (r, at) =>
      JSON.stringify({
        ts: 1_946_203_440_000 + at * 1000,
        dev: 'n4',
        gas: { o2_pct: n(r.o2, 2), co_ppm: n(r.co, 0) },
        temp: { stack_c: n(r.stack, 1), ambient_c: n(r.air, 1) },
        wifi: { rssi: -60 - (at % 5) },
      }),
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0), stack: n(r.stack, 1), air: n(r.air, 1) }),
  },
  {
    name: 'JSON with value and unit for each',
    expect: 'read',
    why: 'unit beside the value',
    row: (r) =>
      JSON.stringify({
        O2: { value: n(r.o2, 1), unit: '%' },
        CO: { value: n(r.co, 0), unit: 'ppm' },
        FlueTemp: { value: n(r.stack, 1), unit: 'C' },
      }),
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: n(r.stack, 1) }),
  },
  {
    name: 'printed slip over several lines',
    expect: 'read',
    why: 'name, dots, value, unit; a rule between',
    row: (r, at) => [
      `Time ........ ${clock(at)}`,
      `O2 .......... ${f(r.o2, 1)} %`,
      `CO .......... ${f(r.co, 0)} ppm`,
      `Flue temp ... ${f(r.stack, 1)} °C`,
      `Air temp .... ${f(r.air, 1)} °C`,
      '======================',
    ],
    multi: true,
    truth: all,
  },
  {
    name: 'slip in German over several lines',
    expect: 'read',
    why: 'Sauerstoff, Abgastemperatur and a blank line between',
    row: (r) => [
      `Sauerstoff      : ${comma(f(r.o2, 1))} %`,
      `CO              : ${f(r.co, 0)} ppm`,
      `Abgastemperatur : ${comma(f(r.stack, 1))} °C`,
      `Lufttemperatur  : ${comma(f(r.air, 1))} °C`,
      '',
    ],
    multi: true,
    truth: all,
  },
  {
    name: 'epoch in ms, no header, four columns',
    expect: 'ask',
    why: 'no names',
    row: (r, at) => `${1_946_203_440_000 + at * 1000},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: n(r.stack, 1) }),
  },
  {
    name: 'am and pm, Fahrenheit, 0.000 draft',
    expect: 'read',
    why: 'Fahrenheit in the names',
    head: ['Time,Oxygen %,CO ppm,Stack Temp F,Ambient Temp F,Draft inWC,Efficiency %'],
    row: (r, at) =>
      `02:${two(8 + Math.floor(at / 60))}:${two(at % 60)} pm,${f(r.o2, 1)},${f(r.co, 0)},${f(toF(r.stack), 0)},${f(toF(r.air), 0)},-0.0${20 + (at % 4)},${f(84 - r.o2 / 4, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), stack: fromF(n(toF(r.stack), 0)), air: fromF(n(toF(r.air), 0)) }),
  },
  {
    name: 'the board starts anew in the middle',
    expect: 'read',
    why: 'banner and header again, clock from zero',
    head: ['', 'Boot v1.4', 'sensor warm', 'sec,O2%,COppm,TstackC'],
    row: (r, at) => {
      const line = `${at < 47 ? at : at - 47},${f(r.o2, 2)},${f(r.co, 0)},${f(r.stack, 1)}`;
      return at === 46 ? [line, 'Brownout detector was triggered', 'Boot v1.4', 'sensor warm', 'sec,O2%,COppm,TstackC'] : line;
    },
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0), stack: n(r.stack, 1) }),
  },
  {
    name: 'statistics at the end',
    expect: 'read',
    why: 'footer lines with Min, Max, Mean',
    head: ['No,Time,O2 (%),CO (ppm),Flue T (°C),Air T (°C)'],
    row: (r, at) => `${at + 1},${clock(at)},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.air, 1)}`,
    truth: all,
    foot: ['', 'Min,,3.9,21,190.0,20.1', 'Max,,7.9,99,230.4,22.9', 'Mean,,5.0,44,214.0,21.0', 'End of log'],
  },
  {
    name: 'minimum, mean and maximum columns',
    expect: 'ask',
    why: 'three O2 columns: mean is likely, but not sure',
    head: ['Time;O2 min [%];O2 avg [%];O2 max [%];CO min [ppm];CO avg [ppm];CO max [ppm]'],
    row: (r, at) => `${clock(at)};${f(r.o2 - 0.1, 2)};${f(r.o2, 2)};${f(r.o2 + 0.1, 2)};${f(r.co - 2, 0)};${f(r.co, 0)};${f(r.co + 2, 0)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0) }),
  },
  {
    name: 'value with its minimum and maximum beside it',
    expect: 'read',
    why: 'the plain column is the value',
    head: ['Time;O2 [%];O2 min [%];O2 max [%];CO [ppm];CO max [ppm]'],
    row: (r, at) => `${clock(at)};${f(r.o2, 2)};${f(r.o2 - 0.1, 2)};${f(r.o2 + 0.1, 2)};${f(r.co, 0)};${f(r.co + 2, 0)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 0) }),
  },
  {
    name: 'duplicate names',
    expect: 'ask',
    why: 'O2 twice under one name with other values',
    head: ['Time,O2,CO,Temp,O2,CO,Temp', ',%,ppm,°C,%,ppm,°C'],
    row: (r, at) =>
      `${clock(at)},${f(r.o2, 1)},${f(r.co, 0)},${f(r.stack, 1)},${f(r.o2 + 1.2, 1)},${f(r.co + 11, 0)},${f(r.stack - 30, 1)}`,
  },
  {
    name: 'engine bench: lambda, O2, CO in per cent, HC, exhaust temperature',
    expect: 'read',
    why: 'CO vol% and HC beside',
    head: ['t [s];Lambda [-];O2 [vol%];CO [vol%];CO2 [vol%];HC [ppm];T_exh [°C];n [rpm]'],
    row: (r, at) =>
      `${at};${f(20.9 / (20.9 - r.o2), 3)};${f(r.o2, 2)};${f(r.co / 1e4, 4)};${f(r.co2, 2)};${f(wander(at, 20, 40), 0)};${f(r.stack, 1)};${f(wander(at, 1495, 1505, 3), 0)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co / 1e4, 4) * 1e4, co2: n(r.co2, 2), stack: n(r.stack, 1) }),
  },
  {
    name: 'plant: emissions referred to 3 % O2 beside raw ppm',
    expect: 'read',
    why: 'corrected mg/m3 column is not the raw ppm',
    head: ['Date Time;O2 dry %;CO ppm;CO mg/m3 @3%O2;NOx mg/m3 @3%O2;Flue gas T °C'],
    row: (r, at) =>
      `2031-05-04 ${clock(at)};${f(r.o2, 2)};${f(r.co, 1)};${f((r.co * 1.25 * 17.9) / (20.9 - r.o2), 1)};${f(wander(at, 120, 140), 1)};${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 1), stack: n(r.stack, 1) }),
  },
  {
    name: 'CO corrected only',
    expect: 'read',
    why: 'CO referred to 3 % O2 is not the CO in the flue; the rest is clear',
    head: ['Time;O2 [%];CO @3%O2 [ppm];Flue gas temperature [°C]'],
    row: (r, at) => `${clock(at)};${f(r.o2, 2)};${f((r.co * 17.9) / (20.9 - r.o2), 0)};${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 2), stack: n(r.stack, 1) }),
  },
  {
    name: 'CO air-free beside CO',
    expect: 'read',
    why: 'undiluted CO is another figure',
    head: ['Time,O2 %,CO ppm,CO air free ppm,CO2 %,T stack °C'],
    row: (r, at) => `${clock(at)},${f(r.o2, 1)},${f(r.co, 0)},${f((r.co * 20.9) / (20.9 - r.o2), 0)},${f(r.co2, 1)},${f(r.stack, 1)}`,
    truth: (r) => ({ o2: n(r.o2, 1), co: n(r.co, 0), co2: n(r.co2, 1), stack: n(r.stack, 1) }),
  },
  {
    name: 'unverdünnt beside CO',
    expect: 'read',
    why: 'German word for undiluted',
    head: ['Uhrzeit;O2 %;CO ppm;CO unverd. ppm;Abgastemp. °C;Verbr.lufttemp. °C'],
    row: (r, at) =>
      `${clock(at)};${comma(`${f(r.o2, 1)};${f(r.co, 0)};${f((r.co * 20.9) / (20.9 - r.o2), 0)};${f(r.stack, 1)};${f(r.air, 1)}`)}`,
    truth: all,
  },
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

export const strangerShapes: FieldShape[] = shapesOf(shapes, 3100);
