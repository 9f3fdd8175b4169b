/** Before a reading: the smoke spot that lets the probe in, and what follows from a reading without a press. */
import { describe, expect, it } from 'vitest';
import { chosenByItself } from '../../../../shared/tuning/visit/by-itself.ts';
import { probeGate } from '../../../../shared/tuning/trial/probe-gate.ts';
import { stepsOf } from '../../../../shared/tuning/visit/steps.ts';
import { takeTrials, type RunFacts } from '../../../../shared/tuning/visit/visit-session.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { smallVisit, START, trial, trials } from '../../report/small-visit.ts';

const MINUTE = 60_000;
const fresh = (more: Partial<Visit> = {}): Visit =>
  smallVisit({ job: 'service', trials: [], stages: [{ name: '1' }], changes: [], ...more });
const spot = (number: number, more: object = {}, minutes = 1) => ({
  probeSmoke: [{ wallMs: START + minutes * MINUTE, spots: [{ number, ...more }] }],
});

describe('the probe goes in after a smoke spot', () => {
  it('asks for one before as-found and before the curve, and at no other step', () => {
    expect(probeGate(fresh(), 'as-found').state).toBe('needed');
    expect(probeGate(fresh({ job: 'commissioning' }), 'air-curve').state).toBe('needed');
    for (const step of ['start', 'set-up', 'warm-up', 'as-left', 'safety', 'report'] as const)
      expect(probeGate(fresh(), step).state).toBe('open');
  });
  it.each([
    [0, 'open'],
    [2, 'open'],
    [2.5, 'too-dark'],
    [9, 'too-dark'],
  ])('smoke %s: %s', (number, state) => {
    expect(probeGate(fresh(spot(number)), 'as-found').state).toBe(state);
  });
  it('stays out for oil at any smoke number, and for the darkest of three spots', () => {
    expect(probeGate(fresh(spot(0, { oilTrace: true })), 'as-found').state).toBe('oil');
    const three = { probeSmoke: [{ wallMs: START, spots: [{ number: 1 }, { number: 4 }, { number: 1 }] }] };
    expect(probeGate(fresh(three), 'as-found')).toEqual({ state: 'too-dark', smoke: 4 });
  });
  it('takes no wet spot for an answer', () => {
    expect(probeGate(fresh(spot(0, { flaw: 'wet' })), 'as-found').state).toBe('needed');
  });
  it('takes the newest spot: a clean one after a dark one lets it in', () => {
    const both = { probeSmoke: [...spot(5).probeSmoke, ...spot(1, {}, 3).probeSmoke] };
    expect(probeGate(fresh(both), 'as-found').state).toBe('open');
  });
  it('asks again before the curve when something was changed since, and not when a settled reading came since', () => {
    const changes: Visit['changes'] = [{ wallMs: START + 10 * MINUTE, kind: 'cleaning' }];
    expect(probeGate(fresh({ ...spot(0), trials: [trials[0]!], changes }), 'air-curve').state).toBe('needed');
    expect(probeGate(fresh({ ...spot(0), trials: [trials[0]!, trials[1]!], changes }), 'air-curve').state).toBe('open');
  });
  it('lets a reason stand in the place of a spot', () => {
    const without = { probeSmoke: [{ wallMs: START, spots: [], withoutReason: 'pump broken' }] };
    expect(probeGate(fresh(without), 'as-found').state).toBe('open');
  });
  it('does not ask visits of earlier versions', () => {
    const { job: _job, ...old } = fresh();
    expect(probeGate(old as Visit, 'as-found').state).toBe('open');
  });
  it('is missing at its step until it is there', () => {
    const missing = (visit: Visit) =>
      stepsOf(visit, { onsetFound: {}, safetyTests: [] })
        .find(({ id }) => id === 'as-found')
        ?.missing.map(({ key }) => key);
    expect(missing(fresh())).toContain('probe-smoke');
    expect(missing(fresh(spot(4)))).toContain('probe-stays-out');
    expect(missing(fresh(spot(1)))).not.toContain('probe-smoke');
  });
});

describe('what follows from a reading by itself', () => {
  const at = (step: 'as-found' | 'air-curve' | 'as-left'): Partial<Visit> => ({ at: { step, stage: '1' } });
  it('the first full settled reading in As-found is as-found', () => {
    const visit = chosenByItself(fresh({ ...at('as-found'), trials: [trials[0]!, trials[1]!] }));
    expect(visit.stages[0]?.asFoundTrialId).toBe('a');
  });
  it('waits for the spot before the probe, also when the instrument was running before', () => {
    const { smoke: _none, ...unspotted } = trials[0]!;
    const visit = fresh({ ...at('as-found'), trials: [unspotted] });
    expect(probeGate(visit, 'as-found').state).toBe('needed');
    expect(chosenByItself(visit).stages[0]?.asFoundTrialId).toBeUndefined();
    expect(chosenByItself({ ...visit, ...spot(1) }).stages[0]?.asFoundTrialId).toBe('a');
  });
  it('not elsewhere, not a gas reading, not one by hand, not after a change, not when a person took it back', () => {
    const none = (more: Partial<Visit>): void => expect(chosenByItself(fresh(more)).stages[0]?.asFoundTrialId).toBeUndefined();
    const reading = trials[0]!.reading!;
    none({ ...at('air-curve'), trials: [trials[0]!] });
    none({ ...at('as-found'), trials: [{ ...trials[0]!, reading: { ...reading, scope: 'gas' } }] });
    none({ ...at('as-found'), trials: [{ ...trials[0]!, reading: { ...reading, settled: false } }] });
    none({ ...at('as-found'), trials: [trials[0]!], changes: [{ wallMs: START, kind: 'cleaning' }] });
    none({ ...at('as-found'), trials: [trials[0]!], stages: [{ name: '1', asFoundByHand: true }] });
    none({ ...at('as-found'), trials: [trials[0]!], stages: [{ name: '1', asFoundSkippedReason: 'burner off' }] });
  });
  it('the reading after tightening is compared at the same setting only', () => {
    const left = trials[3]!;
    const check = { ...trial('e', 45, { o2: 5, co: 15, netF: 400, smoke: 0, position: 4 }) };
    const other = { ...trial('f', 50, { o2: 6, co: 15, netF: 400, smoke: 0, position: 5 }) };
    const stages = [{ name: '1', asLeftTrialId: left.id }];
    expect(chosenByItself(fresh({ ...at('as-left'), stages, trials: [left, check, other] })).stages[0]?.echoTrialId).toBe('e');
    expect(chosenByItself(fresh({ ...at('as-left'), stages, trials: [left, other] })).stages[0]?.echoTrialId).toBeUndefined();
  });
});

it('what was read before a change stays a trial of its own, at the same setting', () => {
  const reading = (id: string, minutes: number, o2: number) => ({
    ...trial(id, minutes, { o2, co: 20, netF: 400, smoke: 0, position: 7 }).reading!,
    id,
  });
  const run: RunFacts = {
    runId: 'run-1',
    startWallMs: START,
    source: 'port',
    ended: false,
    startSetting: { stage: '1', positions: [{ name: 'shutter', value: 7 }] },
    marks: [],
    readings: [reading('r1', 5, 8), reading('r2', 30, 6)],
  };
  const visit = takeTrials(fresh({ changes: [{ wallMs: START + 20 * MINUTE, kind: 'cleaning' }] }), run);
  expect(visit.trials.map((one) => one.reading?.channels.o2?.mean)).toEqual([8, 6]);
  expect(visit.trials.map((one) => one.setting.positions[0]?.value)).toEqual([7, 7]);
  // without the change the later reading of the same setting counts
  expect(takeTrials(fresh(), run).trials.map((one) => one.reading?.channels.o2?.mean)).toEqual([6]);
});
