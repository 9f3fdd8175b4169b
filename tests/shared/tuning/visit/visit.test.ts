import { describe, expect, it } from 'vitest';
import { cautionsOf } from '../../../../shared/tuning/advice/cautions.ts';
import { exampleCards } from '../../../../shared/tuning/card/example-cards.ts';
import { stepsOf, type StepFacts } from '../../../../shared/tuning/visit/steps.ts';
import { stepIds, stepOrder } from '../../../../shared/tuning/visit/step-names.ts';
import { staleReason } from '../../../../shared/tuning/visit/staleness.ts';
import type { Adjuster } from '../../../../shared/tuning/trial/adjuster.ts';
import { Visit, editVisit, newVisit, withCorrections } from '../../../../shared/tuning/visit/visit.ts';
import { isWatermarked } from '../../../../shared/tuning/visit/visit-marks.ts';
import { leftOff } from '../../../helpers/visits/left-off.ts';
import { makeTrial } from '../make-trial.ts';
import { signVisit } from '../../../../shared/tuning/visit/sign-visit.ts';

/** the usual pair; scales differ from burner to burner, so the ends are open */
const shutterAndBand: readonly Adjuster[] = [
  { name: 'shutter', unit: '', step: 0.25, role: 'fine', kind: 'air' },
  { name: 'band', unit: '', step: 1, role: 'coarse', kind: 'air' },
];
const fresh = (kind: 'service' | 'training' = 'service'): Visit =>
  newVisit({ id: 'v', number: 12, kind, startedWallMs: 1000, zoneMinutes: 60, unitPreset: 'metric', adjusters: [...shutterAndBand] });
const edited = (
  visit: Visit,
  path: (string | number)[],
  after: Parameters<typeof editVisit>[1]['after'],
  more: { reason?: string } = {},
): Visit => {
  const result = editVisit(visit, { wallMs: 2000, by: 'A. Person', path, after, ...more });
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
};
const signature = { name: 'A. Person', wallMs: 5000, hash: 'abc' };
/** a visit of which nothing is known to be safe, with what was done about it */
const leftUnlit = (kind: 'service' | 'training' = 'service'): Visit => ({ ...fresh(kind), notLeftRunning: leftOff });

describe('a visit', () => {
  it('is valid when new and survives JSON', () => {
    expect(Visit.parse(JSON.parse(JSON.stringify(fresh())))).toEqual(fresh());
  });
  it('keeps what stood before each edit', () => {
    const visit = edited(edited(fresh(), ['fuelId'], 'no2'), ['fuelId'], 'b5');
    expect(visit.fuelId).toBe('b5');
    expect(visit.edits.map(({ before, after }) => [before, after])).toEqual([
      [undefined, 'no2'],
      ['no2', 'b5'],
    ]);
  });
  it('edits deep fields, appends to lists, and takes fields away', () => {
    let visit = edited(fresh(), ['setUp', 'rows', 'electrodeGapMm', 'asFound'], 4);
    visit = edited(visit, ['notes', 0], { wallMs: 1, text: 'soot' });
    expect(visit.setUp.rows.electrodeGapMm?.asFound).toBe(4);
    expect(visit.notes).toEqual([{ wallMs: 1, text: 'soot' }]);
    expect(edited(visit, ['setUp', 'rows', 'electrodeGapMm', 'asFound'], undefined).setUp.rows.electrodeGapMm).toEqual({});
  });
  it.each([
    [['smokeRule'], 'guess'],
    [['number'], 3],
    [['signature'], null],
    [['edits', 0], {}],
    [['nonsense'], 1],
    [['people', 0, 'name'], ''],
    [['__proto__', 'polluted'], true],
  ] as const)('refuses %j and changes nothing', (path, after) => {
    const visit = fresh();
    expect(editVisit(visit, { wallMs: 1, by: 'A', path: [...path], after }).ok).toBe(false);
    expect(visit).toEqual(fresh());
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
  });
  it('locks when signed; a correction needs a reason and stands beside the signed body', () => {
    const signed = signVisit(edited(leftUnlit(), ['fuelId'], 'no2'), signature);
    if (!signed.ok) throw new Error('not signed');
    expect(editVisit(signed.value, { wallMs: 6000, by: 'A', path: ['fuelId'], after: 'b5' })).toMatchObject({
      ok: false,
      error: { code: 'visit-signed' },
    });
    const corrected = edited(signed.value, ['fuelId'], 'b5', { reason: 'wrong delivery note' });
    expect(corrected.fuelId).toBe('no2');
    expect(withCorrections(corrected).fuelId).toBe('b5');
    expect(corrected.edits.at(-1)).toMatchObject({ before: 'no2', after: 'b5', reason: 'wrong delivery note' });
    // what was signed can be shown unchanged
    expect({ ...corrected, edits: corrected.edits.slice(0, 1) }).toEqual(signed.value);
  });
  it('does not apply edits from before the signature twice, whatever the clock said', () => {
    const signed = signVisit(edited(edited(leftUnlit(), ['fuelId'], 'no2'), ['fuelId'], 'b5'), { ...signature, wallMs: 0 });
    expect(signed.ok && withCorrections(signed.value).fuelId).toBe('b5');
    // a body that was changed by other means after the edit (a merge of two laptops) is what was signed
    const merged = signVisit({ ...edited(leftUnlit(), ['fuelId'], 'no2'), fuelId: 'b20' }, { ...signature, wallMs: 0 });
    expect(merged.ok && withCorrections(edited(merged.value, ['annualFuelGal'], 700, { reason: 'owner called' }))).toMatchObject({
      fuelId: 'b20',
      annualFuelGal: 700,
    });
    expect(signed.ok && withCorrections(signed.value)).toEqual(signed.ok && signed.value);
  });
  it('is never signed with simulated or replayed data, as training, twice, or with a bypass open', () => {
    expect(signVisit(fresh('training'), signature)).toMatchObject({ ok: false, error: { key: 'training' } });
    for (const source of ['simulated', 'replay'] as const) {
      const visit = { ...fresh(), runs: [{ id: 'r', startWallMs: 0, source }] };
      expect(isWatermarked(visit)).toBe(true);
      expect(signVisit(visit, signature)).toMatchObject({ ok: false, error: { key: 'simulated' } });
    }
    const bypassed = { ...leftUnlit(), bypasses: [{ what: 'flame detector', openedWallMs: 1 }] };
    expect(signVisit(bypassed, signature)).toEqual({ ok: false, error: { key: 'bypass-open', what: 'flame detector' } });
    const closed = signVisit({ ...bypassed, bypasses: [{ what: 'flame detector', openedWallMs: 1, closedWallMs: 2 }] }, signature);
    expect(closed.ok).toBe(true);
    expect(closed.ok && signVisit(closed.value, signature)).toMatchObject({ ok: false, error: { key: 'signed' } });
  });
  it('is not signed when it is not safe, without "left off", "red-tagged" and who was told', () => {
    expect(signVisit(fresh(), signature)).toMatchObject({ ok: false, error: { key: 'not-safe' } });
    for (const lacking of [{ leftOff: false }, { redTagged: false }, { ownerTold: ' ' }])
      expect(signVisit({ ...fresh(), notLeftRunning: { ...leftOff, ...lacking } }, signature)).toMatchObject({
        error: { key: 'not-safe' },
      });
    expect(signVisit(leftUnlit(), signature).ok).toBe(true);
  });
  it('has no default limits', () => {
    expect(fresh().targetCard).toBeUndefined();
  });
});

const full = (id: string, atMs: number, more = {}) =>
  makeTrial({ id, shutter: 5, band: 3, o2: 5, co: 10, stackC: 210, airC: 20, smoke: 0, overFirePa: -5, atMs, ...more });

function doneVisit(): Visit {
  const base = fresh();
  const acknowledged = [...new Set(stepIds.flatMap((id) => [...cautionsOf[id]]))];
  return {
    ...base,
    applianceId: 'a',
    fuelId: 'no2',
    instrumentName: 'i',
    people: [{ role: 'technician', name: 'A. Person' }],
    zeroed: { wallMs: 1, place: 'outdoors' },
    roomCo: [{ wallMs: 1, ppm: 0 }],
    settingFound: { stage: '1', positions: [] },
    setUp: {
      lengthUnit: 'mm',
      rows: Object.fromEntries(
        ['electrodeGapMm', 'heightAboveCentrelineMm', 'aheadOfNozzleMm', 'nozzleToHeadMm', 'nozzleFlowLh', 'pumpPressurePa'].map((item) => [
          item,
          { asFound: 4 },
        ]),
      ),
    },
    trials: [
      full('found', 10),
      full('b', 20, { o2: 4, smoke: 0 }),
      full('c', 30, { o2: 3, smoke: 2 }),
      full('left', 40, { o2: 4.9 }),
      full('echo', 50, { o2: 4.9 }),
    ],
    stages: [{ name: '1', asFoundTrialId: 'found', asLeftTrialId: 'left', echoTrialId: 'echo' }],
    targetCard: exampleCards[0]!,
    cautions: acknowledged.map((key) => ({ key, wallMs: 1 })),
    safety: [{ test: 'lockout', result: 'pass', wallMs: 60 }],
    signature: { ...signature, editsBefore: 0 },
  };
}
const facts: StepFacts = { onsetFound: { 1: true }, safetyTests: ['lockout'] };
const missingOf = (visit: Visit, id: (typeof stepIds)[number], more: Partial<StepFacts> = {}) =>
  stepsOf(visit, { ...facts, ...more }).find((step) => step.id === id)!;

describe('the thread of steps', () => {
  it('is all done in a complete visit', () => {
    expect(stepsOf(doneVisit(), facts).map(({ id, state, missing }) => [id, state, missing])).toEqual(
      stepOrder(undefined).map((id) => [id, 'done', []]),
    );
  });
  it('starts at Start and says what is missing', () => {
    const steps = stepsOf(fresh(), facts);
    expect(steps[0]!.missing.map(({ key }) => key)).toEqual([
      'caution',
      'appliance',
      'fuel',
      'instrument',
      'technician',
      'zero-place',
      'room-co',
    ]);
    expect(steps.every((step) => step.state === 'open')).toBe(true);
  });
  it.each([
    [
      'as-left without smoke',
      'as-left',
      (v: Visit) => ({ ...v, trials: v.trials.map((trial) => (trial.id === 'left' ? { ...trial, smoke: undefined } : trial)) }),
      'trial-gap',
    ],
    [
      'as-left read too early',
      'as-left',
      (v: Visit) => ({
        ...v,
        trials: v.trials.map((trial) => (trial.id === 'left' ? { ...trial, reading: { ...trial.reading!, settled: false } } : trial)),
      }),
      'trial-gap',
    ],
    ['no card and not said so', 'as-left', (v: Visit) => ({ ...v, targetCard: undefined }), 'target-card'],
    ['not read after tightening', 'as-left', (v: Visit) => ({ ...v, stages: [{ ...v.stages[0]!, echoTrialId: undefined }] }), 'echo'],
    [
      'a failed test',
      'safety',
      (v: Visit) => ({ ...v, safety: [{ test: 'lockout', result: 'fail' as const, wallMs: 1 }] }),
      'safety-failed',
    ],
    ['an open bypass', 'report', (v: Visit) => ({ ...v, bypasses: [{ what: 'limit', openedWallMs: 1 }] }), 'bypass-open'],
    [
      'geometry out of the sheet',
      'set-up',
      (v: Visit) => ({
        ...v,
        setUp: { ...v.setUp, rows: { ...v.setUp.rows, electrodeGapMm: { asFound: 4, maker: { nominal: 3, tolerance: 0.5 } } } },
      }),
      'geometry-out',
    ],
  ] as const)('%s keeps %s open', (_, id, change, key) => {
    const step = missingOf(change(doneVisit()), id);
    expect(step.state).toBe('open');
    expect(step.missing.map((missing) => missing.key)).toContain(key);
  });
  it('lets smoke be left out with a reason, a visit be judged without a card, and a failed test be repeated', () => {
    const visit = doneVisit();
    const noSmoke = {
      ...visit,
      trials: visit.trials.map((trial) => (trial.id === 'left' ? { ...trial, smoke: undefined } : trial)),
      stages: [{ ...visit.stages[0]!, asLeftReason: 'pump broken' }],
    };
    expect(missingOf(noSmoke, 'as-left').state).toBe('done');
    expect(missingOf({ ...visit, targetCard: undefined, withoutCard: true }, 'as-left').state).toBe('done');
    expect(
      missingOf(
        {
          ...visit,
          safety: [
            { test: 'lockout', result: 'fail', wallMs: 1 },
            { test: 'lockout', result: 'pass', wallMs: 2 },
          ],
        },
        'safety',
      ).state,
    ).toBe('done');
  });
  it('marks as-left stale when draft, nozzle, pressure or head is changed after it', () => {
    for (const kind of ['draft', 'nozzle', 'pressure', 'head'] as const) {
      const step = missingOf({ ...doneVisit(), changes: [{ wallMs: 45, kind }] }, 'as-left');
      expect(step.state).toBe('stale');
      expect(step.missing[0]).toMatchObject({ key: 'as-left-stale', reason: { kind, sinceWallMs: 45 } });
    }
    expect(missingOf({ ...doneVisit(), changes: [{ wallMs: 35, kind: 'draft' }] }, 'as-left').state).toBe('done');
    expect(missingOf({ ...doneVisit(), changes: [{ wallMs: 45, kind: 'electrodes' }] }, 'as-left').state).toBe('done');
  });
  it('keeps stages apart', () => {
    const visit = { ...doneVisit(), stages: [...doneVisit().stages, { name: '2' }] };
    expect(missingOf(visit, 'as-left').missing).toContainEqual({ key: 'as-left', stage: '2' });
    expect(missingOf(visit, 'air-curve').missing).toContainEqual({ key: 'curve-trials', stage: '2', have: 0 });
  });
  it('does not ask a simulated visit for a signature', () => {
    const visit: Visit = { ...doneVisit(), runs: [{ id: 'r', startWallMs: 0, source: 'simulated' }] };
    delete visit.signature;
    expect(missingOf(visit, 'report').state).toBe('done');
  });
});

describe('staleness', () => {
  const context = (trials: ReturnType<typeof makeTrial>[], adjusters = [...shutterAndBand]) => ({ trials, changes: [], adjusters });
  it('is seen in later trials: draft over the fire moved by 0.02 in w.c., pressure by 3 %', () => {
    const first = full('a', 1, { overFirePa: -5, pumpPa: 690_000 });
    expect(staleReason(first, context([first, full('b', 2, { overFirePa: -10.1 })]))).toMatchObject({ kind: 'draft', from: -5, to: -10.1 });
    expect(staleReason(first, context([first, full('b', 2, { overFirePa: -8 })]))).toBeUndefined();
    expect(staleReason(first, context([first, full('b', 2, { pumpPa: 965_000 })]))).toMatchObject({ kind: 'pressure' });
    expect(staleReason(first, context([full('z', 0, { overFirePa: -20 }), first]))).toBeUndefined();
  });
  it('is of what was read up to the very moment of the change: after a clock that was set back, that is the moment it is written with', () => {
    const trial = full('a', 5000);
    const stale = (wallMs: number) => staleReason(trial, { ...context([trial]), changes: [{ wallMs, kind: 'nozzle' }] })?.kind;
    expect([trial.takenWallMs - 1, trial.takenWallMs, trial.takenWallMs + 1].map(stale)).toEqual([undefined, 'nozzle', 'nozzle']);
  });
  it('is seen when the head moves, not when the shutter does', () => {
    const head = { name: 'head', unit: 'mm', step: 1, role: 'coarse' as const, kind: 'head' as const };
    const at = (id: string, atMs: number, value: number) => ({
      ...full(id, atMs),
      setting: {
        stage: '1',
        positions: [
          { name: 'head', value },
          { name: 'shutter', value: atMs },
        ],
      },
    });
    expect(staleReason(at('a', 1, 2), context([at('a', 1, 2), at('b', 2, 4)], [...shutterAndBand, head]))).toMatchObject({
      kind: 'head',
      adjuster: 'head',
      from: 2,
      to: 4,
    });
    expect(staleReason(at('a', 1, 2), context([at('a', 1, 2), at('b', 2, 2)], [...shutterAndBand, head]))).toBeUndefined();
  });
});
