import { describe, expect, it } from 'vitest';
import { tightenings, trialsWithTightening } from '../../../../shared/tuning/trial/tightened.ts';
import type { Mark } from '../../../../shared/measurement/mark.ts';
import type { Reading } from '../../../../shared/measurement/state.ts';
import { trialsOf } from '../../../../shared/tuning/trial/trials.ts';

const at = (minutes: number): number => minutes * 60_000;
const setting = (shutter: number) => ({ stage: '1', positions: [{ name: 'shutter', value: shutter }] });
const adjust = (id: string, minutes: number, shutter: number): Mark => ({
  id,
  timeMs: at(minutes),
  body: { kind: 'adjustment', setting: setting(shutter) },
});
const smoke = (id: string, minutes: number, number: number): Mark => ({
  id,
  timeMs: at(minutes),
  body: { kind: 'smoke', spots: [{ number }] },
});
const reading = (id: string, fromMinutes: number, toMinutes: number, o2: number): Reading => ({
  id,
  scope: 'full',
  settled: true,
  fromMs: at(fromMinutes),
  toMs: at(toMinutes),
  takenMs: at(toMinutes),
  final: true,
  channels: { o2: { mean: o2, sd: 0.05, n: 60, nEff: 20, u: 0.15 } },
});
const run = (marks: Mark[], readings: Reading[]) => ({
  runId: 'run',
  startWallMs: 1_000_000,
  startSetting: setting(7),
  marks,
  edits: [],
  readings,
});

describe('the check after tightening', () => {
  const plain = run([adjust('a', 5, 4), smoke('s', 8, 0)], [reading('r1', 2, 4, 7.8), reading('r2', 7, 9, 4.7)]);

  it('changes nothing while no setting was marked again unchanged', () => {
    expect(trialsWithTightening(plain)).toEqual(trialsOf(plain));
  });

  it('is a trial of its own: the reading before stays with the setting, the one after is compared with it', () => {
    const tight = { ...plain, marks: [...plain.marks, adjust('t', 10, 4)], readings: [...plain.readings, reading('r3', 12, 14, 4.9)] };
    expect(tightenings(tight).map(({ mark }) => mark.id)).toEqual(['t']);
    const trials = trialsWithTightening(tight);
    expect(trials.map(({ id, reading: read }) => [id, read?.id])).toEqual([
      ['run:start', 'r1'],
      ['run:a', 'r2'],
      ['run:t', 'r3'],
    ]);
    expect(trials[1]?.toMs).toBe(at(10));
    expect(trials[2]?.toMs).toBeUndefined();
    expect(trials[2]?.setting).toEqual(setting(4));
    expect(trials[1]?.smoke?.spots).toEqual([{ number: 0 }]);
    expect(trials[2]?.smoke).toBeUndefined();
  });

  it('gives no trial as long as nothing was read after it, and ends where the next setting begins', () => {
    const waiting = { ...plain, marks: [...plain.marks, adjust('t', 10, 4)] };
    expect(trialsWithTightening(waiting).map(({ id }) => id)).toEqual(['run:start', 'run:a']);
    const moved = {
      ...plain,
      marks: [...plain.marks, adjust('t', 10, 4), smoke('after', 13, 0.5), adjust('b', 15, 5)],
      readings: [...plain.readings, reading('r3', 12, 14, 4.9), reading('r4', 17, 19, 5.6)],
    };
    const trials = trialsWithTightening(moved);
    expect(trials.map(({ id, reading: read }) => [id, read?.id])).toEqual([
      ['run:start', 'r1'],
      ['run:a', 'r2'],
      ['run:t', 'r3'],
      ['run:b', 'r4'],
    ]);
    expect(trials[2]).toMatchObject({ fromMs: at(10), toMs: at(15), smoke: { spots: [{ number: 0.5 }] } });
  });

  it('keeps what was read and pumped after it when something is changed then: each part is a trial of its own', () => {
    const changed = {
      ...plain,
      marks: [...plain.marks, adjust('t', 10, 4), smoke('oily', 15, 1), smoke('later', 25, 0)],
      readings: [...plain.readings, reading('r3', 12, 14, 4.9), reading('r4', 22, 24, 5.1)],
      changedAtMs: [at(20)],
    };
    for (const running of [false, true])
      expect(
        trialsWithTightening(changed, { running }).map(({ id, reading: read, smoke: spots }) => [id, read?.id, spots?.spots[0]?.number]),
      ).toEqual([
        ['run:start', 'r1', undefined],
        ['run:a', 'r2', 0],
        ['run:t', 'r3', 1],
        [`run:changed-${at(20)}`, 'r4', 0],
      ]);
    const trials = trialsWithTightening(changed);
    expect(trials.map(({ fromMs, toMs }) => [fromMs, toMs]).slice(2)).toEqual([
      [at(10), at(20)],
      [at(20), undefined],
    ]);
  });
});
