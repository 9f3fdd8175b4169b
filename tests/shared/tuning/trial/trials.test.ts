import { describe, expect, it } from 'vitest';
import type { Mark, MarkBody, Setting } from '../../../../shared/measurement/mark.ts';
import type { Reading } from '../../../../shared/measurement/state.ts';
import { trialsOf, type RunRecord } from '../../../../shared/tuning/trial/trials.ts';

const setting = (shutter: number): Setting => ({
  stage: '1',
  positions: [
    { name: 'shutter', value: shutter },
    { name: 'band', value: 3 },
  ],
});
const mark = (id: string, seconds: number, body: MarkBody): Mark => ({ id, timeMs: seconds * 1000, body });
const adjust = (id: string, seconds: number, shutter: number): Mark => mark(id, seconds, { kind: 'adjustment', setting: setting(shutter) });
const reading = (id: string, fromS: number, toS: number, more: Partial<Reading> = {}): Reading => ({
  id,
  scope: 'gas',
  settled: true,
  fromMs: fromS * 1000,
  toMs: toS * 1000,
  takenMs: toS * 1000,
  final: true,
  channels: { o2: { mean: 5, sd: 0.05, n: 30, nEff: 10, u: 0.1 } },
  ...more,
});
const run = (parts: Partial<RunRecord>): RunRecord => ({
  runId: 'r',
  startWallMs: 1_000_000,
  startSetting: setting(7),
  marks: [],
  edits: [],
  readings: [],
  ...parts,
});

describe('trials from marks and readings', () => {
  const record = run({
    marks: [
      adjust('a', 100, 6),
      mark('s1', 180, { kind: 'smoke', spots: [{ number: 0 }] }),
      mark('d', 190, { kind: 'draft', overFirePa: -5, breechPa: -12 }),
      adjust('b', 200, 5),
      mark('n', 290, { kind: 'note', text: 'thump' }),
    ],
    readings: [reading('r1', 40, 80), reading('r2', 150, 180), reading('r3', 260, 300)],
  });

  it('gives one for each setting, the first for the setting as found', () => {
    const trials = trialsOf(record);
    expect(trials.map((trial) => [trial.setting.positions[0]!.value, trial.reading?.id])).toEqual([
      [7, 'r1'],
      [6, 'r2'],
      [5, 'r3'],
    ]);
    expect(trials[1]).toMatchObject({
      smoke: { spots: [{ number: 0 }] },
      draft: { overFirePa: -5, breechPa: -12 },
      fromMs: 100_000,
      toMs: 200_000,
      takenWallMs: 1_180_000,
    });
    expect(trials[2]!.notes).toEqual(['thump']);
    expect(trials[2]!.toMs).toBeUndefined();
  });
  it('moves a smoke spot to the other setting when its mark is moved', () => {
    const trials = trialsOf({ ...record, edits: [{ kind: 'moved', markId: 's1', timeMs: 210_000 }] });
    expect(trials[1]!.smoke).toBeUndefined();
    expect(trials[2]!.smoke).toEqual({ spots: [{ number: 0 }] });
  });
  it('joins two settings again when the mark between them is undone, and refuses a reading across a move', () => {
    const trials = trialsOf({ ...record, edits: [{ kind: 'undone', markId: 'b' }] });
    expect(trials.map((trial) => trial.setting.positions[0]!.value)).toEqual([7, 6]);
    const across = trialsOf({ ...record, readings: [reading('across', 180, 220)] });
    expect(across.every((trial) => trial.reading === undefined)).toBe(true);
  });
  it('prefers settled to unsettled, full to gas, later to earlier, and the last revision', () => {
    const pick = (readings: Reading[]) => trialsOf(run({ readings }))[0]!.reading!;
    expect(pick([reading('x', 10, 40), reading('y', 50, 80, { settled: false, scope: 'full' })]).id).toBe('x');
    expect(pick([reading('x', 10, 40, { scope: 'full' }), reading('y', 50, 80)]).id).toBe('x');
    expect(pick([reading('x', 10, 40), reading('y', 50, 80)]).id).toBe('y');
    expect(pick([reading('x', 10, 20), reading('x', 10, 50)]).toMs).toBe(50_000);
  });
  it('opens a trial at a change of oil pressure, not at reading the same again', () => {
    const pressed = trialsOf(
      run({
        startPumpPa: 690_000,
        marks: [mark('p', 100, { kind: 'pressure', pumpPa: 692_000 }), mark('q', 200, { kind: 'pressure', pumpPa: 965_000 })],
        readings: [reading('a', 20, 60), reading('b', 110, 150), reading('c', 210, 260)],
      }),
    );
    expect(pressed.map((trial) => [trial.pumpPa, trial.reading?.id])).toEqual([
      [692_000, 'b'],
      [965_000, 'c'],
    ]);
  });
  it('uses no reading from a pause', () => {
    const paused = run({
      marks: [mark('on', 30, { kind: 'pause', on: true }), mark('off', 100, { kind: 'pause', on: false })],
      readings: [reading('a', 40, 80), reading('b', 110, 140)],
    });
    expect(trialsOf(paused)[0]!.reading!.id).toBe('b');
    expect(trialsOf({ ...paused, readings: [reading('a', 40, 80)] })).toEqual([]);
  });
  it('keeps "not taken" and several spots', () => {
    const none = trialsOf(run({ marks: [mark('s', 50, { kind: 'smoke', spots: [], notTaken: true })] }));
    expect(none[0]!.smoke).toEqual({ spots: [], notTaken: true });
    const two = trialsOf(
      run({ marks: [mark('s', 50, { kind: 'smoke', spots: [{ number: 1 }] }), mark('t', 60, { kind: 'smoke', spots: [{ number: 2 }] })] }),
    );
    expect(two[0]!.smoke!.spots.map((spot) => spot.number)).toEqual([1, 2]);
  });
});
