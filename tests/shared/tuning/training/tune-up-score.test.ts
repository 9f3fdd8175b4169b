/** A practice tune-up, scored: a good one passes everything, and each planted mistake is found where it was made, and nowhere else. */
import { describe, expect, it } from 'vitest';
import { airCurve } from '../../../../shared/tuning/curve/air-curve.ts';
import { scoreTuneUp, scoreItems, type ScoreItem } from '../../../../shared/tuning/training/tune-up-score.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { smallVisit, START, trial } from '../../report/small-visit.ts';

const MINUTE = 60_000;
const trials = [
  trial('a', 5, { o2: 8, co: 40, netF: 500, smoke: 0, position: 7 }),
  trial('b', 15, { o2: 6, co: 20, netF: 450, smoke: 0, position: 5 }),
  trial('c', 25, { o2: 3, co: 60, netF: 400, smoke: 3, position: 3 }),
  trial('c2', 30, { o2: 3.6, co: 40, netF: 400, smoke: 1, position: 3.4 }),
  trial('d', 35, { o2: 5.4, co: 15, netF: 400, smoke: 0, position: 4 }),
  trial('e', 45, { o2: 5.4, co: 15, netF: 400, smoke: 0, position: 4 }),
];
const good = (more: Partial<Visit> = {}): Visit =>
  smallVisit({
    job: 'service',
    kind: 'training',
    trials,
    probeSmoke: [{ wallMs: START + MINUTE, spots: [{ number: 0 }] }],
    drafts: [{ wallMs: START + 10 * MINUTE, overFirePa: -5, when: 'set' }],
    stages: [{ name: '1', asFoundTrialId: 'a', asLeftTrialId: 'd', echoTrialId: 'e' }],
    ...more,
  });
const scored = (visit: Visit) =>
  scoreTuneUp(visit, {
    curve: airCurve(visit.trials, { stage: '1', co2MaxPercent: 15.5, reserveCo2Points: 1 }),
    safetyTests: ['high-limit'],
  });
const missed = (visit: Visit): ScoreItem[] => scored(visit).flatMap(({ item, verdict }) => (verdict === 'miss' ? [item] : []));

it('a good tune-up passes all of it', () => {
  expect(scored(good()).map(({ item, verdict }) => [item, verdict])).toEqual(scoreItems.map((item) => [item, 'pass']));
});

describe('a planted mistake is found, and no other', () => {
  const reading = trials[1]!.reading!;
  const plant: Record<ScoreItem, Partial<Visit>> = {
    'smoke-before-probe': { probeSmoke: [{ wallMs: START + 20 * MINUTE, spots: [{ number: 0 }] }] },
    'draft-first': { drafts: [{ wallMs: START + 30 * MINUTE, overFirePa: -5, when: 'set' }] },
    'readings-waited': { trials: trials.map((one) => (one.id === 'b' ? { ...one, reading: { ...reading, settled: false } } : one)) },
    'smoke-found': {},
    reserve: {
      trials: trials.map((one) => (one.id === 'd' ? trial('d', 35, { o2: 4.1, co: 15, netF: 400, smoke: 0, position: 3.6 }) : one)),
    },
    locked: { stages: [{ name: '1', asFoundTrialId: 'a', asLeftTrialId: 'd' }] },
    'co-under-alarm': {
      trials: trials.map((one) => (one.id === 'c' ? trial('c', 25, { o2: 3, co: 600, netF: 400, smoke: 3, position: 3 }) : one)),
    },
    'safety-proven': { safety: [] },
  };
  it.each(scoreItems.filter((item) => item !== 'smoke-found'))('%s', (item) => {
    expect(missed(good(plant[item]))).toEqual([item]);
  });
  it('none where the draft was set, and the probe spot taken, in the very moment of the reading that it has to come before', () => {
    const [first, turned] = [trials[0]!, trials[1]!];
    const drafts = [{ wallMs: turned.takenWallMs, overFirePa: -5, when: 'set' as const }];
    expect(missed(good({ drafts, probeSmoke: [{ wallMs: first.takenWallMs, spots: [{ number: 0 }] }] }))).toEqual([]);
  });
  it('without smoke the reserve is not known either', () => {
    const clean = trials.map((one) => ({ ...one, smoke: { spots: [{ number: 0 }] } }));
    expect(missed(good({ trials: clean }))).toEqual(['smoke-found', 'reserve']);
  });
  it('names the trial that was taken too early', () => {
    expect(scored(good(plant['readings-waited'])).find(({ item }) => item === 'readings-waited')?.trialIds).toEqual(['b']);
  });
});

it('nothing is judged that was not done', () => {
  const verdicts = Object.fromEntries(scored(good({ trials: [], stages: [{ name: '1' }] })).map(({ item, verdict }) => [item, verdict]));
  expect(verdicts).toMatchObject({
    'draft-first': 'not-judged',
    reserve: 'not-judged',
    locked: 'not-judged',
    'co-under-alarm': 'not-judged',
  });
});
