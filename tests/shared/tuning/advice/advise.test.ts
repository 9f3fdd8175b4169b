/** One answer for one state of the burner: what stops the work, what has to be known first, and only then where the air should be. Laws 1, 2, 5 and 8. */
import { describe, expect, it } from 'vitest';
import { fuels } from '../../../../shared/combustion/fuel.ts';
import { advise } from '../../../../shared/tuning/advice/advise.ts';
import type { AdviceFacts } from '../../../../shared/tuning/advice/advice.ts';
import { limitsInForce } from '../../../../shared/tuning/advice/limits-in-force.ts';
import { isClean, leadsBackToDanger, nowOf } from '../../../../shared/tuning/advice/situation.ts';
import type { Adjuster } from '../../../../shared/tuning/trial/adjuster.ts';
import { coAirFreePpm } from '../../../../shared/tuning/trial/gas-basis.ts';
import type { Trial } from '../../../../shared/tuning/trial/trial.ts';
import { makeTrial, type TrialParts } from '../make-trial.ts';

/** undefined: not measured */
type Parts = { [K in Exclude<keyof TrialParts, 'id'>]?: TrialParts[K] | undefined };
const shutter: Adjuster = { name: 'shutter', unit: '', min: 0, max: 10, step: 0.25, role: 'fine', kind: 'air' };
const limits = limitsInForce({});
const read = (id: string, atMs: number, parts: Parts): Trial =>
  makeTrial({ id, atMs, co: 15, smoke: 0, shutter: 5, ...parts } as TrialParts);
const coarse = read('a', 1, { o2: 8, shutter: 7 });
/** @param parts the newest trial, where the burner is now */
const facts = (parts: Parts, more: Partial<AdviceFacts> = {}): AdviceFacts => ({
  stage: '1',
  trials: [coarse, read('b', 2, { o2: 6, ...parts })],
  changes: [],
  adjusters: [shutter],
  fuel: fuels.no2,
  flame: 'yellow',
  limits,
  reserveCo2Points: 1,
  ...more,
});
const answer = (parts: Parts, more: Partial<AdviceFacts> = {}): string => {
  const { advice, because } = advise(facts(parts, more));
  return [advice, ...because].join(' ');
};
const coFor = (airFreePpm: number, o2: number): number => airFreePpm / (coAirFreePpm(1, o2) ?? NaN);
const oily: Trial = { ...read('b', 2, { o2: 6 }), smoke: { spots: [{ number: 0, oilTrace: true }] } };

describe('what stops the work', () => {
  it('is CO in the room from 35 ppm on, with oil on the paper besides', () => {
    expect(answer({}, { roomCoPpm: 35 })).toBe('stop room-co');
    expect(answer({}, { roomCoPpm: 34 })).not.toContain('room-co');
    // what its own meter shows now, whatever was typed before
    expect(answer({}, { roomCoPpm: 3, live: { roomCoPpm: 35 } })).toBe('stop room-co');
    expect(answer({}, { live: { roomCoPpm: 34 } })).not.toContain('room-co');
    expect(answer({}, { roomCoPpm: 35, trials: [coarse, oily] })).toBe('stop room-co oil');
    expect(answer({}, { trials: [coarse, oily] })).toBe('stop oil');
  });
  it('is a CO alarm, shown or read: from 400 ppm air-free', () => {
    expect(answer({ co: coFor(400.1, 6) })).toContain('flue-co-alarm');
    expect(answer({ co: coFor(399.9, 6) })).not.toContain('flue-co-alarm');
    expect(answer({}, { live: { o2: 6, coPpm: coFor(400.1, 6) } })).toContain('live-co-alarm');
    expect(answer({}, { live: { o2: 6, coPpm: coFor(399.9, 6) } })).not.toContain('live-co-alarm');
    expect(answer({}, { live: { o2: 6, coAirFreePpm: 400 } })).toContain('live-co-alarm');
    expect(answer({}, { live: { coOverRange: true } })).toContain('live-co-alarm');
  });
  it('says to stop where nothing is known to lead out of an alarm', () => {
    expect(answer({}, { live: { o2: 6, coAirFreePpm: 900 }, trials: [] })).toBe('stop live-co-alarm');
    expect(answer({ co: 900 }, { fuel: fuels['natural-gas'] })).toBe('stop flue-co-alarm');
  });
  it('is no alarm that was read at another setting than the one that the burner has now', () => {
    expect(answer({ co: 900 }, { present: { stage: '1', positions: [{ name: 'shutter', value: 6 }] } })).toBe('none read-first');
  });
});

describe('what has to be known before a next setting', () => {
  it.each([
    ['a fuel', {}, { fuel: undefined }, 'none fuel-not-known'],
    ['an oil', {}, { fuel: fuels['natural-gas'] }, 'none gas-fuel'],
    ['a trial', {}, { trials: [] }, 'none no-trials'],
    ['a trial of this stage', {}, { stage: '2' }, 'none no-trials'],
    ['O2', { o2: undefined }, {}, 'none no-o2'],
    ['O2 that there is', { o2: 21.1 }, {}, 'none o2-not-possible'],
    ['O2 that there is', { o2: -0.6 }, {}, 'none o2-not-possible'],
    ['flue gas and no room air', { o2: 15.1 }, {}, 'none diluted'],
    ['a settled reading', { settled: false }, {}, 'none not-settled'],
    ['smoke, with a yellow flame', { smoke: undefined }, {}, 'none smoke-first'],
    ['CO', { co: undefined }, {}, 'none no-co'],
    ['an adjuster of the air', {}, { adjusters: [] }, 'none no-air-adjuster'],
    ['an adjuster of the air', {}, { adjusters: [{ ...shutter, kind: 'head' }] }, 'none no-air-adjuster'],
    ['what an adjuster moves', {}, { adjusters: [{ ...shutter, name: 'ring', kind: undefined }] }, 'none kind-not-said no-air-adjuster'],
  ] as const)('%s', (_, parts, more, expected) => {
    expect(answer(parts as never, more as never)).toBe(expected);
  });
  it('and not where it is known', () => {
    expect(advise(facts({ o2: 6 }))).toMatchObject({ advice: 'less-air', adjuster: 'shutter', from: 5 });
    expect(answer({ o2: 15 })).not.toMatch(/diluted|not-possible/);
  });
  it('smoke is not asked of a blue flame, unless one was seen', () => {
    expect(answer({ smoke: undefined }, { flame: 'blue' })).not.toContain('smoke-first');
    const smoky = read('a', 1, { o2: 3, shutter: 4, smoke: 3 });
    expect(answer({}, { flame: 'blue', trials: [smoky, read('b', 2, { o2: 6, smoke: undefined })] })).toBe('none smoke-first');
  });
});

describe('more air', () => {
  it('is the answer at the floor of O2 and to smoke over the limit, by reading or by what is shown now', () => {
    expect(advise(facts({ o2: 2, shutter: 3 }))).toMatchObject({ advice: 'more-air', direction: 'open' });
    expect(answer({ o2: 2, shutter: 3 })).toContain('no-smoke-by-floor o2-at-floor');
    expect(answer({ o2: 2.1, shutter: 3 })).not.toContain('o2-at-floor');
    expect(answer({ o2: 2.1, shutter: 3 }, { live: { o2: 2 } })).toContain('o2-at-floor');
    expect(advise(facts({ o2: 4, shutter: 4, smoke: 1.5 }))).toMatchObject({ advice: 'more-air', direction: 'open' });
    expect(answer({ o2: 4, shutter: 4, smoke: 1.5 })).toContain('smoke-over-limit');
    expect(answer({ o2: 4, shutter: 4, smoke: 1 })).not.toContain('smoke-over-limit');
    expect(answer({ o2: 2, shutter: 3, smoke: 4 })).toContain('smoke-over-limit o2-at-floor');
  });
  it('is not the answer to smoke where there is much air already', () => {
    expect(answer({ o2: 10, shutter: 8, smoke: 3 })).toBe('none smoke-over-limit smoke-with-much-air');
    expect(answer({ o2: 9.9, shutter: 8, smoke: 3 })).not.toContain('smoke-with-much-air');
  });
  it('black smoke with no CO at all is questioned', () => {
    expect(answer({ o2: 3, shutter: 4, smoke: 4, co: 0 })).toContain('smoke-and-co-disagree');
    expect(answer({ o2: 3, shutter: 4, smoke: 4, co: 1 })).not.toContain('smoke-and-co-disagree');
    expect(answer({ o2: 3, shutter: 4, smoke: 3.5, co: 0 })).not.toContain('smoke-and-co-disagree');
  });
});

describe('what an advice is worked out from', () => {
  it('is the trials by the time they were taken, in whatever order they come', () => {
    const trials = [coarse, read('b', 2, { o2: 6 }), read('c', 3, { o2: 5, shutter: 4 })];
    const inOrder = advise(facts({}, { trials }));
    expect(inOrder).toMatchObject({ advice: 'less-air', from: 4 });
    expect(advise(facts({}, { trials: [...trials].reverse() }))).toEqual(inOrder);
  });
  it('is smoke for a yellow flame and CO for a blue one', () => {
    const richSide = [read('a', 1, { o2: 6, shutter: 6 }), read('b', 2, { o2: 4, shutter: 4, co: coFor(180, 4) })];
    const of = (flame: 'yellow' | 'blue') => advise(facts({}, { flame, trials: richSide }));
    expect(of('blue').because).toContain('set-by-co');
    expect(of('yellow').because).not.toContain('set-by-co');
  });
  it('is the floor and its margin, where it has to lead out of smoke', () => {
    const low = advise(facts({ o2: 1.5, shutter: 2, smoke: 3 }));
    expect(low).toMatchObject({ advice: 'more-air' });
    expect(low.aimO2![0]).toBeGreaterThan(limits.o2FloorPercent);
    const mid = advise(facts({ o2: 4, shutter: 4, smoke: 3 }));
    expect(mid.aimO2![0]).toBeGreaterThan(4);
    expect(mid.aimO2![0]).toBeLessThan(8);
    expect(mid.aimO2![1] - mid.aimO2![0]).toBeCloseTo(0.5, 9);
  });
  it('is the next paper, where oil was seen and its cause is known; an alarm is answered by a stop all the same', () => {
    const oilCauses = [{ cause: 'nozzle', wallMs: 3 }] as unknown as AdviceFacts['oilCauses'];
    const next = (co: number) => [coarse, oily, read('c', 4, { o2: 6, co, smoke: undefined })];
    expect(answer({}, { trials: next(15), oilCauses })).toBe('none oil-cause-known');
    expect(answer({}, { trials: next(900), oilCauses })).toBe('stop flue-co-alarm');
    expect(answer({}, { trials: next(15) })).toBe('stop oil');
  });
  it('a flame chilled by air is one from 6 % O2 on: one small step less, and none below', () => {
    const chilled = (o2: number) =>
      advise(
        facts(
          {},
          {
            trials: [
              read('a', 1, { o2: o2 + 1, shutter: 9, co: coFor(900, o2 + 1), sd: 0.01, sensorU: 0.02 }),
              read('b', 2, { o2, shutter: 8, co: coFor(500, o2), sd: 0.01, sensorU: 0.02 }),
            ],
          },
        ),
      );
    expect(chilled(6.1)).toMatchObject({ advice: 'less-air', from: 8 });
    expect(6.1 - chilled(6.1).expected!.o2).toBeLessThanOrEqual(1.2);
    expect(chilled(5.9).advice).not.toBe('less-air');
  });
});

describe('back to where it was dangerous', () => {
  const leads = (from: number, to: number, ...trials: Trial[]): boolean => {
    const present = { stage: '1', positions: [{ name: 'shutter', value: from }] };
    return leadsBackToDanger({ facts: facts({}), fresh: trials, present }, 'shutter', to);
  };
  const smoky = read('s', 1, { o2: 3, shutter: 3, smoke: 2 });
  it('is a step to a setting that was smoky, or past it; one that ends before it is not', () => {
    expect(leads(5, 3, smoky)).toBe(true);
    expect(leads(5, 2, smoky)).toBe(true);
    expect(leads(5, 3.25, smoky)).toBe(false);
    expect(leads(3, 2.5, smoky)).toBe(false);
  });
  it('is seen on a scale that runs the other way, too', () => {
    expect(leads(1, 3, smoky)).toBe(true);
    expect(leads(1, 4, smoky)).toBe(true);
    expect(leads(1, 2.75, smoky)).toBe(false);
    expect(leads(3, 4, smoky)).toBe(false);
  });
  it.each([
    ['smoke at the limit', { o2: 4, smoke: 1 }, false],
    ['CO at the alarm', { o2: 4, co: coFor(400.1, 4) }, true],
    ['CO under the alarm', { o2: 4, co: coFor(399.9, 4) }, false],
    ['O2 at the floor', { o2: 2 }, true],
    ['O2 over the floor', { o2: 2.1 }, false],
    ['CO at the alarm, without O2', { o2: undefined, co: 400 }, true],
  ])('%s: %s', (_, parts, expected) => {
    expect(leads(5, 3, read('x', 1, { shutter: 3, ...(parts as object) }))).toBe(expected);
  });
  it('goes by what was read last there', () => {
    const cleanLater = read('t', 2, { o2: 4, shutter: 3, smoke: 0 });
    expect(leads(5, 3, smoky, cleanLater)).toBe(false);
    expect(leads(5, 3, cleanLater, smoky)).toBe(true);
  });
  it('is not known without a setting, or of another adjuster', () => {
    expect(leadsBackToDanger({ facts: facts({}), fresh: [smoky], present: undefined }, 'shutter', 3)).toBe(false);
    const present = { stage: '1', positions: [{ name: 'shutter', value: 5 }] };
    expect(leadsBackToDanger({ facts: facts({}), fresh: [smoky], present }, 'band', 3)).toBe(false);
    // the band stood elsewhere then
    const withBand = { stage: '1', positions: [...present.positions, { name: 'band', value: 2 }] };
    expect(
      leadsBackToDanger(
        {
          facts: facts({}),
          fresh: [{ ...smoky, setting: { ...smoky.setting, positions: [...smoky.setting.positions, { name: 'band', value: 3 }] } }],
          present: withBand,
        },
        'shutter',
        3,
      ),
    ).toBe(false);
  });
});

it.each([
  ['settled, O2 over the floor, CO under the alarm', {}, true],
  ['smoke at the limit', { smoke: 1 }, true],
  ['no smoke taken', { smoke: undefined }, true],
  ['O2 at 15 %', { o2: 15 }, true],
  ['smoke over the limit', { smoke: 1.5 }, false],
  ['CO at the alarm', { co: coFor(400.1, 6) }, false],
  ['no CO', { co: undefined }, false],
  ['O2 at the floor', { o2: 2 }, false],
  ['more than 15 % O2', { o2: 15.1 }, false],
  ['no O2', { o2: undefined }, false],
  ['not settled', { settled: false }, false],
])('a trial is clean, %s: %s', (_, parts, expected) => {
  expect(isClean(nowOf(read('x', 1, { o2: 6, ...parts })), limits)).toBe(expected);
});
