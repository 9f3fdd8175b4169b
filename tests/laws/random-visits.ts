/**
 * Visits for the laws, drawn at random. Two kinds: burners with a hidden truth, at which a technician tried a few settings (adjusters of
 * all kinds, scales that run either way, yellow and blue flames, one and two stages, missing smoke, bad pumps, CO that rises on either
 * side), and visits of values that have nothing to do with each other.
 */
import fc from 'fast-check';
import { fuelIds } from '../../shared/combustion/fuel.ts';
import type { Case, PlainAdjuster, PlainTrial } from './visits.ts';

const oneOf = <T>(...values: T[]) => fc.constantFrom(...values);

/** Evenly, without the leaning to the ends that plain doubles have. */
const between = (min: number, max: number) =>
  fc.noBias(fc.integer({ min: 0, max: 1_000_000 })).map((share) => min + ((max - min) * share) / 1_000_000);

const rest = fc.record({
  alarm_co_air_free_ppm: oneOf(400, 400, 400, 200, 800),
  o2_floor_pct: oneOf(2, 2, 2, 3, 4, 1.5),
  smoke_limit: oneOf(1, 1, 0, 2, 0.5),
  room_co_ppm: fc.oneof({ weight: 6, arbitrary: fc.integer({ min: 0, max: 12 }) }, { weight: 1, arbitrary: oneOf(null, 34, 35, 60, 120) }),
  safety: fc.array(
    fc.record({
      test: oneOf('flame-failure', 'lockout-no-ignition', 'high-limit', 'restarts'),
      result: fc.oneof(
        { weight: 12, arbitrary: fc.constant('pass' as const) },
        { weight: 1, arbitrary: oneOf('fail' as const, 'na' as const, 'open' as const) },
      ),
    }),
    { maxLength: 4 },
  ),
  bypass_in_place: fc.oneof({ weight: 9, arbitrary: fc.constant(false) }, { weight: 1, arbitrary: fc.constant(true) }),
});
const oilFuel = oneOf('no2', 'no2', 'no2-2000s', 'no1', 'b5', 'b20', 'b100');

export const burnerCase = fc
  .record({
    fuel: fc.oneof({ weight: 12, arbitrary: oilFuel }, { weight: 1, arbitrary: oneOf('natural-gas', 'propane') }),
    flame: oneOf('yellow' as const, 'yellow' as const, 'blue' as const),
    up: fc.boolean(),
    coarseUp: fc.boolean(),
    fineStep: oneOf(0.1, 0.25, 0.5),
    /** a scale of five marks, as on some shutters */
    isCoarseScale: oneOf(true, false, false, false, false),
    /** below 1: the air falls steeply near the closed end */
    bend: oneOf(1, 1, 0.6),
    others: fc.oneof(
      { weight: 2, arbitrary: fc.constant<('head' | 'draft' | 'other' | 'gadget')[]>([]) },
      { weight: 1, arbitrary: fc.subarray(['head', 'draft', 'other', 'gadget'] as const) },
    ),
    hasCoarse: oneOf(false, false, true),
    declared: fc.boolean(),
    /** air ratio at the closed end, and what the whole scale adds */
    base: between(1.02, 1.25),
    gain: between(0.15, 1.1),
    coarseGain: between(0.2, 1),
    onset: between(1.2, 6),
    smokeSlope: between(0.5, 4),
    coKnee: between(1, 6),
    coRich: between(20, 900),
    coLean: between(0, 260),
    leanKnee: between(5, 12),
    coBase: between(0, 60),
    noise: fc.infiniteStream(between(-1, 1)),
    start: between(0.3, 1),
    moves: fc.array(between(-0.35, 0.35), { minLength: 1, maxLength: 7, size: 'max' }),
    /** 0: kept going one way, as a technician does */
    isSteady: fc.boolean(),
    coarseMoves: fc.boolean(),
    badPump: fc.integer({ min: 0, max: 9 }),
    missing: fc.infiniteStream(fc.integer({ min: 0, max: 79 })),
    twoStages: fc.integer({ min: 0, max: 5 }),
    asLeft: fc.integer({ min: 0, max: 3 }),
    rest,
  })
  .map((b): Case => {
    const [top, step] = b.isCoarseScale ? [4, 1] : [10, b.fineStep];
    const fine: PlainAdjuster = {
      name: 'shutter',
      kind: 'air',
      min: 0,
      max: top,
      step,
      ...(b.declared ? { more_air: b.up ? 'up' : 'down' } : {}),
    };
    const coarse: PlainAdjuster = { name: 'band', kind: 'air', min: 0, max: 6, step: 1 };
    const others = b.others.map((kind): PlainAdjuster => ({
      name: `the ${kind}`,
      kind: kind === 'gadget' ? null : kind,
      min: 0,
      max: 10,
      step: 0.5,
    }));
    const noise = b.noise[Symbol.iterator]();
    const missing = b.missing[Symbol.iterator]();
    const next = (): number => noise.next().value as number;
    const rare = (of: number): boolean => (missing.next().value as number) < of;
    const o2At = ({ shutter = 0, band = 3 }: Record<string, number>): number => {
      const open = (b.up ? shutter : top - shutter) / top;
      const ratio = b.base + b.gain * open ** b.bend + (b.hasCoarse ? (b.coarseGain * (b.coarseUp ? band : 6 - band)) / 6 : 0);
      return 20.946 * (1 - 1 / ratio);
    };
    let place = b.start;
    const trials: PlainTrial[] = [];
    for (let index = 0; index <= b.moves.length; index++) {
      if (index > 0) place += b.isSteady ? -Math.abs(b.moves[index - 1]!) : b.moves[index - 1]!;
      place = Math.min(1, Math.max(0, place));
      const onStep = Math.round((place * top) / step) * step;
      const shutter = Number((b.up ? onStep : top - onStep).toFixed(4));
      const band = b.hasCoarse && b.coarseMoves && index % 3 === 2 ? 2 : 3;
      const o2 = o2At({ shutter, band }) + 0.05 * next();
      const coAirFree = b.coBase + b.coRich * Math.max(0, b.coKnee - o2) + b.coLean * Math.max(0, o2 - b.leanKnee);
      const co = Math.max(0, (coAirFree * (20.9 - o2)) / 20.9 + 4 * next());
      const smoke = b.flame === 'blue' ? 0 : Math.max(0, b.smokeSlope * (b.onset - o2) + (b.badPump === 0 ? -3 : 0));
      trials.push({
        setting: {
          shutter,
          ...(b.hasCoarse ? { band } : {}),
          ...Object.fromEntries(others.map(({ name }) => [name, rare(2) ? 6 : 5])),
        },
        ...(b.twoStages === 0 ? { stage: index % 2 === 0 ? '1' : '2' } : {}),
        o2_pct: rare(1) ? null : Number(o2.toFixed(2)),
        co_ppm: rare(1) ? null : Math.round(co),
        smoke: rare(2) ? null : Math.min(9, Math.round(smoke * 2) / 2),
        oil: rare(1),
        settled: !rare(2),
      });
    }
    return {
      visit: {
        id: 'burner',
        fuel: b.fuel,
        flame: b.flame,
        adjusters: [...(b.hasCoarse ? [coarse] : []), fine, ...others],
        trials,
        as_left: b.asLeft === 0 ? null : trials.length - 1,
        ...b.rest,
      },
      up: { shutter: b.up, ...(b.hasCoarse ? { band: b.coarseUp } : {}) },
      o2At,
    };
  });

const wild = fc
  .record({
    fuel: fc.oneof(oilFuel, oneOf(...fuelIds)),
    flame: oneOf('yellow' as const, 'blue' as const),
    adjusters: fc.uniqueArray(
      fc.record({
        name: oneOf('shutter', 'band', 'head', 'regulator', 'dial', 'Shutter 2'),
        kind: oneOf('air', 'air', 'air', 'head', 'draft', 'other', null),
        min: oneOf(0, 0, -5),
        max: oneOf(10, 6, 100),
        step: oneOf(0.25, 0.5, 1, 3),
        more_air: oneOf('up', 'down', undefined),
      }),
      { selector: ({ name }) => name, maxLength: 4 },
    ),
    places: fc.array(
      fc.record({
        at: fc.array(oneOf(0, 1, 2, 3, 4.5, 5, 6), { minLength: 4, maxLength: 4 }),
        o2_pct: oneOf<number | null>(
          null,
          -1,
          0,
          0.4,
          1.9,
          2,
          2.1,
          3,
          4,
          5,
          5.9,
          6,
          6.1,
          7,
          8,
          9,
          10,
          12,
          14.9,
          15,
          15.1,
          18,
          20.9,
          21,
          21.5,
          30,
        ),
        co_ppm: oneOf<number | null>(null, -5, 0, 10, 20, 50, 150, 280, 300, 399, 400, 401, 650, 900, 4000),
        smoke: oneOf<number | null>(null, 0, 0, 0, 0.5, 1, 1.5, 2, 4, 9),
        oil: oneOf(false, false, false, false, false, true),
        settled: oneOf(true, true, true, true, false),
      }),
      { maxLength: 6 },
    ),
    asLeft: fc.nat({ max: 6 }),
    rest,
  })
  .map(({ fuel, flame, adjusters, places, asLeft, rest: other }): Case => {
    const trials = places.map(({ at, ...values }): PlainTrial => ({
      setting: Object.fromEntries(adjusters.map(({ name }, index) => [name, at[index] ?? 0])),
      ...values,
    }));
    return {
      visit: {
        id: 'wild',
        fuel,
        flame,
        adjusters: adjusters.map(({ more_air, ...one }) => ({ ...one, ...(more_air === undefined ? {} : { more_air }) })),
        trials,
        as_left: asLeft < trials.length ? asLeft : null,
        ...other,
      },
      up: undefined,
    };
  });

/** A flame chilled by air: plenty of O2, no smoke, and CO that goes with it, one way or the other. */
const chilled = fc
  .record({
    first: between(8, 13),
    fall: fc.array(between(0.3, 2), { minLength: 1, maxLength: 3 }),
    co: between(40, 260),
    lean: between(-60, 160),
    rest,
  })
  .map(({ first, fall, co, lean, rest: other }): Case => {
    let o2 = first;
    const trials = [0, ...fall].map((less, index): PlainTrial => {
      o2 -= less;
      return {
        setting: { shutter: 9 - index },
        o2_pct: Number(o2.toFixed(1)),
        co_ppm: Math.max(0, Math.round(co + lean * (o2 - 5))),
        smoke: 0,
        oil: false,
        settled: true,
      };
    });
    return {
      visit: {
        id: 'chilled',
        fuel: 'no2',
        flame: 'yellow',
        adjusters: [{ name: 'shutter', kind: 'air', min: 0, max: 10, step: 0.25 }],
        trials,
        as_left: trials.length - 1,
        ...other,
      },
      up: { shutter: true },
    };
  });

export const anyCase = fc.oneof({ weight: 5, arbitrary: burnerCase }, { weight: 3, arbitrary: wild }, { weight: 1, arbitrary: chilled });
