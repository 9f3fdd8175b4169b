/** Tables in several languages, and tables whose names or units are those of something else. */
import { type Shape, clock, all, rows } from './shape.ts';
import { f as fix, n as num, comma } from '../shape-values.ts';

export const tables: Shape[] = [
  {
    name: 'logger: title, names, units and kinds of mean above',
    expect: 'read',
    why: 'four head rows, quoted; mV and V columns beside',
    lines: () => [
      '"CELLAR","rig 4","program 12","table 1"',
      '"TS","RN","O2_dry","CO_dry","T_flue","T_room","Cell_mV","Batt"',
      '"","","%","ppm","Deg C","Deg C","mV","Volts"',
      '"","","Avg","Avg","Avg","Avg","Smp","Min"',
      ...rows(
        (p, at) =>
          [
            `"2031-03-12 ${clock(at)}",${at + 400},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)},${fix(p.air, 1)},${fix(p.o2 * 0.61, 2)},12.8`,
            all(p),
          ] as const,
      ),
    ],
  },

  {
    name: 'German export: semicolons, decimal commas, empty tail',
    expect: 'read',
    why: 'names and units say it',
    end: '\r\n',
    lines: () => [
      'Datum;Zeit;O2 [%];CO [ppm];Abgastemperatur [°C];Verbrennungslufttemperatur [°C];Zug [Pa];',
      ...rows(
        (p, at) =>
          [
            `12.03.2031;${clock(at)};${comma(`${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)};${fix(p.draft, 1)}`)};`,
            all(p),
          ] as const,
      ),
    ],
  },

  {
    name: 'the same in Latin-1',
    expect: 'read',
    why: 'only the degree sign differs',
    encoding: 'latin1',
    lines: () => [
      'Zeit;Sauerstoff (%);Kohlenmonoxid (ppm);Rauchgastemp. (°C);Lufttemp. (°C)',
      ...rows((p, at) => [`${clock(at)};${comma(`${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`)}`, all(p)] as const),
    ],
  },

  {
    name: 'French names',
    expect: 'read',
    why: 'names and units say it; ambient may stay out',
    optional: ['air_c'],
    lines: () => [
      'Heure;Oxygène (%);Monoxyde de carbone (ppm);Température des fumées (°C);Température ambiante (°C)',
      ...rows((p, at) => [`${clock(at)};${comma(`${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`)}`, all(p)] as const),
    ],
  },

  {
    name: 'Spanish pairs with bars and decimal commas',
    expect: 'read',
    why: 'names and units in every line',
    lines: () =>
      rows(
        (p) =>
          [
            comma(`Oxígeno: ${fix(p.o2, 1)} % | CO: ${fix(p.co, 0)} ppm | T. humos: ${fix(p.stack, 1)} °C | T. aire: ${fix(p.air, 1)} °C`)
              .replace('T,', 'T.')
              .replace('T,', 'T.'),
            { ...all(p), o2: num(p.o2, 1) },
          ] as const,
      ),
  },

  {
    name: 'Italian tabs',
    expect: 'read',
    why: 'names and units say it',
    lines: () => [
      'Ora\tOssigeno %\tCO ppm\tTemp. fumi °C\tTemp. aria comburente °C\tTiraggio Pa',
      ...rows(
        (p, at) =>
          [`${clock(at)}\t${fix(p.o2, 2)}\t${fix(p.co, 0)}\t${fix(p.stack, 1)}\t${fix(p.air, 1)}\t${fix(p.draft, 1)}`, all(p)] as const,
      ),
    ],
  },

  {
    name: 'bottles on a scale: O2, CO and N2 in kilograms',
    expect: 'ask',
    mayRefuse: true,
    why: 'weights that carry names of gases; the room temperature is one',
    lines: () => [
      'time,O2 kg,CO kg,N2 kg,room C',
      ...rows(
        (_, at) => [`${clock(at)},${fix(20.8 - at * 0.03, 2)},${fix(14.2 - at * 0.01, 2)},${fix(33.1 - at * 0.02, 2)},21.4`, {}] as const,
      ),
    ],
  },

  {
    name: 'units swapped: O2 in ppm, CO in per cent',
    expect: 'ask',
    why: 'the header lies: 4.5 ppm of oxygen in flue gas does not exist',
    lines: () => [
      't;O2 [ppm];CO [%];T flue [°C]',
      ...rows(
        (p, at) =>
          [
            `${at};${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)}`,
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
      ),
    ],
  },

  {
    name: 'names swapped: CO2 and O2 under the wrong heads',
    expect: 'ask',
    why: 'the column named CO2 begins at 20.9 and falls, the one named O2 begins at 0 and rises',
    lines: () => [
      'time,CO2 %,CO ppm,O2 %,flue C',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.co2, 2)},${fix(p.stack, 1)}`,
            { o2: num(p.o2, 2), co: num(p.co, 0), co2: num(p.co2, 2), stack: num(p.stack, 1) },
          ] as const,
      ),
    ],
  },

  {
    name: 'names swapped: flue and air temperature under the wrong heads',
    expect: 'ask',
    why: 'the air cannot be at 190 with the flue at 19 for a minute',
    lines: () => [
      'time,O2 %,CO ppm,T air C,T flue C',
      ...rows((p, at) => [`${clock(at)},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)},${fix(p.air, 1)}`, all(p)] as const),
    ],
  },

  {
    name: 'cells in millivolts and a thermocouple in millivolts',
    expect: 'refuse',
    why: 'no column is a gas yet',
    lines: () => [
      'ms,O2 mV,CO mV,TC mV,ref V',
      ...rows((p, at) => [`${at * 1000},${fix(p.o2 * 0.6, 3)},${fix(12 + p.co * 0.2, 3)},${fix(p.stack * 0.041, 3)},2.5`, {}] as const),
    ],
  },

  {
    name: 'loop currents of the analyser',
    expect: 'refuse',
    why: 'milliamperes with the names of the gases',
    lines: () => [
      'Time;O2 (mA);CO (mA);Stack (mA)',
      ...rows(
        (p, at) =>
          [
            `${clock(at)};${fix(4 + (p.o2 / 25) * 16, 3)};${fix(4 + (p.co / 1000) * 16, 3)};${fix(4 + (p.stack / 400) * 16, 3)}`,
            {},
          ] as const,
      ),
    ],
  },

  {
    name: 'engine bench: lambda, air-fuel ratio, oxygen cell in volts',
    expect: 'refuse',
    why: 'lambda and volts are no oxygen',
    lines: () => [
      'rpm,lambda,afr,o2_v,oil_c,clt_c',
      ...rows(
        (p, at) =>
          [
            `${1400 + at * 3},${fix(20.9 / Math.max(0.5, 20.9 - p.o2), 3)},${fix(14 + p.o2, 2)},${fix(0.1 + p.o2 * 0.03, 3)},${fix(60 + at / 3, 1)},${fix(70 + at / 4, 1)}`,
            {},
          ] as const,
      ),
    ],
  },

  {
    name: 'exhaust of an engine: CO in per cent, oil temperature',
    expect: 'read',
    why: 'CO % vol is converted, oil temperature is no stack',
    lines: () => [
      'Time,CO [%vol],HC [ppm],CO2 [%vol],O2 [%vol],Lambda,n [1/min],T oil [°C]',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${fix(0.2 + p.co / 1000, 3)},${fix(40 + p.co / 4, 0)},${fix(p.co2, 2)},${fix(p.o2, 2)},${fix(20.9 / (20.9 - Math.min(20, p.o2)), 3)},${fix(2400 + at, 0)},${fix(70 + at / 5, 1)}`,
            { co: num(0.2 + p.co / 1000, 3) * 10_000, co2: num(p.co2, 2), o2: num(p.o2, 2) },
          ] as const,
      ),
    ],
  },
];
