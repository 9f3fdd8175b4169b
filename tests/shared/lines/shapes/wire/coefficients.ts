/** Odd names and encodings, coefficients among the values, several instruments or figures of one gas. */
import { type Shape, noise, clock, all, rows } from './shape.ts';
import { f as fix, n as num } from '../shape-values.ts';

export const coefficients: Shape[] = [
  {
    name: 'small figures in the names, with a mark of order in front',
    expect: 'read',
    why: 'O₂ and CO₂ are ordinary writing',
    bom: [0xef, 0xbb, 0xbf],
    lines: () => [
      'Time,O₂ [%],CO [ppm],CO₂ [%],ϑ flue [°C]',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.co2, 2)},${fix(p.stack, 1)}`,
            { o2: num(p.o2, 2), co: num(p.co, 0), co2: num(p.co2, 2), stack: num(p.stack, 1) },
          ] as const,
      ),
    ],
    optional: ['stack_c'],
  },

  {
    name: 'sixteen bits a character, tabs, from a spreadsheet',
    expect: 'refuse',
    why: 'not one byte a character',
    encoding: 'utf16le',
    bom: [0xff, 0xfe],
    lines: () => [
      'Time\tO2 %\tCO ppm\tStack C',
      ...rows((p, at) => [`${clock(at)}\t${fix(p.o2, 2)}\t${fix(p.co, 0)}\t${fix(p.stack, 1)}`, {}] as const),
    ],
  },

  {
    name: 'coefficients of the cells and raw counts',
    expect: 'refuse',
    why: 'coefficients and counts are no gas',
    lines: () => [
      'CAL,O2,0.0123,-1.204,20.9',
      'CAL,CO,0.4410,-3.100,100',
      'CAL,T,0.0250,-50.0,150',
      ...rows((p, at) => [`RAW,${at},${fix(1700 + p.o2 * 80, 0)},${fix(120 + p.co * 2, 0)},${fix(2000 + p.stack * 40, 0)}`, {}] as const),
    ],
  },

  {
    name: 'coefficients as comments, then values by name',
    expect: 'read',
    why: 'the values are named and carry units',
    lines: () => [
      '# cal O2 gain=1.0213 offset=-0.12 CO gain=0.981 offset=3',
      '# cal T gain=1.000 offset=-0.4',
      ...rows((p) => [`O2=${fix(p.o2, 2)}%,CO=${fix(p.co, 0)}ppm,TFLUE=${fix(p.stack, 1)}C,TAIR=${fix(p.air, 1)}C`, all(p)] as const),
    ],
  },

  {
    name: 'coefficient rows of the same width between names and values',
    expect: 'read',
    why: 'gain and offset rows are marked as such',
    lines: () => [
      'name;O2;CO;flue;air',
      'unit;%;ppm;°C;°C',
      'gain;1.0213;0.9810;1.0000;1.0000',
      'offset;-0.12;3.00;-0.40;0.10',
      ...rows((p, at) => [`${clock(at)};${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`, all(p)] as const),
    ],
  },

  {
    name: 'state words before the values; values of bad state are not used',
    expect: 'read',
    why: 'names above; WARM rows may stay out',
    lines: () => [
      'State;O2 %;CO ppm;Flue °C;Air °C',
      ...rows(
        (p, at) => [`${at < 6 ? 'WARM' : 'OK'};${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`, all(p)] as const,
      ),
    ],
  },

  {
    name: 'two instruments on one wire, A and B by turns',
    expect: 'ask',
    why: 'A is in the flue, B in the room: never one run',
    lines: () =>
      rows(
        (p) => [
          [`A: O2 ${fix(p.o2, 1)} % CO ${fix(p.co, 0)} ppm`, { o2: num(p.o2, 1), co: num(p.co, 0) }] as const,
          [`B: O2 20.9 % CO ${fix(Math.abs(noise(2)), 0)} ppm`, {}] as const,
        ],
        80,
      ).flat(),
  },

  {
    name: 'two probes under one name, number in a column',
    expect: 'ask',
    why: 'probe 1 is the flue, probe 2 the room',
    lines: () => [
      'probe,O2 %,CO ppm,T C',
      ...rows(
        (p) => [
          [`1,${fix(p.o2, 1)},${fix(p.co, 0)},${fix(p.stack, 1)}`, { o2: num(p.o2, 1), co: num(p.co, 0), stack: num(p.stack, 1) }] as const,
          [`2,20.9,${fix(Math.abs(noise(2)), 0)},${fix(p.air, 1)}`, {}] as const,
        ],
        80,
      ).flat(),
    ],
  },

  {
    name: 'wet oxygen only',
    expect: 'ask',
    why: 'a wet share is not a dry one',
    lines: () => [
      'Time;O2 wet [%];T flue [°C]',
      ...rows((p, at) => [`${clock(at)};${fix(p.o2 * 0.9, 2)};${fix(p.stack, 1)}`, { stack: num(p.stack, 1) }] as const),
    ],
    optional: ['stack_c'],
  },

  {
    name: 'least, greatest, mean and last of every gas',
    expect: 'ask',
    why: 'which of four',
    lines: () => [
      'Time,O2 min %,O2 max %,O2 mean %,O2 last %,CO min ppm,CO max ppm,CO mean ppm,CO last ppm',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${[p.o2 - 0.1, p.o2 + 0.1, p.o2 + 0.01, p.o2].map((v) => fix(v, 2)).join(',')},${[p.co - 1, p.co + 2, p.co + 0.4, p.co].map((v) => fix(Math.max(0, v), 1)).join(',')}`,
            { o2: num(p.o2, 2), co: num(p.co, 1) },
          ] as const,
      ),
    ],
  },

  {
    name: 'flags and alarms that carry the names of the gases',
    expect: 'read',
    why: 'flags, limits and statuses are no values',
    lines: () => [
      'Time,O2_ok,O2_pct,O2_alarm,CO_ok,CO_ppm,CO_alarm,CO_limit,T_stack_degC',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},1,${fix(p.o2, 2)},0,${at % 40 === 3 ? 0 : 1},${fix(p.co, 0)},${p.co > 200 ? 1 : 0},200,${fix(p.stack, 1)}`,
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
      ),
    ],
  },
];
