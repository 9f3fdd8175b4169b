/** Kind of job, its order of steps, what is taken over from the last visit, and what a defect means. */
import { describe, expect, it } from 'vitest';
import type { Mark } from '../../../../shared/measurement/mark.ts';
import { carryOver, settingLeft } from '../../../../shared/tuning/visit/carry-over.ts';
import { judgeVisit } from '../../../../shared/tuning/advice/safe.ts';
import { stepAfter, stepIds, stepOrder, type Job } from '../../../../shared/tuning/visit/step-names.ts';
import { stepsOf } from '../../../../shared/tuning/visit/steps.ts';
import { staleReason } from '../../../../shared/tuning/visit/staleness.ts';
import { takeTrials } from '../../../../shared/tuning/visit/visit-session.ts';
import { Visit, editVisit, newVisit } from '../../../../shared/tuning/visit/visit.ts';
import { smallVisit, START } from '../../report/small-visit.ts';
import { signVisit } from '../../../../shared/tuning/visit/sign-visit.ts';

const none = { onsetFound: {}, safetyTests: [] };
const idsOf = (job: Job | undefined) => stepsOf(smallVisit(job === undefined ? {} : { job }), none).map(({ id }) => id);

describe('the thread follows the kind of job', () => {
  it('finds before it changes at a service, and has nothing to find at a commissioning', () => {
    expect(idsOf('service').slice(0, 5)).toEqual(['start', 'as-found', 'set-up', 'warm-up', 'air-curve']);
    expect(idsOf('commissioning')).not.toContain('as-found');
    expect(idsOf('check')).toEqual(['start', 'as-found', 'as-left', 'safety', 'report']);
  });
  it('keeps the steps of a visit of an earlier version', () => {
    expect(idsOf(undefined)).toEqual(['start', 'set-up', 'as-found', 'air-curve', 'as-left', 'safety', 'report']);
  });
  it('leads on from every step, also from one that this job does not have', () => {
    for (const job of ['service', 'commissioning', 'check', 'call-back', undefined] as const)
      for (const step of stepIds) {
        const next = stepAfter(job, step);
        if (step === 'report') expect(next).toBeUndefined();
        else expect(stepOrder(job)).toContain(next);
      }
    expect(stepAfter('check', 'warm-up')).toBe('as-left');
  });
  it('asks for no second reading after tightening at a check, where nothing was loosened', () => {
    const keys = (job: Job) =>
      stepsOf(smallVisit({ job }), none)
        .find(({ id }) => id === 'as-left')
        ?.missing.map(({ key }) => key);
    expect(keys('service')).toContain('echo');
    expect(keys('check')).not.toContain('echo');
  });
  it('asks at warm up for the zero of the gauge, the draft and the regulator', () => {
    const missing = (more: Partial<Visit>) =>
      stepsOf(smallVisit({ job: 'service', ...more }), none)
        .find(({ id }) => id === 'warm-up')
        ?.missing.map(({ key }) => key)
        .filter((key) => key !== 'caution');
    expect(missing({})).toEqual(['gauge-zero', 'draft-set', 'regulator']);
    expect(
      missing({
        warmUp: { gaugeZeroedWallMs: START, regulator: 'set-and-free' },
        drafts: [{ wallMs: START, overFirePa: -5, when: 'set' }],
      }),
    ).toEqual([]);
  });
});

describe('what is taken over from the last visit', () => {
  const last = smallVisit({
    id: 'visit-0',
    instrumentId: 'i-1',
    instrumentName: 'TR-1',
    draftHabit: 'minus',
    setUp: {
      lengthUnit: 'mm',
      rows: {
        electrodeGapMm: { maker: { nominal: 4, tolerance: 0.5 }, asFound: 4.4, asLeft: 4 },
        nozzleFlowLh: { asFound: 3, asLeft: 3.22 },
        pumpPressurePa: { maker: { low: 900_000, high: 1_000_000 }, asFound: 965_000 },
      },
    },
    drafts: [{ wallMs: START, overFirePa: -5, when: 'set' }],
    control: { prePurgeS: 15 },
    safety: [
      { test: 'high-limit', result: 'pass', wallMs: START },
      { test: 'low-water', result: 'not-applicable', wallMs: START },
    ],
  });
  const fresh = newVisit({ id: 'v', number: 51, kind: 'service', startedWallMs: START, zoneMinutes: 0, unitPreset: 'us', adjusters: [] });
  const notes = { nozzle: 'from visit 42', lacks: 'as at visit 42' };
  const after = (visit: Visit): Visit =>
    carryOver(visit, last, notes, START).changes.reduce((now, { path, after: value }) => {
      const done = editVisit(now, { path, after: value as never, wallMs: START, by: 'window' });
      if (!done.ok) throw new Error(done.error.detail);
      return done.value;
    }, visit);

  it('is plates, maker’s figures, nozzle as left, adjusters, card and people', () => {
    const visit = after(fresh);
    expect(visit).toMatchObject({
      fuelId: 'no2',
      instrumentId: 'i-1',
      instrumentName: 'TR-1',
      draftHabit: 'minus',
      people: [{ name: 'A. Sample' }],
    });
    expect(visit.targetCard).toEqual(last.targetCard);
    expect(visit.adjusters).toEqual(last.adjusters);
    expect(visit.setUp.rows.electrodeGapMm).toEqual({ maker: { nominal: 4, tolerance: 0.5 } });
    expect(visit.setUp.rows.nozzleFlowLh).toMatchObject({ asFound: 3.22, note: 'from visit 42' });
    expect(visit.setUp.rows.pumpPressurePa).toEqual({ maker: { low: 900_000, high: 1_000_000 } });
  });
  it('is never a measurement', () => {
    const visit = after(fresh);
    const measured = ['trials', 'drafts', 'roomCo', 'zeroed', 'settingFound', 'runs', 'notes', 'changes', 'warmUp'] as const;
    for (const key of measured) expect(visit[key], key).toEqual(fresh[key]);
    expect(visit.stages).toEqual(fresh.stages);
    // a test that does not apply here is no result of one
    expect(visit.safety.map(({ test, result, note }) => [test, result, note])).toEqual([['low-water', 'not-applicable', 'as at visit 42']]);
    expect(visit.signature).toBeUndefined();
  });
  it('leaves alone what this visit says itself, and is nothing the second time', () => {
    const mine = smallVisit({ fuelId: 'no1', setUp: { lengthUnit: 'inch', rows: { nozzleFlowLh: { asFound: 2.8 } } } });
    const visit = after(mine);
    expect(visit.fuelId).toBe('no1');
    expect(visit.setUp).toMatchObject({ lengthUnit: 'inch', rows: { nozzleFlowLh: { asFound: 2.8 } } });
    expect(carryOver(after(fresh), last, notes, START)).toEqual({ changes: [], parts: [] });
  });
  it('is the CO2max that was set only for the same fuel, and before a reading rests on another one', () => {
    const set = { ...last, co2MaxPercent: 15.2 };
    const carried = (visit: Visit): unknown =>
      carryOver(visit, set, notes, START).changes.find(({ path }) => path[0] === 'co2MaxPercent')?.after;
    expect(carried(fresh)).toBe(15.2);
    expect(carried({ ...fresh, fuelId: 'no2' })).toBe(15.2);
    expect(carried({ ...fresh, fuelId: 'no1' })).toBeUndefined();
    expect(carried({ ...fresh, co2MaxPercent: 15.4 })).toBeUndefined();
    expect(carried(smallVisit())).toBeUndefined();
  });
  const stamp = { value: 1, unit: 'gph' as const, atPa: 689_476 };
  it('is the pressure of a stamp only together with the stamp', () => {
    const metric = { ...last, setUp: { ...last.setUp, ratedPressurePa: 1_000_000 } };
    const rated = (visit: Visit): unknown => {
      const change = carryOver(visit, metric, notes, START).changes.find(({ path }) => path[0] === 'setUp');
      return (change?.after as Visit['setUp'] | undefined)?.ratedPressurePa;
    };
    expect(rated(fresh)).toBe(1_000_000);
    // typed here at 100 psi: it does not become a flow at 10 bar
    expect(rated({ ...fresh, setUp: { lengthUnit: 'inch', rows: { nozzleFlowLh: { asFound: 3.2 } } } })).toBeUndefined();
  });
  it('is the stamp of a further stage, never the pressure that was measured there', () => {
    const two = {
      ...last,
      setUp: {
        ...last.setUp,
        stages: [
          { stage: '2', stamp, pumpPa: 2_000_000 },
          { stage: '3', pumpPa: 2_100_000 },
        ],
      },
    };
    const change = carryOver(fresh, two, notes, START).changes.find(({ path }) => path[0] === 'setUp');
    expect(change?.after).toMatchObject({ stages: [{ stage: '2', stamp }] });
    expect(JSON.stringify(change?.after)).not.toContain('2000000');
  });
  it('is the further stages of the burner, by name alone, before a trial was taken', () => {
    const two = { ...last, stages: [...last.stages, { name: '2', asLeftTrialId: 'd' }] };
    const stages = (visit: Visit, from: Visit): unknown =>
      carryOver(visit, from, notes, START).changes.find(({ path }) => path[0] === 'stages')?.after;
    expect(stages(fresh, two)).toEqual([...fresh.stages, { name: '2' }]);
    expect(stages(fresh, { ...last, stages: [last.stages[0]!] })).toBeUndefined();
    expect(stages({ ...fresh, stages: [...fresh.stages, { name: 'low' }] }, two)).toBeUndefined();
    expect(stages({ ...fresh, trials: smallVisit().trials }, two)).toBeUndefined();
  });
  it('offers no position of another scale as the one that was left', () => {
    const before = smallVisit();
    expect(settingLeft(before, '1', before.adjusters)?.positions).toEqual([{ name: 'shutter', value: 4 }]);
    expect(settingLeft(before, '1', [{ ...before.adjusters[0]!, unit: 'mm', max: 40 }])).toBeUndefined();
  });
});

it('a defect that is not safe decides like a failed test; advice does not', () => {
  const defect = (weight: 'advice' | 'repair-soon' | 'not-safe') => ({
    defects: [{ wallMs: START, text: 'Cracked exchanger', weight }],
  });
  const sign = (more: Partial<Visit>) => signVisit(smallVisit(more), { name: 'A. Sample', wallMs: START, hash: 'h' });
  expect(judgeVisit(smallVisit(defect('repair-soon'))).safe).toBe(judgeVisit(smallVisit()).safe);
  expect(judgeVisit(smallVisit(defect('not-safe')))).toMatchObject({ safe: 'no', unsafe: [{ key: 'defect', what: 'Cracked exchanger' }] });
  expect(sign(defect('not-safe'))).toMatchObject({ ok: false, error: { key: 'not-safe' } });
  expect(sign(defect('advice')).ok).toBe(true);
});

it('a fan or a door makes earlier air readings stale, like draft', () => {
  const visit = smallVisit();
  const trial = visit.trials[0]!;
  expect(staleReason(trial, { ...visit, trials: [trial], changes: [{ wallMs: trial.takenWallMs + 1, kind: 'house' }] })).toMatchObject({
    kind: 'house',
  });
});

it('where the adjusters stood as found counts for what was read before it was typed', () => {
  const run = { runId: 'r', startWallMs: START, source: 'port', ended: false, readings: [] } as const;
  const marks: Mark[] = [{ id: 'm', timeMs: 5, body: { kind: 'smoke', spots: [{ number: 1 }] } }];
  const open = smallVisit({ runs: [{ id: 'r', startWallMs: START, source: 'port' }], trials: [] });
  const before = takeTrials(open, { ...run, marks });
  expect(before.trials[0]?.setting.positions).toEqual([]);
  const settingFound = { stage: '1', positions: [{ name: 'shutter', value: 4 }] };
  expect(takeTrials({ ...before, settingFound }, { ...run, marks }).trials[0]?.setting).toEqual(settingFound);
});

it('a visit of an earlier version opens with none of this', () => {
  const old = JSON.parse(JSON.stringify(smallVisit())) as unknown;
  const read = Visit.parse(old);
  for (const key of ['job', 'papers', 'warmUp', 'work', 'defects', 'ownerTold', 'nextDue'] as const) expect(read[key]).toBeUndefined();
});
