/** Quantities beside the flue gas, other languages, factors in names, printouts. */
import { type Shape, noise, clock, all, rows } from './shape.ts';
import { f as fix, n as num, comma } from '../shape-values.ts';

export const otherQuantities: Shape[] = [
  {
    name: 'oxygen deficit and oxygen trim',
    expect: 'ask',
    why: 'a difference and a position are no share of the gas; the temperature is sure',
    lines: () => [
      'Time;O2 deviation %;O2 trim %;Flue gas °C',
      ...rows(
        (p, at) => [`${clock(at)};${fix(p.o2 - 4.5, 2)};${fix(50 + noise(5), 1)};${fix(p.stack, 1)}`, { stack: num(p.stack, 1) }] as const,
      ),
    ],
    optional: ['stack_c'],
  },

  {
    name: 'a mixer of gases: set flows in l/min',
    expect: 'refuse',
    why: 'flows of gases by name',
    lines: () => [
      't_s,O2 [l/min],CO [ml/min],CO2 [l/min],N2 [l/min]',
      ...rows(
        (_, at) =>
          [
            `${at},${fix(4.5 + noise(0.02), 2)},${fix(23 + noise(0.2), 1)},${fix(12 + noise(0.02), 2)},${fix(60 + noise(0.1), 1)}`,
            {},
          ] as const,
      ),
    ],
  },

  {
    name: 'fuel cell: currents, hydrogen, oxygen bar',
    expect: 'refuse',
    why: 'pressures of gases by name',
    lines: () =>
      rows(
        (_, at) =>
          [
            `H2=${fix(1.4 + noise(0.02), 2)}bar O2=${fix(1.2 + noise(0.02), 2)}bar I=${fix(40 + noise(1), 1)}A U=${fix(32 + noise(0.3), 1)}V T=${fix(61 + at / 60, 1)}C`,
            {},
          ] as const,
      ),
  },

  {
    name: 'solar and heating: flow, return, collector',
    expect: 'refuse',
    why: 'temperatures of water, no flue',
    lines: () => [
      'Zeit;Kollektor °C;Vorlauf °C;Rücklauf °C;Speicher °C;Pumpe %',
      ...rows(
        (_, at) =>
          [
            `${clock(at)};${fix(64 + noise(0.5), 1)};${fix(55 + noise(0.5), 1)};${fix(41 + noise(0.5), 1)};${fix(49 + at / 60, 1)};${40 + (at % 20)}`,
            {},
          ] as const,
      ),
    ],
  },

  {
    name: 'Dutch names',
    expect: 'ask',
    why: 'another language; the formulas and units say the gases',
    lines: () => [
      'Tijd;O2 [%];CO [ppm];Rookgastemperatuur [°C];Luchttemperatuur [°C]',
      ...rows((p, at) => [`${clock(at)};${comma(`${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`)}`, all(p)] as const),
    ],
    optional: ['stack_c', 'air_c'],
  },

  {
    name: 'Polish words only',
    expect: 'ask',
    why: 'another language; a person knows',
    lines: () => [
      'czas;tlen %;tlenek węgla ppm;spaliny °C;powietrze °C',
      ...rows((p, at) => [`${clock(at)};${comma(`${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`)}`, all(p)] as const),
    ],
  },

  {
    name: 'scaled whole numbers with the factor in the name',
    expect: 'ask',
    why: 'O2 x100: 452 is 4.52',
    lines: () => [
      't,O2_x100,CO_x1,Tflue_x10,Tair_x10',
      ...rows(
        (p, at) =>
          [
            `${at},${fix(p.o2 * 100, 0)},${fix(p.co, 0)},${fix(p.stack * 10, 0)},${fix(p.air * 10, 0)}`,
            { o2: num(p.o2 * 100, 0) / 100, co: num(p.co, 0), stack: num(p.stack * 10, 0) / 10, air: num(p.air * 10, 0) / 10 },
          ] as const,
      ),
    ],
  },

  {
    name: 'unit with a factor: 0.1 %, 0.1 °C',
    expect: 'ask',
    why: 'the unit row gives tenths',
    lines: () => [
      't;O2;CO;flue',
      's;0.1 %;ppm;0.1 °C',
      ...rows(
        (p, at) =>
          [
            `${at};${fix(p.o2 * 10, 0)};${fix(p.co, 0)};${fix(p.stack * 10, 0)}`,
            { o2: num(p.o2 * 10, 0) / 10, co: num(p.co, 0), stack: num(p.stack * 10, 0) / 10 },
          ] as const,
      ),
    ],
  },

  {
    name: 'values in powers of ten',
    expect: 'read',
    why: 'ordinary writing of numbers',
    lines: () => [
      'time_s O2_% CO_ppm T_flue_C',
      ...rows((p, at) => {
        const t = [p.o2, Math.max(0.5, p.co), p.stack].map((v) => v.toExponential(4));
        return [`${at.toExponential(3)} ${t.join(' ')}`, { o2: Number(t[0]), co: Number(t[1]), stack: Number(t[2]) }] as const;
      }),
    ],
  },

  {
    name: 'signs and leading zeros in fixed places',
    expect: 'read',
    why: 'nothing but a sign is between name and value, and a unit behind it',
    lines: () =>
      rows(
        (p) =>
          [
            `O2+${fix(p.o2, 2).padStart(6, '0')}%CO+${fix(p.co, 0).padStart(5, '0')}ppmTF+${fix(p.stack, 1).padStart(6, '0')}C`,
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
      ),
    optional: ['stack_c'],
  },

  {
    name: 'counter that wraps and a constant beside O2 alone',
    expect: 'read',
    why: 'O2 alone is a fine run',
    lines: () => [
      'seq,serial,oxygen_percent_dry,status',
      ...rows((p, at) => [`${(at * 5) % 256},40117,${fix(p.o2, 2)},0`, { o2: num(p.o2, 2) }] as const),
    ],
  },

  {
    name: 'efficiency, losses and dew point beside the measured ones',
    expect: 'read',
    why: 'computed figures are other quantities',
    lines: () => [
      'Time;T flue °C;T air °C;O2 %;CO2 %;CO ppm;qA %;eta %;lambda;dew point °C;draft hPa',
      ...rows(
        (p, at) =>
          [
            `${clock(at)};${fix(p.stack, 1)};${fix(p.air, 1)};${fix(p.o2, 1)};${fix(p.co2, 1)};${fix(p.co, 0)};${fix(7 + noise(0.2), 1)};${fix(93 + noise(0.2), 1)};${fix(20.9 / Math.max(1, 20.9 - p.o2), 2)};46.2;${fix(p.draft / 100, 3)}`,
            { o2: num(p.o2, 1), co: num(p.co, 0), co2: num(p.co2, 1), stack: num(p.stack, 1), air: num(p.air, 1) },
          ] as const,
      ),
    ],
  },

  {
    name: 'a printout: one name and value a line, ruled sheets',
    expect: 'read',
    why: 'each line has name, value and unit; a rule between readings',
    multi: true,
    optional: ['air_c'],
    lines: () =>
      rows(
        (p, at) => [
          ['--------------------', all(p)] as const,
          `Time       ${clock(at)}`,
          `O2         ${fix(p.o2, 2).padStart(6)} %`,
          `CO         ${fix(p.co, 0).padStart(6)} ppm`,
          `Flue temp  ${fix(p.stack, 1).padStart(6)} °C`,
          `Air temp   ${fix(p.air, 1).padStart(6)} °C`,
          '',
        ],
        80,
      ).flat(),
  },

  {
    name: 'the same value twice a line: raw and averaged in brackets',
    expect: 'ask',
    why: 'which of the two',
    lines: () =>
      rows(
        (p) =>
          [
            `O2 ${fix(p.o2, 2)} (${fix(p.o2 + 0.02, 2)}) % CO ${fix(p.co, 0)} (${fix(p.co + 1, 0)}) ppm`,
            { o2: num(p.o2, 2), co: num(p.co, 0) },
          ] as const,
      ),
  },

  {
    name: 'soot probe: O2 column is empty until the probe is in',
    expect: 'read',
    why: 'absent first, then there',
    lines: () => [
      'Time,O2 %,CO ppm,Stack C',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${at < 30 ? '' : fix(p.o2, 2)},${at < 30 ? '' : fix(p.co, 0)},${fix(p.stack, 1)}`,
            { ...(at < 30 ? {} : { o2: num(p.o2, 2), co: num(p.co, 0) }), stack: num(p.stack, 1) },
          ] as const,
      ),
    ],
  },
];
