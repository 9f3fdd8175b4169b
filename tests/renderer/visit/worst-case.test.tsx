// @vitest-environment happy-dom
/** The worst-case test: what each press writes, when it may be pressed, and which sentence leads. */
import { act, cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { WorstCaseTest } from '../../../renderer/views/visit/safety/WorstCaseTest.tsx';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import { LEAST_PHASE_MS, usualWorstRule, type PhaseFigures, type WorstCase } from '../../../shared/tuning/safety/venting.ts';
import { button, field, inWindow, oilVisit, press, rowsOf, typeInto } from '../helpers/in-window.tsx';
import { recordWith } from '../helpers/records.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

const simulator = { adjusters: [] } as unknown as RunInfo['simulator'];
const figure = (mean: number, half = 0.1) => ({ mean, half, seconds: 120 });
const off: PhaseFigures = { draftPa: figure(-6), roomCoPpm: figure(1), o2Percent: figure(5) };
const begun = (more: Partial<WorstCase> = {}): WorstCase => ({
  runId: 'run-1',
  startWallMs: 0,
  offFromMs: 10_000,
  rule: usualWorstRule,
  ...more,
});
type Trace = { nowMs: number; points: unknown[]; off?: PhaseFigures; on?: PhaseFigures };
/** The run is a minute old; the test has run for `forMs` since its last phase began. */
async function show(tests: WorstCase[], trace: Partial<Trace> = {}, info: Partial<RunInfo> | 'no run' = {}) {
  const venting = { checks: [], worstCases: tests };
  const visit = oilVisit({ venting });
  const runs = info === 'no run' ? {} : { 'run-1': recordWith({ timeMs: 60_000 }, info) };
  const made = inWindow(
    <WorstCaseTest venting={venting} list={<p>list</p>} />,
    { visit, runs, runId: 'run-1' },
    { 'visit.ventTrace': { nowMs: 60_000, points: [], ...trace } },
  );
  await act(() => vi.advanceTimersByTimeAsync(1));
  return made;
}
const says = (): string => document.body.textContent ?? '';
const isBlocked = (name: RegExp): boolean => button(name).disabled || button(name).getAttribute('aria-disabled') === 'true';
const lastOf = (edits: { after?: unknown }[]) => edits.at(-1)?.after as WorstCase;

describe('the worst case', () => {
  it('begins with the fans off: from the time of the run, by the usual rule, and with a mark', async () => {
    const { edits, marks } = await show([]);
    expect(says()).toContain('Every fan off, then begin.');
    press(/^Fans are off: begin/);
    expect(edits).toEqual([
      { path: ['venting', 'worstCases', 0], after: { runId: 'run-1', startWallMs: 5, offFromMs: 60_000, rule: usualWorstRule } },
    ]);
    expect(marks).toEqual([{ kind: 'note', text: 'Worst case: fans off' }]);
  });
  it('needs a run that measures: none, a stored one and one that has ended lead to the instrument', async () => {
    for (const info of ['no run', { replay: {} as NonNullable<RunInfo['replay']> }, { phase: 'ended' }] as const) {
      const { store, edits } = await show([], {}, info);
      expect(says()).toContain('Connect the instrument for the worst case.');
      press(/^Connect/);
      expect(store.getState().panel).toBe('source');
      expect(edits).toEqual([]);
      cleanup();
    }
  });
  it('the fans wait until the level without them is known for a minute', async () => {
    await show([begun()], { nowMs: 10_000 + LEAST_PHASE_MS - 1000, off });
    expect(says()).toContain('Fans off, measuring.');
    expect(isBlocked(/^Fans are on now/)).toBe(true);
    cleanup();
    const { edits, marks, asked } = await show([begun()], { nowMs: 10_000 + LEAST_PHASE_MS, off }, { simulator });
    expect(says()).toContain('The figures with the fans off are known.');
    press(/^Fans are on now/);
    expect(lastOf(edits)).toMatchObject({ offFromMs: 10_000, onFromMs: 70_000 });
    expect(edits.at(-1)?.path).toEqual(['venting', 'worstCases', 0]);
    expect(marks).toEqual([{ kind: 'note', text: 'Worst case: fans on' }]);
    expect(asked).toContainEqual({ name: 'simulator.part', input: { runId: 'run-1', part: 'roomDepressionPa', value: 6, overS: 20 } });
  });
  it('is saved with both levels and its end after a minute with the fans on, and the fans of the simulated house go off', async () => {
    const on: PhaseFigures = { draftPa: figure(-4), roomCoPpm: figure(1), o2Percent: figure(4.9) };
    const test = begun({ onFromMs: 70_000 });
    await show([test], { nowMs: 70_000 + LEAST_PHASE_MS - 1, off, on });
    expect(says()).toContain('Fans on, measuring.');
    expect(isBlocked(/^Save worst case/)).toBe(true);
    cleanup();
    const { edits, asked } = await show([test], { nowMs: 130_000.4, off, on }, { simulator });
    expect(says()).toContain('Worst case passes. Save it, then turn the fans off.');
    press(/^Save worst case/);
    expect(lastOf(edits)).toEqual({ ...test, off, on, toMs: 130_000, savedWallMs: 5 });
    expect(asked).toContainEqual({ name: 'simulator.part', input: { runId: 'run-1', part: 'roomDepressionPa', value: 0, overS: 20 } });
  });
  it('says that a chimney which loses its draft is not safe, and that a level at the limit is too close to call', async () => {
    const test = begun({ onFromMs: 70_000 });
    await show([test], { nowMs: 130_000, off, on: { ...off, draftPa: figure(-1) } });
    expect(says()).toContain('Worst case fails. Save it. Do not leave the burner running until its air supply is put right.');
    cleanup();
    await show([test], { nowMs: 130_000, off, on: { ...off, draftPa: figure(-2.6) } });
    expect(says()).toContain('Too close to call: measure some minutes more.');
    expect(screen.queryByRole('button', { name: /^Save worst case/ })).toBeNull();
    expect(button(/^Save as it is/)).toBeDefined();
  });
  it('what is saved is told with its hour and can be done again beside it', async () => {
    const saved = begun({
      onFromMs: 70_000,
      toMs: 130_000,
      off,
      on: off,
      savedWallMs: 36_000_000,
      house: 'hood',
      rule: { ...usualWorstRule, draftHighPa: -3 },
    });
    const { edits } = await show([saved]);
    expect(says()).toContain('Worst case saved at 10:00: passes.');
    expect(screen.queryByRole('button', { name: 'Stop without saving' })).toBeNull();
    press(/^Test again/);
    expect(edits.at(-1)?.path).toEqual(['venting', 'worstCases', 1]);
    expect(lastOf(edits)).toMatchObject({ house: 'hood', rule: { draftHighPa: -3 }, offFromMs: 60_000 });
    expect(lastOf(edits).savedWallMs).toBeUndefined();
  });
  it('one whose run has ended is begun again in its place', async () => {
    const { edits } = await show([begun({ runId: 'run-0' })]);
    expect(says()).toContain('The run has ended. Begin again with the burner running.');
    press(/^Fans are off: begin/);
    expect(edits.at(-1)?.path).toEqual(['venting', 'worstCases', 0]);
    expect(lastOf(edits).runId).toBe('run-1');
  });
  it('can be stopped without saving: only this one goes, and the fans go off', async () => {
    const saved = begun({ savedWallMs: 3 });
    const { edits, asked } = await show([saved, begun()], {}, { simulator });
    fireEvent.click(button('Stop without saving'));
    expect(edits).toEqual([{ path: ['venting', 'worstCases'], after: [saved] }]);
    expect(asked).toContainEqual({ name: 'simulator.part', input: { runId: 'run-1', part: 'roomDepressionPa', value: 0, overS: 20 } });
  });
  it('asks the host again every second while it runs, for this test only, and not once it has ended', async () => {
    const { asked } = await show([begun({ onFromMs: 70_000 })]);
    const traces = () => asked.filter(({ name }) => name === 'visit.ventTrace');
    expect(traces()[0]?.input).toEqual({ runId: 'run-1', fromMs: 10_000, onFromMs: 70_000 });
    await act(() => vi.advanceTimersByTimeAsync(3000));
    expect(traces()).toHaveLength(4);
    cleanup();
    await vi.advanceTimersByTimeAsync(3000);
    expect(traces()).toHaveLength(4);
    const later = await show([begun({ onFromMs: 70_000, toMs: 130_000, savedWallMs: 1 })]);
    await act(() => vi.advanceTimersByTimeAsync(3000));
    expect(later.asked.filter(({ name }) => name === 'visit.ventTrace')).toHaveLength(1);
  });
});

describe('figures and rule of the worst case', () => {
  it('the table has both levels, the change with its ±, the limit with its source, and the verdict', async () => {
    const on: PhaseFigures = { draftPa: figure(-4), roomCoPpm: figure(10), o2Percent: figure(4.95) };
    await show([begun({ onFromMs: 70_000 })], { nowMs: 130_000, off, on });
    const [draft, o2, room] = rowsOf('Worst case').slice(1);
    expect(draft?.slice(1, 3)).toEqual(['−0.024', '−0.016']);
    expect(draft?.at(-1)).toBe('pass');
    expect(o2?.[3]).toMatch(/^within ±0\.[12]/);
    expect(o2?.at(-1)).toBe('not judged');
    // "stays below 9" fails from 9 on
    expect(room?.slice(1, 3)).toEqual(['1', '10']);
    expect(room?.[3]).toMatch(/^9 ±1/);
    expect(room?.at(-1)).toBe('fail');
  });
  it('what is not sent is typed from the gauge, into the phase that is on; suction is negative', async () => {
    const sent: PhaseFigures = { o2Percent: figure(5) };
    const first = await show([begun()], { off: sent });
    typeInto('Draft, fans off, from the gauge', '-0.02');
    // 1 in w.c. is 249.089 Pa: NIST SP 811
    expect(lastOf(first.edits).off?.draftPa?.mean).toBeCloseTo(-0.02 * 249.089, 2);
    expect(lastOf(first.edits).off?.draftPa).toMatchObject({ half: 0, seconds: 0, typed: true });
    typeInto('Room CO, fans off, from the gauge', '3');
    expect(lastOf(first.edits).off?.roomCoPpm?.mean).toBe(3);
    cleanup();
    const typed = { draftPa: { mean: -5, half: 0, seconds: 0, typed: true } };
    const second = await show([begun({ onFromMs: 20_000, off: typed, on: typed })], { off: sent, on: sent });
    expect(screen.queryByLabelText(/fans off, from the gauge/)).toBeNull();
    typeInto('Draft, fans on, from the gauge', '');
    expect(lastOf(second.edits)).toMatchObject({ off: typed, on: {} });
    expect(lastOf(second.edits).on?.draftPa).toBeUndefined();
  });
  it('a limit of draft is suction however it is typed; one without a source says so', async () => {
    const { edits } = await show([begun()]);
    typeInto('Draft with the fans on, or stronger', '0.02');
    expect(lastOf(edits).rule.draftHighPa).toBeCloseTo(-0.02 * 249.089, 2);
    typeInto('Room CO stays below', '25');
    expect(lastOf(edits).rule.roomCoBelowPpm).toBe(25);
    typeInto('Room CO stays below', '');
    expect('roomCoBelowPpm' in lastOf(edits).rule).toBe(false);
    typeInto('Draft: source', 'card');
    expect(lastOf(edits).rule.draftSource).toBe('card');
    expect(says()).not.toContain('A limit needs its source.');
    cleanup();
    await show([begun({ rule: { ...usualWorstRule, draftSource: '' } })]);
    expect(says()).toContain('A limit needs its source.');
  });
  it('what was on is saved as it is typed, and taken away when it is emptied', async () => {
    const { edits } = await show([begun({ house: 'hood' })]);
    expect(field('Fans and doors for the test').value).toBe('hood');
    typeInto('Fans and doors for the test', 'hood, dryer');
    expect(lastOf(edits).house).toBe('hood, dryer');
    typeInto('Fans and doors for the test', '');
    expect('house' in lastOf(edits)).toBe(false);
  });
});
