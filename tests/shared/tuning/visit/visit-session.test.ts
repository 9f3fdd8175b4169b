import { expect, it } from 'vitest';
import { numberedTrials, takeTrials, type RunFacts } from '../../../../shared/tuning/visit/visit-session.ts';
import type { Trial } from '../../../../shared/tuning/trial/trial.ts';
import { newVisit, type Visit } from '../../../../shared/tuning/visit/visit.ts';
import { movedAdjusters } from '../../../../renderer/state/trials.ts';
import { readingOf, turnOf } from '../../../renderer/helpers/records.ts';

const base: RunFacts = {
  runId: 'run-1',
  startWallMs: 0,
  source: 'port',
  ended: false,
  startSetting: { stage: '1', positions: [{ name: 'shutter', value: 7 }] },
  marks: [],
  readings: [],
};

it('has one running trial before anything is marked', () => {
  expect(numberedTrials(base)).toMatchObject([{ number: 1, running: true, fromMs: 0, setting: base.startSetting }]);
});
it('gives every setting its own reading, smoke and draft', () => {
  const trials = numberedTrials({
    ...base,
    marks: [
      { id: 's1', timeMs: 20_000, body: { kind: 'smoke', spots: [{ number: 1.5 }] } },
      turnOf('t2', 30_000, 6),
      { id: 'd2', timeMs: 70_000, body: { kind: 'draft', overFirePa: -4 } },
    ],
    readings: [readingOf('one', { fromMs: 5000, toMs: 25_000 }), readingOf('two', { fromMs: 50_000, toMs: 70_000 })],
  });
  expect(trials.map(({ number, reading, smoke, draft }) => [number, reading?.id, smoke?.spots[0]?.number, draft?.overFirePa])).toEqual([
    [1, 'one', 1.5, undefined],
    [2, 'two', undefined, -4],
  ]);
});
it('does not call a setting a trial that was left without a reading', () => {
  const trials = numberedTrials({
    ...base,
    marks: [turnOf('a', 30_000, 6), turnOf('b', 34_000, 5.5), turnOf('c', 38_000, 5)],
    readings: [readingOf('one', { fromMs: 5000, toMs: 25_000 })],
  });
  expect(trials.map(({ number, setting, running }) => [number, setting.positions[0]?.value, running])).toEqual([
    [1, 7, false],
    [2, 5, true],
  ]);
  expect(trials[1]?.changed).toEqual([{ name: 'shutter', value: 5 }]);
});
it('prefers a settled full reading to a gas reading to one by hand', () => {
  const readings = [readingOf('hand', { settled: false, scope: 'full' }), readingOf('full', { scope: 'full' }), readingOf('gas')];
  expect(numberedTrials({ ...base, readings })[0]?.reading?.id).toBe('full');
  expect(numberedTrials({ ...base, readings: readings.filter(({ id }) => id !== 'full') })[0]?.reading?.id).toBe('gas');
});
it('does not give a trial the settled stretch of the one before', () => {
  const trials = numberedTrials({
    ...base,
    marks: [turnOf('a', 50_000, 6)],
    readings: [readingOf('before', { fromMs: 30_000, toMs: 49_000 }), readingOf('across', { fromMs: 40_000, toMs: 51_000 })],
  });
  expect(trials.map(({ reading }) => reading?.id)).toEqual(['before', undefined]);
});
it('names the adjusters that were moved', () => {
  const trials = numberedTrials({ ...base, marks: [turnOf('a', 50_000, 6)], readings: [readingOf('one', { fromMs: 5000, toMs: 25_000 })] });
  expect(movedAdjusters(trials, ['band', 'shutter'])).toEqual(['shutter']);
  expect(movedAdjusters(numberedTrials(base), ['shutter', 'band'])).toEqual(['shutter']);
});

it('counts as the visit does: trials of earlier runs first, the check after tightening on its own', () => {
  const run = {
    ...base,
    marks: [turnOf('a', 30_000, 6), turnOf('tight', 90_000, 6)],
    readings: [readingOf('one', { fromMs: 5000, toMs: 25_000 }), readingOf('two', { fromMs: 50_000, toMs: 70_000 })],
  };
  const alone = numberedTrials(run);
  expect(alone.map(({ id, number, running }) => [id.split(':')[1], number, running])).toEqual([
    ['start', 1, false],
    ['a', 2, false],
    ['tight', 3, true],
  ]);
  const begun = newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] });
  const earlier: Trial = { ...alone[0]!, id: 'before:start', runId: 'before', takenWallMs: base.startWallMs - 1 };
  const visit: Visit = takeTrials(
    { ...begun, runs: [{ id: base.runId, startWallMs: base.startWallMs, source: 'port' }], trials: [earlier] },
    run,
  );
  const counted = numberedTrials(run, visit);
  expect(counted.map(({ number }) => number)).toEqual([2, 3, 4]);
  // what the visit has already is counted the same there
  for (const { id, number, running } of counted) if (!running) expect(number).toBe(visit.trials.findIndex((trial) => trial.id === id) + 1);
});
