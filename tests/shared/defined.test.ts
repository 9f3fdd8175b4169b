import { describe, expect, expectTypeOf, it } from 'vitest';
import { defined, whenDefined } from '../../shared/defined.ts';

describe('defined', () => {
  it('leaves out what is undefined, and nothing else', () => {
    const [missing, none, zero, empty, no] = [undefined, null, 0, '', false];
    const made = defined({ missing, none, zero, empty, no, nan: Number.NaN });
    expect(Object.keys(made)).toEqual(['none', 'zero', 'empty', 'no', 'nan']);
    expect(made).toStrictEqual({ none: null, zero: 0, empty: '', no: false, nan: Number.NaN });
  });

  it('keeps the order of the keys, and does not touch what it was given', () => {
    const given = { b: 1, a: undefined, c: [2] };
    expect(JSON.stringify(defined(given))).toBe('{"b":1,"c":[2]}');
    expect(given).toStrictEqual({ b: 1, a: undefined, c: [2] });
    expect(defined(given).c).toBe(given.c);
  });

  it('fits where a key may be missing and may not be undefined', () => {
    const text = undefined as string | undefined;
    const made = defined({ id: 7, text });
    expectTypeOf(made.id).toEqualTypeOf<number>();
    type Exact = { id: number; text?: string };
    const exact: Exact = made;
    const spread: Exact = { id: 1, ...defined({ text }) };
    expect([exact, spread]).toStrictEqual([{ id: 7 }, { id: 1 }]);
    // @ts-expect-error what may be missing is not there for certain
    const whole: { text: string } = made;
    void whole;
    // @ts-expect-error a value of another kind does not pass as one that may be missing
    const other: { text?: number } = defined({ text });
    void other;
  });
});

describe('whenDefined', () => {
  it('is one element or none', () => {
    const [value, missing] = [0 as number | undefined, undefined as number | undefined];
    expect([...whenDefined(value), ...whenDefined(missing)]).toEqual([0]);
    expect([...whenDefined(value, (one) => `${one} %`), ...whenDefined(missing, (one) => `${one} %`)]).toEqual(['0 %']);
    expectTypeOf(whenDefined(value)).toEqualTypeOf<number[]>();
    expectTypeOf(whenDefined(value, String)).toEqualTypeOf<string[]>();
  });
});
