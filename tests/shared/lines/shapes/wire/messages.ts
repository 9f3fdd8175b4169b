/** Lines of boards and programs: pairs, sentences, objects, tags, topics, registers, displays. */
import { type Shape, two, clock, fromF, all, rows } from './shape.ts';
import { f as fix, n as num, toF, xor } from '../shape-values.ts';

export const messages: Shape[] = [
  {
    name: 'board log with level and tag before the pairs',
    expect: 'read',
    why: 'names and units stand in the line',
    lines: () =>
      rows(
        (p, at) =>
          [
            `I (${12_345 + at * 1000}) flue: o2=${fix(p.o2, 2)}% co=${fix(p.co, 0)}ppm t_flue=${fix(p.stack, 1)}C t_air=${fix(p.air, 1)}C`,
            all(p),
          ] as const,
      ),
  },

  {
    name: 'board log: words between, value after an arrow',
    expect: 'read',
    why: 'names and units stand in the line',
    lines: () =>
      rows(
        (p, at) =>
          [
            `#${at} oxygen -> ${fix(p.o2, 2)} %, carbon monoxide -> ${fix(p.co, 0)} ppm, flue gas temperature -> ${fix(p.stack, 1)} degC`,
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
      ),
  },

  {
    name: 'sentence with unit letters and no names',
    expect: 'ask',
    why: 'per cent, parts and degrees, no word which',
    lines: () =>
      rows((p) => {
        const body = `FGAS,${fix(p.o2, 2)},P,${fix(p.co, 0)},M,${fix(p.stack, 1)},C,${fix(p.air, 1)},C`;
        return [`$${body}*${xor(body)}`, all(p)] as const;
      }),
  },

  {
    name: 'sentence of transducers: value, unit letter, name after it',
    expect: 'ask',
    why: 'names follow the values; the unit of CO is not said',
    lines: () =>
      rows((p) => {
        const body = `YXXDR,P,${fix(p.o2, 2)},P,O2,G,${fix(p.co, 0)},,CO,C,${fix(p.stack, 1)},C,STACK,C,${fix(p.air, 1)},C,AIR`;
        return [`$${body}*${xor(body)}`, all(p)] as const;
      }),
  },

  {
    name: 'nested objects',
    expect: 'read',
    why: 'keys say it, one inside another',
    lines: () =>
      rows(
        (p, at) =>
          [
            JSON.stringify({
              ts: `2031-03-12T${clock(at)}Z`,
              gas: { o2_pct: num(p.o2, 2), co_ppm: num(p.co, 0) },
              temp_c: { flue: num(p.stack, 1), air: num(p.air, 1) },
              n: at,
            }),
            all(p),
          ] as const,
      ),
  },

  {
    name: 'objects with units in the keys, Fahrenheit, null and texts for no value',
    expect: 'read',
    why: 'keys carry units; null and "---" are absent',
    lines: () =>
      rows((p, at) => {
        const gone = at % 17 === 5;
        const words = at % 23 === 7;
        const s = fix(toF(p.stack), 1);
        const r = fix(toF(p.air), 1);
        return [
          `{"o2_pct":${gone ? 'null' : fix(p.o2, 2)},"co_ppm":${words ? '"---"' : fix(p.co, 0)},"co2_pct":${fix(p.co2, 2)},"stack_f":${s},"room_air_f":${r},"uptime_s":${at}}`,
          {
            ...(gone ? {} : { o2: num(p.o2, 2) }),
            ...(words ? {} : { co: num(p.co, 0) }),
            co2: num(p.co2, 2),
            stack: fromF(s),
            air: fromF(r),
          },
        ] as const;
      }),
    optional: ['air_c'],
  },

  {
    name: 'arrays without names',
    expect: 'ask',
    why: 'four numbers, no word which',
    lines: () => rows((p) => [`[${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)},${fix(p.air, 1)}]`, all(p)] as const),
  },

  {
    name: 'objects: a list of name, value, unit',
    expect: 'ask',
    why: 'each value with its own name and unit inside',
    lines: () =>
      rows(
        (p) =>
          [
            JSON.stringify({
              values: [
                { n: 'O2', v: num(p.o2, 2), u: '%' },
                { n: 'CO', v: num(p.co, 0), u: 'ppm' },
                { n: 'flue', v: num(p.stack, 1), u: 'C' },
              ],
            }),
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
      ),
  },

  {
    name: 'tags around the values',
    expect: 'ask',
    why: 'names and units stand in the tags',
    lines: () =>
      rows(
        (p, at) =>
          [
            `<s t="${at}"><o2 u="%">${fix(p.o2, 2)}</o2><co u="ppm">${fix(p.co, 0)}</co><flue u="C">${fix(p.stack, 1)}</flue></s>`,
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
      ),
  },

  {
    name: 'measurement, tags, fields, nanoseconds',
    expect: 'read',
    why: 'keys say it; tags before them do not matter',
    lines: () =>
      rows(
        (p, at) =>
          [
            `flue,site=cellar,burner=2 o2_pct=${fix(p.o2, 2)},co_ppm=${fix(p.co, 0)}i,t_flue_c=${fix(p.stack, 1)},t_air_c=${fix(p.air, 1)} ${1_931_760_901 + at}000000000`,
            all(p),
          ] as const,
      ),
  },

  {
    name: 'a scrape: one metric a line with help above',
    expect: 'read',
    why: 'names with units, one value a line, five lines a reading',
    multi: true,
    lines: () =>
      rows(
        (p) => [
          ['# HELP flue_oxygen_percent Oxygen, dry', all(p)] as const,
          '# TYPE flue_oxygen_percent gauge',
          `flue_oxygen_percent ${fix(p.o2, 2)}`,
          `flue_carbon_monoxide_ppm ${fix(p.co, 0)}`,
          `flue_temperature_celsius ${fix(p.stack, 1)}`,
          `combustion_air_temperature_celsius ${fix(p.air, 1)}`,
        ],
        90,
      ).flat(),
  },

  {
    name: 'topics, one value a line',
    expect: 'read',
    why: 'the last part of the topic is the name',
    multi: true,
    optional: ['air_c'],
    lines: () =>
      rows(
        (p) => [
          [`cellar/boiler/flue/o2_percent ${fix(p.o2, 2)}`, all(p)] as const,
          `cellar/boiler/flue/co_ppm ${fix(p.co, 0)}`,
          `cellar/boiler/flue/temperature_c ${fix(p.stack, 1)}`,
          `cellar/room/air_temperature_c ${fix(p.air, 1)}`,
        ],
        90,
      ).flat(),
  },

  {
    name: 'system log before the values',
    expect: 'read',
    why: 'names and units stand in the line',
    lines: () =>
      rows(
        (p, at) =>
          [
            `Mar 12 ${clock(at)} cellar gasmon[412]: O2 ${fix(p.o2, 2)} % CO ${fix(p.co, 0)} ppm Tflue ${fix(p.stack, 1)} C Tair ${fix(p.air, 1)} C`,
            all(p),
          ] as const,
      ),
  },

  {
    name: 'register frames in hexadecimal',
    expect: 'refuse',
    why: 'bytes of a bus, no values',
    lines: () =>
      rows(
        (p, at) =>
          [
            `${clock(at)} RX 01 03 08 ${[p.o2 * 100, p.co, p.stack * 10, p.air * 10]
              .map((v) =>
                Math.round(v)
                  .toString(16)
                  .toUpperCase()
                  .padStart(4, '0')
                  .replace(/(..)(..)/, '$1 $2'),
              )
              .join(' ')} ${two(at % 90)} 4C`,
            {},
          ] as const,
      ),
  },

  {
    name: 'registers by number, one a line',
    expect: 'ask',
    mayRefuse: true,
    why: 'numbers of registers and whole numbers, no name',
    multi: true,
    lines: () =>
      rows(
        (p) => [
          [`40001: ${fix(p.o2 * 100, 0)}`, {}] as const,
          `40002: ${fix(p.co, 0)}`,
          `40003: ${fix(p.stack * 10, 0)}`,
          `40004: ${fix(p.air * 10, 0)}`,
        ],
        80,
      ).flat(),
  },

  {
    name: 'hexadecimal values behind the names',
    expect: 'refuse',
    why: 'O2=0182 is 386, not 182; most of them look like plain numbers',
    lines: () =>
      rows(
        (p) =>
          [
            `O2=${Math.round(p.o2 * 100)
              .toString(16)
              .padStart(4, '0')} CO=${Math.round(p.co).toString(16).padStart(4, '0')} T=${Math.round(p.stack * 10)
              .toString(16)
              .padStart(4, '0')}`,
            {},
          ] as const,
      ),
  },

  {
    name: 'hexadecimal with a prefix',
    expect: 'refuse',
    why: 'raw counts in hexadecimal',
    lines: () =>
      rows(
        (p) =>
          [
            `O2 0x${Math.round(p.o2 * 100)
              .toString(16)
              .padStart(4, '0')}, CO 0x${Math.round(p.co).toString(16).padStart(4, '0')}, T 0x${Math.round(p.stack * 10)
              .toString(16)
              .padStart(4, '0')}`,
            {},
          ] as const,
      ),
  },

  {
    name: 'two rows of a small display',
    expect: 'read',
    why: 'names and units stand beside the values, two lines a reading',
    multi: true,
    optional: ['air_c'],
    lines: () =>
      rows(
        (p) => [
          [
            `O2 ${fix(p.o2, 1).padStart(5)}%  CO ${fix(p.co, 0).padStart(4)}ppm`,
            { o2: num(p.o2, 1), co: num(p.co, 0), stack: num(p.stack, 0), air: num(p.air, 0) },
          ] as const,
          `Flue ${fix(p.stack, 0).padStart(3)}C  Room ${fix(p.air, 0).padStart(3)}C`,
        ],
        100,
      ).flat(),
  },
];
