/**
 * Where each pattern of a trial begins, on both sides of its limit. Limits: NORA, Oilheat Technicians Manual, pp 134 to 153, where a page is named; the
 * rest is common practice or our own choice, as said beside the constants.
 */
import { describe, expect, it } from 'vitest';
import { trialHints, type TrialFacts } from '../../../../shared/tuning/diagnosis/trial-patterns.ts';
import { coAirFreePpm } from '../../../../shared/tuning/trial/gas-basis.ts';
import type { Trial } from '../../../../shared/tuning/trial/trial.ts';
import { makeTrial, type TrialParts } from '../make-trial.ts';

const hintsOf = (trials: readonly Trial[], more: Partial<TrialFacts> = {}) =>
  trialHints({ trials, judgedIds: trials.map(({ id }) => id), earlier: [], ...more });
const seen = (parts: Omit<TrialParts, 'id'>, more: Partial<TrialFacts> = {}) =>
  hintsOf([makeTrial({ id: 'x', ...parts })], more).map(({ pattern }) => pattern);
/** CO as read, so that it is this much air-free */
const coFor = (airFreePpm: number, o2: number): number => airFreePpm / (coAirFreePpm(1, o2) ?? NaN);
const pascal = (inchesOfWater: number): number => inchesOfWater * 249.089;

describe('smoke and CO against the air', () => {
  it.each([
    [{ o2: 5, smoke: 1 }, ['smoke-with-air']],
    [{ o2: 4.9, smoke: 1 }, []],
    [{ o2: 5, smoke: 0.5 }, []],
    // chilled: CO from 100 ppm air-free with air enough; smoky or clean
    [{ o2: 5, smoke: 1, co: coFor(100.1, 5) }, ['smoke-with-air', 'chilled-and-smoky']],
    [{ o2: 5, smoke: 1, co: coFor(99.9, 5) }, ['smoke-with-air']],
    [{ o2: 4.9, smoke: 1, co: coFor(150, 4.9) }, []],
    [{ o2: 6, smoke: 0, co: coFor(100.1, 6) }, ['co-with-air']],
    [{ o2: 6, smoke: 0, co: coFor(99.9, 6) }, []],
    [{ o2: 6, smoke: 0.5, co: coFor(150, 6) }, []],
    [{ o2: 6, co: coFor(150, 6) }, []],
    // too much air: O2 from 8.5 %
    [{ o2: 8.5, smoke: 0, co: 5 }, ['plain-excess-air']],
    [{ o2: 8.4, smoke: 0, co: 5 }, []],
    [{ o2: 8.5 }, ['plain-excess-air']],
    [{ o2: 8.5, smoke: 0.5 }, []],
    [{ o2: 8.5, smoke: 0, co: coFor(100.1, 8.5) }, ['over-aired']],
    // too little: O2 under 3 % with smoke from 2 or CO from 200 ppm air-free
    [{ o2: 2.9, smoke: 2 }, ['too-little-air']],
    [{ o2: 2.9, smoke: 1.5, co: 10 }, []],
    [{ o2: 2.9, smoke: 0, co: coFor(200.1, 2.9) }, ['too-little-air']],
    [{ o2: 2.9, smoke: 0, co: coFor(199.9, 2.9) }, []],
    [{ o2: 2.9 }, []],
    [{ o2: 3, smoke: 4 }, []],
  ] as const)('%j: %j', (parts, expected) => expect(seen(parts)).toEqual(expected));

  it('of a trial that is not judged says only what is wrong in any', () => {
    const trial = makeTrial({ id: 'x', o2: 9, smoke: 2, co: 5 });
    expect(hintsOf([trial], { judgedIds: [] }).map(({ pattern }) => pattern)).toEqual(['smoke-with-air']);
    expect(hintsOf([makeTrial({ id: 'x', o2: 9, smoke: 0 })], { judgedIds: [] })).toEqual([]);
  });
  it('says nothing of a trial without O2', () => expect(seen({ co: 900, smoke: 4, stackC: 400, airC: 20 })).toEqual([]));
});

describe('spots', () => {
  const spots = (...list: { number: number; flaw?: 'uneven'; oilTrace?: boolean }[]): Trial => ({
    ...makeTrial({ id: 'x', o2: 5 }),
    smoke: { spots: list },
  });
  const of = (trial: Trial) => hintsOf([trial]).map(({ pattern }) => pattern);
  it('that are darker on one side, twice and more, are of a flame that leans', () => {
    const [one, two] = [
      { number: 1, flaw: 'uneven' as const },
      { number: 0.5, flaw: 'uneven' as const },
    ];
    expect(of(spots(one, two))).toContain('one-sided-flame');
    expect(of(spots(one))).not.toContain('one-sided-flame');
    expect(of(spots(two, two))).not.toContain('one-sided-flame');
    expect(of({ ...spots(one, two), reading: makeTrial({ id: 'x', o2: 4.9 }).reading! })).not.toContain('one-sided-flame');
  });
  it('with a trace of oil are counted', () => {
    const [hint] = hintsOf([spots({ number: 0, oilTrace: true }, { number: 0, oilTrace: false }, { number: 0, oilTrace: true })]);
    expect(hint).toMatchObject({ pattern: 'oily-spot', figures: { spots: 2 } });
  });
});

describe('stack and draft', () => {
  const drop = (pa: number) => ({ overFirePa: 0, breechPa: -pa });
  it.each([
    // net over 240 K; NORA p 140: below 270 degF (150 K) over ambient the chimney gets wet
    [{ o2: 5, stackC: 260.1, airC: 20 }, ['hot-stack']],
    [{ o2: 5, stackC: 259, airC: 20 }, []],
    [{ o2: 5, stackC: 169.9, airC: 20 }, ['cool-stack']],
    [{ o2: 5, stackC: 170.1, airC: 20 }, []],
    // not lit, or nothing measured yet
    [{ o2: 5, stackC: 50, airC: 20 }, []],
    [{ o2: 5, stackC: 300 }, []],
    // NORA p 142: drop over 0.05 in w.c. is high, about nothing says that baffles are missing
    [{ o2: 5, stackC: 235, airC: 20, ...drop(pascal(0.051)) }, ['hot-stack-high-drop']],
    [{ o2: 5, stackC: 235, airC: 20, ...drop(pascal(0.05)) }, []],
    [{ o2: 5, stackC: 231, airC: 20, ...drop(pascal(0.051)) }, []],
    [{ o2: 5, stackC: 270, airC: 20, ...drop(0.9) }, ['hot-stack-no-drop']],
    [{ o2: 5, stackC: 270, airC: 20, ...drop(1.1) }, ['hot-stack']],
    // without a hot stack the drop has to be clear of what two gauges read
    [{ o2: 5, stackC: 200, airC: 20, ...drop(14.1) }, ['high-draft-drop']],
    [{ o2: 5, stackC: 200, airC: 20, ...drop(13.9) }, []],
  ] as const)('%j: %j', (parts, expected) => expect(seen(parts)).toEqual(expected));

  it('is against the last visit that measured it: hotter by more than 30 K, a drop grown by 3 Pa and by 40 %', () => {
    const now = { o2: 5, stackC: 231, airC: 20 };
    expect(seen(now, { earlier: [{ netStackK: 180.9 }] })).toEqual(['hot-stack']);
    expect(seen(now, { earlier: [{ netStackK: 181.1 }] })).toEqual([]);
    expect(seen(now, { earlier: [{}, { netStackK: 180 }] })).toEqual(['hot-stack']);
    expect(seen(now, { earlier: [{ netStackK: 200 }, { netStackK: 150 }] })).toEqual([]);
    const drafted = (pa: number, before: number) => seen({ o2: 5, ...drop(pa) }, { earlier: [{ draftDropPa: before }] });
    expect(drafted(10.1, 7)).toEqual(['draft-drop-grown']);
    expect(drafted(9.9, 7)).toEqual([]);
    expect(drafted(5.9, 3)).toEqual([]);
    expect(drafted(13.5, 10)).toEqual([]);
  });
});

describe('pump pressure and onset', () => {
  it('is off beyond a tenth of what the sheet wants, either way, by the last gauge that was read', () => {
    const gauge = (...pa: (number | undefined)[]) =>
      hintsOf(
        pa.map((one, at) => makeTrial({ id: `t${at}`, o2: 5, ...(one !== undefined && { pumpPa: one }) })),
        { pumpPressureWantedPa: 700_000 },
      ).map(({ pattern, trialIds }) => [pattern, ...trialIds]);
    expect(gauge(769_000)).toEqual([]);
    expect(gauge(771_000)).toEqual([['pressure-off', 't0']]);
    expect(gauge(631_000)).toEqual([]);
    expect(gauge(629_000)).toEqual([['pressure-off', 't0']]);
    expect(gauge(500_000, 700_000)).toEqual([]);
    expect(gauge(700_000, 500_000, undefined)).toEqual([['pressure-off', 't1']]);
  });
  it('is late where smoke begins at 5.5 % O2 and above', () => {
    expect(seen({ o2: 6 }, { onsetO2: 5.5 })).toEqual(['late-onset']);
    expect(seen({ o2: 6 }, { onsetO2: 5.4 })).toEqual([]);
  });
});

it('the same pattern in several trials is one hint, as clear as the clearest, with all of them', () => {
  const trials = [
    makeTrial({ id: 'a', o2: 5.5, smoke: 1 }),
    makeTrial({ id: 'b', o2: 7, smoke: 3, atMs: 90_000 }),
    makeTrial({ id: 'c', o2: 6, smoke: 1 }),
  ];
  const [hint, ...others] = hintsOf(trials);
  expect(others).toEqual([]);
  expect(hint).toMatchObject({ pattern: 'smoke-with-air', trialIds: ['a', 'b', 'c'], figures: { o2: 7, smoke: 3 } });
  expect(hint!.stretch).toEqual({ fromMs: 90_000, toMs: 120_000 });
  expect(hint!.strength).toBeGreaterThan(hintsOf([trials[0]!])[0]!.strength);
});

describe('how clearly a pattern shows: the clearest hint is read first', () => {
  const drop = (pa: number) => ({ overFirePa: 0, breechPa: -pa });
  const strength = (pattern: string, parts: Omit<TrialParts, 'id'>, more: Partial<TrialFacts> = {}): number =>
    hintsOf([makeTrial({ id: 'x', ...parts })], more).find((hint) => hint.pattern === pattern)?.strength ?? NaN;
  it.each([
    ['smoke-with-air', { o2: 6, smoke: 1 }, { o2: 6, smoke: 2 }],
    ['smoke-with-air', { o2: 6, smoke: 1 }, { o2: 7, smoke: 1 }],
    ['chilled-and-smoky', { o2: 6, smoke: 1, co: 120 }, { o2: 6, smoke: 1, co: 200 }],
    ['chilled-and-smoky', { o2: 6, smoke: 1, co: 120 }, { o2: 6, smoke: 2, co: 120 }],
    ['co-with-air', { o2: 6, smoke: 0, co: 120 }, { o2: 6, smoke: 0, co: 200 }],
    ['over-aired', { o2: 9, smoke: 0, co: 120 }, { o2: 9, smoke: 0, co: 200 }],
    ['plain-excess-air', { o2: 9, smoke: 0 }, { o2: 10, smoke: 0 }],
    ['too-little-air', { o2: 2.5, smoke: 2 }, { o2: 2, smoke: 2 }],
    ['too-little-air', { o2: 2.5, smoke: 2 }, { o2: 2.5, smoke: 4 }],
    ['hot-stack', { o2: 5, stackC: 270, airC: 20 }, { o2: 5, stackC: 290, airC: 20 }],
    ['hot-stack-high-drop', { o2: 5, stackC: 240, airC: 20, ...drop(14) }, { o2: 5, stackC: 250, airC: 20, ...drop(14) }],
    ['hot-stack-high-drop', { o2: 5, stackC: 240, airC: 20, ...drop(14) }, { o2: 5, stackC: 240, airC: 20, ...drop(20) }],
    ['high-draft-drop', { o2: 5, ...drop(15) }, { o2: 5, ...drop(20) }],
    ['cool-stack', { o2: 5, stackC: 150, airC: 20 }, { o2: 5, stackC: 140, airC: 20 }],
  ] as const)('%s: more with %j than with %j', (pattern, less, more) => {
    expect(strength(pattern, less)).toBeGreaterThan(0.2);
    expect(strength(pattern, more)).toBeGreaterThan(strength(pattern, less) + 0.02);
    expect(strength(pattern, more)).toBeLessThan(1);
  });
  it('more of one that went further from the visit before, the sheet or the usual onset', () => {
    const hot = (before: number) => strength('hot-stack', { o2: 5, stackC: 231, airC: 20 }, { earlier: [{ netStackK: before }] });
    expect(hot(150)).toBeGreaterThan(hot(178));
    const grown = (before: number) => strength('draft-drop-grown', { o2: 5, ...drop(12) }, { earlier: [{ draftDropPa: before }] });
    expect(grown(2)).toBeGreaterThan(grown(6));
    const off = (pa: number) => strength('pressure-off', { o2: 5, pumpPa: pa }, { pumpPressureWantedPa: 700_000 });
    expect(off(500_000)).toBeGreaterThan(off(600_000));
    expect(off(900_000)).toBeGreaterThan(off(800_000));
    const late = (onsetO2: number) => strength('late-onset', { o2: 8 }, { onsetO2 });
    expect(late(7)).toBeGreaterThan(late(6));
  });
  it('a stack that is hot without a drop is as clear as its heat, whatever the missing drop', () => {
    const hot = (more: object) => hintsOf([makeTrial({ id: 'x', o2: 5, stackC: 270, airC: 20, ...more })])[0]!.strength;
    expect(hot(drop(0))).toBe(hot({}));
  });
});
