/** Contradictory values, and records that lack what is asked today: judged as far as known; what is not known is never passed. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Adjuster, kindOf } from '../../shared/tuning/trial/adjuster.ts';
import { judgeVisit } from '../../shared/tuning/advice/safe.ts';
import { watchStarts } from '../../shared/tuning/safety/safety-result.ts';
import { judgeTimedTest } from '../../shared/tuning/safety/timed-test.ts';
import { Visit, newVisit } from '../../shared/tuning/visit/visit.ts';
import { curveFacts } from '../../renderer/views/visit/visit-facts.ts';
import { passedSafety } from '../helpers/visits/left-off.ts';
import { makeTrial } from '../shared/tuning/make-trial.ts';
import { burnerCase } from './random-visits.ts';
import { answerOf, at, holds, plainVisit } from './visits.ts';

describe('bad input', () => {
  it('smoke 9 with CO 0: more air, and that the two cannot both be right', () => {
    const answer = answerOf(plainVisit([at(5, 6), at(4, 5, { smoke: 9, co_ppm: 0 })]));
    expect(answer).toMatchObject({ advice: 'more-air', safe: 'no' });
    expect(answer.because).toEqual(expect.arrayContaining(['smoke-over-limit', 'smoke-and-co-disagree']));
    expect(answer.words).toContain('Check the paper and the CO cell: dark smoke without any CO is unlikely.');
  });

  it('such a reading as the newest of any visit: never less air, never left, never safe', () => {
    const { tried, met } = holds(
      'bad input',
      burnerCase,
      ({ visit }) => {
        const last = visit.trials.at(-1);
        if (last === undefined) return false;
        for (const wrong of [{ smoke: 9, co_ppm: 0 }, { o2_pct: 21.6 }, { o2_pct: -3 }, { co_ppm: -400 }]) {
          const answer = answerOf({
            ...visit,
            trials: [...visit.trials.slice(0, -1), { ...last, ...wrong }],
            as_left: visit.trials.length - 1,
          });
          expect(['less-air', 'leave']).not.toContain(answer.advice);
          expect(answer.safe).not.toBe('yes');
        }
        return true;
      },
      500,
    );
    expect(tried).toBe(500);
    expect(met).toBeGreaterThan(450);
  });

  it('O2 above 21: said to be impossible, no next setting', () => {
    const answer = answerOf(plainVisit([at(5, 6), at(4, 21.4)]));
    expect(answer).toMatchObject({ advice: 'none', safe: 'unknown', adjuster: null });
    expect(answer.because).toEqual(['o2-not-possible']);
    expect(answer.words).toContain('Check the instrument in fresh air: the O2 of the newest reading is not possible.');
  });

  it('an adjuster without a kind is read, asked about, and not turned', () => {
    const old = Adjuster.parse({ name: 'dial', unit: '', min: 0, max: 10, step: 0.5, role: 'fine' });
    expect(kindOf(old)).toBeUndefined();
    const answer = answerOf(
      plainVisit(
        [
          { setting: { dial: 6 }, o2_pct: 8 },
          { setting: { dial: 5 }, o2_pct: 7 },
        ],
        { adjusters: [{ name: 'dial', min: 0, max: 10, step: 0.5 }] },
      ),
    );
    expect(answer).toMatchObject({ advice: 'none', adjuster: null });
    expect(answer.because).toContain('kind-not-said');
  });

  it('a control without a rated time passes and fails nothing, whatever the watch shows', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 300, noNaN: true }), fc.constantFrom(...watchStarts), (seconds, startedFrom) => {
        for (const test of ['lockout-no-ignition', 'flame-failure'] as const)
          expect(judgeTimedTest({ test, seconds, ratedS: undefined, control: { valveOnDelayS: 0 }, startedFrom })).toMatchObject({
            verdict: 'no-mark',
            missing: 'rated',
          });
      }),
      { numRuns: 500, seed: 15 },
    );
  });

  it('a visit of an earlier version is read; what it does not say is not passed', () => {
    const today = newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] });
    const trial = makeTrial({ id: 'a', o2: 5, co: 10, shutter: 4, smoke: 0, stackC: 200, airC: 20 });
    const whole = {
      ...today,
      fuelId: 'no2',
      stages: [{ name: '1', asLeftTrialId: 'a' }],
      trials: [trial],
      roomCo: [{ wallMs: 1, ppm: 0 }],
      safety: passedSafety(1),
      adjusters: [{ name: 'shutter', unit: '', step: 0.25, role: 'fine' }],
    };
    expect(judgeVisit(Visit.parse(JSON.parse(JSON.stringify(whole)))).safe).toBe('yes');
    const lacks = (without: Record<string, unknown>) => judgeVisit(Visit.parse(JSON.parse(JSON.stringify({ ...whole, ...without }))));
    expect(lacks({ fuelId: undefined }).unknown).toContainEqual({ key: 'fuel-not-known' });
    expect(lacks({ roomCo: [] }).unknown).toContainEqual({ key: 'room-co-not-read' });
    expect(lacks({ stages: [{ name: '1' }] }).unknown).toContainEqual({ key: 'as-left-not-read', stage: '1' });
    expect(lacks({ trials: [{ ...trial, smoke: undefined }] }).unknown).toContainEqual({ key: 'smoke-not-known', stage: '1' });
    expect(lacks({ safety: [] }).safe).toBe('no');
    for (const without of [{ fuelId: undefined }, { roomCo: [] }, { stages: [{ name: '1' }] }, { safety: [] }])
      expect(lacks(without).safe).not.toBe('yes');
    // and the air curve of it says what it waits for
    const read = Visit.parse(JSON.parse(JSON.stringify({ ...whole, fuelId: undefined })));
    expect(curveFacts(read, '1', undefined).advice).toEqual({ advice: 'none', because: ['fuel-not-known'] });
  });
});
