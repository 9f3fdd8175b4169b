/** Figures for no value, clocks that are put back, heads that come again, torn lines, and odd ways to write numbers. */
import { type Shape, noise, two, clock, fromF, all, rows } from './shape.ts';
import { f as fix, n as num, comma, toF, xor } from '../shape-values.ts';

export const disturbed: Shape[] = [
  {
    name: 'sentinels: -999, 9999, OFL, --- and blank',
    expect: 'read',
    why: 'no value is no value',
    lines: () => [
      'time,O2 %,CO ppm,Flue C,Air C',
      ...rows((p, at) => {
        const o2 = at % 19 === 4 ? '-999' : fix(p.o2, 2);
        const co = at % 23 === 6 ? 'OFL' : at % 29 === 7 ? '9999' : fix(p.co, 0);
        const flue = at % 31 === 8 ? '---' : fix(p.stack, 1);
        const air = at % 37 === 9 ? '' : fix(p.air, 1);
        return [
          `${clock(at)},${o2},${co},${flue},${air}`,
          {
            ...(o2 === '-999' ? {} : { o2: num(p.o2, 2) }),
            ...(/OFL|9999/.test(co) ? {} : { co: num(p.co, 0) }),
            ...(flue === '---' ? {} : { stack: num(p.stack, 1) }),
            ...(air === '' ? {} : { air: num(p.air, 1) }),
          },
        ] as const;
      }),
    ],
  },

  {
    name: 'sentinels of sensors: -127 for no probe, 3276.7 for an open wire',
    expect: 'read',
    why: 'an open probe is no temperature',
    lines: () => [
      'time;O2 %;CO ppm;Stack C;Supply air C',
      ...rows((p, at) => {
        const gone = at % 13 === 4;
        const open = at % 21 === 6;
        return [
          `${clock(at)};${fix(p.o2, 2)};${fix(p.co, 0)};${open ? '3276.7' : fix(p.stack, 1)};${gone ? '-127.0' : fix(p.air, 1)}`,
          { o2: num(p.o2, 2), co: num(p.co, 0), ...(open ? {} : { stack: num(p.stack, 1) }), ...(gone ? {} : { air: num(p.air, 1) }) },
        ] as const;
      }),
    ],
  },

  {
    name: 'the clock is put back an hour in the middle',
    expect: 'read',
    why: 'names and units say it; the clock is said',
    lines: () => [
      'Time,O2 %,CO ppm,Stack C,Room air C',
      ...rows(
        (p, at) =>
          [
            `${at < 60 ? clock(at) : clock(at).replace('08', '07')},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)},${fix(p.air, 1)}`,
            all(p),
          ] as const,
      ),
    ],
    optional: ['air_c'],
  },

  {
    name: 'the head comes again with the columns in another order',
    expect: 'ask',
    why: 'after a restart the columns stand elsewhere',
    lines: () => [
      'Time,O2 %,CO ppm,Stack C,Air C',
      ...rows((p, at) => [`${clock(at)},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)},${fix(p.air, 1)}`, all(p)] as const, 70),
      'Time,CO ppm,O2 %,Air C,Stack C',
      ...rows((p, at) => [`${clock(at + 70)},${fix(p.co, 0)},${fix(p.o2, 2)},${fix(p.air, 1)},${fix(p.stack, 1)}`, all(p)] as const, 70),
    ],
  },

  {
    name: 'the head comes again with one more column in front',
    expect: 'ask',
    why: 'after a restart the columns have moved by one',
    lines: () => [
      'Time,O2 %,CO ppm,Stack C',
      ...rows(
        (p, at) =>
          [
            `${clock(at)},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)}`,
            { o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
        70,
      ),
      'Time,CO2 %,O2 %,CO ppm,Stack C',
      ...rows(
        (p, at) =>
          [
            `${clock(at + 70)},${fix(p.co2, 2)},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)}`,
            { co2: num(p.co2, 2), o2: num(p.o2, 2), co: num(p.co, 0), stack: num(p.stack, 1) },
          ] as const,
        70,
      ),
    ],
    optional: ['co2_pct'],
  },

  {
    name: 'the unit changes in the middle: Celsius, then Fahrenheit',
    expect: 'ask',
    why: 'somebody pressed the unit key',
    lines: () =>
      rows((p, at) => {
        const s = fix(at < 70 ? p.stack : toF(p.stack), 1);
        return [
          `O2 ${fix(p.o2, 1)}% CO ${fix(p.co, 0)}ppm Flue ${s}${at < 70 ? 'C' : 'F'}`,
          { o2: num(p.o2, 1), co: num(p.co, 0), stack: at < 70 ? Number(s) : fromF(s) },
        ] as const;
      }),
  },

  {
    name: 'the CO scale changes by itself: ppm, then per cent',
    expect: 'ask',
    why: 'over 200 ppm this one writes per cent',
    lines: () =>
      rows((p) => {
        const isHigh = p.co > 60;
        const co = isHigh ? fix(p.co / 10_000, 4) : fix(p.co, 0);
        return [
          `O2 ${fix(p.o2, 1)} %; CO ${co} ${isHigh ? '%' : 'ppm'}; flue ${fix(p.stack, 0)} C`,
          { o2: num(p.o2, 1), co: isHigh ? Number(co) * 10_000 : Number(co), stack: num(p.stack, 0) },
        ] as const;
      }),
  },

  {
    name: 'torn lines: one in twelve cut, the next one glued to it',
    expect: 'read',
    why: 'the whole lines are clear',
    lines: () => [
      'Time;O2 %;CO ppm;Stack C;Room C',
      ...rows((p, at) => {
        const text = `${clock(at)};${fix(p.o2, 2)};${fix(p.co, 0)};${fix(p.stack, 1)};${fix(p.air, 1)}`;
        return at % 12 === 7 ? `${text.slice(0, 9 + (at % 8))}${text}` : ([text, all(p)] as const);
      }),
    ],
    optional: ['air_c'],
  },

  {
    name: 'pairs as columns with a sum behind',
    expect: 'read',
    why: 'each name stands before its value',
    lines: () =>
      rows((p) => {
        const body = `O2;${fix(p.o2, 2)};CO;${fix(p.co, 0)};TFLUE;${fix(p.stack, 1)};TAIR;${fix(p.air, 1)};`;
        return [`;${body}*${xor(body)}`, all(p)] as const;
      }),
  },

  {
    name: 'names and values by turns, short temperatures',
    expect: 'ask',
    why: 'FT and AT are short for more than one thing',
    lines: () =>
      rows(
        (p) =>
          [
            `O2 ${fix(p.o2, 2)} CO ${fix(p.co, 0)} CO2 ${fix(p.co2, 2)} FT ${fix(p.stack, 1)} AT ${fix(p.air, 1)} EFF ${fix(88 + noise(0.5), 1)}`,
            { ...all(p), co2: num(p.co2, 2) },
          ] as const,
      ),
  },

  {
    name: 'fixed width with units and a rule beneath the names',
    expect: 'read',
    why: 'names and units say it',
    lines: () => [
      '  Time      O2     CO    CO2   Stack  Supply air',
      '             %    ppm      %    degF    degF',
      '--------  -----  -----  -----  ------  ------',
      ...rows((p, at) => {
        const s = fix(toF(p.stack), 1);
        const a = fix(toF(p.air), 1);
        return [
          `${clock(at)}  ${fix(p.o2, 1).padStart(5)}  ${fix(p.co, 0).padStart(5)}  ${fix(p.co2, 1).padStart(5)}  ${s.padStart(6)}  ${a.padStart(6)}`,
          { o2: num(p.o2, 1), co: num(p.co, 0), co2: num(p.co2, 1), stack: fromF(s), air: fromF(a) },
        ] as const;
      }),
    ],
    optional: ['air_c'],
  },

  {
    name: 'decimal commas in quotes between commas',
    expect: 'read',
    why: 'quotes keep the decimal comma',
    lines: () => [
      '"Zeit","O2 %","CO ppm","Abgas °C","Luft °C"',
      ...rows(
        (p, at) =>
          [
            `"${clock(at)}","${comma(fix(p.o2, 2))}","${fix(p.co, 0)}","${comma(fix(p.stack, 1))}","${comma(fix(p.air, 1))}"`,
            all(p),
          ] as const,
      ),
    ],
  },

  {
    name: 'thousands with a point, decimals with a comma',
    expect: 'read',
    why: 'CO 1.204 beside 187,4 is twelve hundred and four',
    lines: () => [
      'Zeit;O2 %;CO ppm;Abgas °C',
      ...rows((p, at) => {
        const co = num(p.co * 6, 0);
        return [
          `${clock(at)};${comma(fix(p.o2, 2))};${co >= 1000 ? `${Math.floor(co / 1000)}.${String(co % 1000).padStart(3, '0')}` : String(co)};${comma(fix(p.stack, 1))}`,
          { o2: num(p.o2, 2), co, stack: num(p.stack, 1) },
        ] as const;
      }),
    ],
  },

  {
    name: 'thousands with a comma in quotes',
    expect: 'read',
    why: '"1,204" is twelve hundred and four',
    lines: () => [
      'Time,O2 %,CO ppm,Stack °F',
      ...rows((p, at) => {
        const co = num(p.co * 6, 0);
        const s = fix(toF(p.stack), 0);
        return [
          `${clock(at)},${fix(p.o2, 1)},${co >= 1000 ? `"${Math.floor(co / 1000)},${String(co % 1000).padStart(3, '0')}"` : String(co)},${s}`,
          { o2: num(p.o2, 1), co, stack: fromF(s) },
        ] as const;
      }),
    ],
  },

  {
    name: 'clock with AM and PM, date in front',
    expect: 'read',
    why: 'names and units say it',
    lines: () => [
      'Date,Time,O2 (%),CO (ppm),Stack Temp (F),Supply Air Temp (F)',
      ...rows((p, at) => {
        const s = fix(toF(p.stack), 0);
        const a = fix(toF(p.air), 0);
        return [
          `03/12/2031,${11 + (at >= 60 ? 1 : 0)}:${two(at < 60 ? 59 : (at - 60) / 60)}:${two(at % 60)} ${at >= 60 ? 'PM' : 'AM'},${fix(p.o2, 1)},${fix(p.co, 0)},${s},${a}`,
          { o2: num(p.o2, 1), co: num(p.co, 0), stack: fromF(s), air: fromF(a) },
        ] as const;
      }),
    ],
    optional: ['air_c'],
  },

  {
    name: 'milliseconds since 1970, no names',
    expect: 'ask',
    why: 'four numbers, no word which',
    lines: () =>
      rows(
        (p, at) =>
          [`${1_931_760_901_000 + at * 1000},${fix(p.o2, 2)},${fix(p.co, 0)},${fix(p.stack, 1)},${fix(p.air, 1)}`, all(p)] as const,
      ),
  },

  {
    name: 'units in every cell, no names',
    expect: 'ask',
    why: 'per cent of what',
    lines: () =>
      rows(
        (p, at) => [`${clock(at)}, ${fix(p.o2, 2)} %, ${fix(p.co, 0)} ppm, ${fix(p.stack, 1)} °C, ${fix(p.air, 1)} °C`, all(p)] as const,
      ),
  },

  {
    name: 'two per cent columns without names, one rises as the other falls',
    expect: 'ask',
    mayRefuse: true,
    why: 'O2 or CO2: per cent of what',
    lines: () =>
      rows(
        (p, at) =>
          [
            `${clock(at)}\t${fix(p.co2, 1)}%\t${fix(p.o2, 1)}%\t${fix(p.co, 0)}ppm`,
            { o2: num(p.o2, 1), co2: num(p.co2, 1), co: num(p.co, 0) },
          ] as const,
      ),
  },
];
