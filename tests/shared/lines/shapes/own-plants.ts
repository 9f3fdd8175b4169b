/** Plants, rooms and meters of other things: heads that lie, and lines with nothing of a flue in them. */
import type { Own } from './own-shape.ts';
import { clockFrom, f, n, comma, wander } from './shape-values.ts';

const clock = clockFrom(11, 20);
const plantNames = Array.from({ length: 150 }, (_, at) =>
  at === 40
    ? 'Flue gas O2 [%]'
    : at === 41
      ? 'Flue gas CO [ppm]'
      : at === 77
        ? 'Stack temperature [degC]'
        : at % 5 === 0
          ? `P${at} drum pressure [bar]`
          : at % 5 === 1
            ? `F${at} feed water flow [t/h]`
            : at % 5 === 2
              ? `T${at} feed water temperature [degC]`
              : at % 5 === 3
                ? `V${at} valve position [%]`
                : `J${at} power [kW]`,
);

export const plants: Own[] = [
  {
    name: 'plant, 150 columns with units',
    expect: 'read',
    why: 'three columns of interest among 150',
    head: [`Date;Time;${plantNames.join(';')}`],
    row: (r, at) =>
      `04.05.2031;${clock(at)};${plantNames
        .map((_, index) =>
          index === 40
            ? f(r.o2, 2)
            : index === 41
              ? f(r.co, 1)
              : index === 77
                ? f(r.stack, 1)
                : f(wander(at + index * 3, 5 + index, 9 + index), 2),
        )
        .join(';')}`,
    truth: (r) => ({ o2: n(r.o2, 2), co: n(r.co, 1), stack: n(r.stack, 1) }),
  },

  {
    name: 'board with key words that hold digits and units',
    expect: 'read',
    why: 'PM2.5 and CO2 in one line, units behind the values',
    row: (r, at) =>
      `PM2.5=${String(5 + (at % 4))}ug/m3 CO2=${f(410 + at, 0)}ppm CO=${f(2 + (at % 3), 0)}ppm RH=${f(wander(at, 41, 44), 1)}%`,
    truth: (_, at) => ({ co2: (410 + at) / 1e4, co: 2 + (at % 3) }),
  },

  {
    name: 'oxygen cell with status words',
    expect: 'read',
    why: 'a state and a percentage in words',
    row: (r, at) => `seq ${at + 100}; state OK; oxygen ${f(r.o2, 3)} %; cell temperature ${f(wander(at, 44, 45), 1)} C`,
    truth: (r) => ({ o2: n(r.o2, 3) }),
  },

  {
    name: 'CO2 without a unit',
    expect: 'ask',
    why: 'no unit',
    row: (_, at) => [`CO2 value: ${(16 + ((at * 7) % 5)).toString()}`, `Loop: ${at}`],
  },

  {
    name: 'fourteen nameless columns',
    expect: 'ask',
    why: 'no names',
    row: (r, at) =>
      [
        at,
        f(r.o2, 2),
        f(r.co, 0),
        f(r.co2, 2),
        f(r.stack, 1),
        f(r.air, 1),
        ...Array.from({ length: 8 }, (_, i) => f(wander(at * (i + 1), 3 + i * 20, 5 + i * 22), 2)),
      ].join(','),
  },

  {
    name: 'a room: temperature and humidity',
    expect: 'ask',
    why: 'one temperature that no word places',
    head: ['time,Temperature [°C],Humidity [%]'],
    row: (_, at) => `${clock(at)},${f(wander(at, 20, 22), 1)},${f(wander(at, 40, 48, 21), 1)}`,
  },

  {
    name: 'two flues',
    expect: 'ask',
    why: 'O2 twice',
    head: ['time,Flue A O2 [%],Flue B O2 [%],Flue A CO [ppm],Flue B CO [ppm]'],
    row: (r, at) => `${clock(at)},${f(r.o2, 1)},${f(r.o2 + 1.1, 1)},${f(r.co, 0)},${f(r.co + 20, 0)}`,
  },

  {
    name: 'a header that lies',
    expect: 'ask',
    why: 'names swapped against units',
    head: ['time,O2 [ppm],CO [%],Stack [°C]'],
    row: (r, at) => `${clock(at)},${f(r.co, 0)},${f(r.o2, 1)},${f(r.stack, 0)}`,
  },

  {
    name: 'stack in per cent, oxygen in degrees',
    expect: 'ask',
    why: 'names swapped against units',
    head: ['time,O2 [°C],CO [ppm],Stack [%]'],
    row: (r, at) => `${clock(at)},${f(r.stack, 1)},${f(r.co, 0)},${f(r.o2, 1)}`,
  },

  {
    name: 'CO with three decimals and no unit',
    expect: 'ask',
    why: 'could be anything',
    head: ['time,co,mass'],
    row: (r, at) => `${clock(at)},${f(r.co / 31, 3)},${f(500 - at * 0.2, 1)}`,
  },

  {
    name: 'one gas and a temperature',
    expect: 'ask',
    why: 'the temperature has no place',
    head: ['time;O2 [%];Temp [°C]'],
    row: (r, at) => `${clock(at)};${f(r.o2, 1)};${f(r.stack, 1)}`,
  },

  {
    name: 'counts with factors',
    expect: 'ask',
    why: 'raw counts, factors in a row above',
    head: ['#0,0.0325,0.0039,0.2,1', '##,##', 'seconds,CO,FlueTemp,PM,Flow'],
    row: (r, at) => `${at * 2},${f(r.co * 31, 0)},${f(r.stack * 256, 0)},${String(50 + (at % 5))},10500`,
  },

  {
    name: 'wet oxygen',
    expect: 'ask',
    why: 'wet, not dry',
    head: ['time,O2 wet [%],Steam flow [t/h]'],
    row: (r, at) => `${clock(at)},${f(r.o2 * 0.9, 2)},${f(wander(at, 12, 14), 2)}`,
  },

  {
    name: 'two monoxide meters',
    expect: 'ask',
    why: 'CO_1 and CO_2 are two COs',
    head: ['time,CO_low [ppm],CO_high [ppm],O2 [%]'],
    row: (r, at) => `${clock(at)},${f(r.co, 0)},${f(r.co + 9, 0)},${f(r.o2, 2)}`,
  },

  {
    name: 'air monitor, CO in mg/m3',
    expect: 'ask',
    why: 'the reference state is not said',
    head: ['time,CO [mg/m3],NO2 [ug/m3],T [°C],RH [%]'],
    row: (_, at) =>
      `${clock(at)},${f(wander(at, 0.4, 2.2), 1)},${f(wander(at, 20, 60, 11), 0)},${f(wander(at, 8, 15, 50), 1)},${f(wander(at, 50, 70), 1)}`,
  },

  {
    name: 'a Kelvin temperature that no word places',
    expect: 'ask',
    why: 'no place',
    head: ['Time,Temperature,Mass', '[s],[K],[g]'],
    row: (_, at) => `${at},${f(296 + at * 0.7, 3)},${f(141 - at * 0.01, 4)}`,
  },

  {
    name: 'weight table',
    expect: 'refuse',
    why: 'mass only',
    head: ['Zeit [s];Masse [g];Massenverlust [g/s]'],
    row: (_, at) => `${at};${comma(f(141 - at * 0.11, 2))};${comma(f(wander(at, 0.09, 0.13), 4))}`,
  },

  {
    name: 'dust station',
    expect: 'refuse',
    why: 'dust only',
    head: ['time;PM1 [ug/m3];PM2.5 [ug/m3];PM10 [ug/m3];counts'],
    row: (_, at) => `${clock(at)};${f(wander(at, 3, 5), 1)};${f(wander(at, 5, 9), 1)};${f(wander(at, 11, 21), 1)};${586000 + at * 3}`,
  },

  {
    name: 'electric meter',
    expect: 'refuse',
    why: 'volts, amperes, watts',
    head: ['timestamp,Voltage (V),Current (A),Power (W),Frequency (Hz)'],
    row: (_, at) => `2031-05-04 ${clock(at)},${f(wander(at, 228, 233), 1)},${f(wander(at, 4, 6), 2)},${f(wander(at, 910, 1400), 0)},50.0`,
  },

  {
    name: 'oxygen as a flow and a pressure',
    expect: 'refuse',
    why: 'the name of a gas, another quantity',
    head: ['time,Oxygen flow [l/min],Oxygen pressure [bar],CO2 flow [kg/h]'],
    row: (_, at) => `${clock(at)},${f(wander(at, 4, 6), 2)},${f(wander(at, 2.9, 3.1), 2)},${f(wander(at, 10, 14), 2)}`,
  },

  {
    name: 'boiler water',
    expect: 'refuse',
    why: 'water temperatures',
    head: ['Zeit;Kessel [°C];Vorlauf [°C];Rücklauf [°C];Warmwasser [°C]'],
    row: (_, at) =>
      `${clock(at)};${f(wander(at, 60, 70), 1)};${f(wander(at, 55, 65), 1)};${f(wander(at, 40, 50), 1)};${f(wander(at, 48, 55), 1)}`,
  },

  {
    name: 'alarm flags',
    expect: 'refuse',
    why: 'the name of a gas, a flag',
    row: (_, at) => `CO alarm: ${at % 40 === 39 ? 1 : 0}, O2 fault: 0, uptime: ${at * 5}`,
  },

  {
    name: 'position sentences',
    expect: 'refuse',
    why: 'a receiver of positions',
    row: (_, at) => `$GPGGA,${112000 + (at % 60)},4807.0${(at * 37) % 100},N,01131.0${(at * 11) % 100},E,1,08,0.9,545.4,M,46.9,M,,`,
  },

  {
    name: 'acceleration',
    expect: 'refuse',
    why: 'three axes',
    head: ['t,ax [m/s2],ay [m/s2],az [m/s2]'],
    row: (_, at) =>
      `${f(at * 0.01, 2)},${f(wander(at, -0.4, 0.4, 3), 3)},${f(wander(at, -0.3, 0.3, 5), 3)},${f(wander(at, 9.7, 9.9, 4), 3)}`,
  },

  {
    name: 'raw sensors only',
    expect: 'refuse',
    why: 'raw counts of gas sensors',
    head: ['time,CO raw,O2 adc [counts],NOx raw'],
    row: (_, at) => `${clock(at)},${f(wander(at, 1300, 1500), 0)},${f(wander(at, 800, 900, 9), 0)},${f(wander(at, 500, 700, 13), 0)}`,
  },

  {
    name: 'frames of a bus',
    expect: 'refuse',
    why: 'bytes in hexadecimal',
    row: (_, at) =>
      `0x${(0x18f0 + (at % 3)).toString(16)} [8] ${Array.from({ length: 8 }, (_u, i) => ((at * 31 + i * 57) % 256).toString(16).padStart(2, '0').toUpperCase()).join(' ')}`,
  },

  {
    name: 'start messages of a board only',
    expect: 'refuse',
    why: 'messages',
    row: (_, at) => [`task ${at % 7} started on core ${at % 2}`, `heap ${200000 - ((at * 131) % 9000)} free`],
  },
];
