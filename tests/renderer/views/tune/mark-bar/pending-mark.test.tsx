// @vitest-environment happy-dom
/** An adjustment between the first press and its mark: what is pressed, what waits, what is marked and when, and what is refused. */
import { act, cleanup, renderHook } from '@testing-library/react';
import type { ReactNode } from 'react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../../../renderer/app-parts.ts';
import { createAppStore } from '../../../../../renderer/state/store.ts';
import { usePendingMark } from '../../../../../renderer/views/tune/mark-bar/use-pending-mark.ts';
import type { MarkBody } from '../../../../../shared/measurement/mark.ts';
import { numberedTrials, type RunFacts } from '../../../../../shared/tuning/visit/visit-session.ts';
import { oilVisit } from '../../../helpers/in-window.tsx';
import { recordWith } from '../../../helpers/records.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

const facts: RunFacts = { runId: 'run-1', startWallMs: 0, source: 'port', ended: false, marks: [], readings: [] };
const adjuster = (name: string) => ({ name, unit: '', min: 0, max: 10, step: 0.25, role: 'fine', kind: 'air' }) as const;
function begin(hasRun = true, { isMarked = true } = {}) {
  const store = createAppStore();
  const visit = oilVisit({ adjusters: [adjuster('Shutter'), adjuster('Band')] });
  const setting = {
    stage: '1',
    positions: [
      { name: 'Shutter', value: 5 },
      { name: 'Band', value: 2 },
    ],
  };
  store.setState({
    visit,
    settings: { ...store.getState().settings, adjusters: visit.adjusters.map((one) => ({ ...one, coarse: false })) },
    ...(hasRun && { runs: { 'run-1': recordWith({}, isMarked ? { setting } : {}) }, runId: 'run-1' }),
    // nobody marked anything yet: the host knows where the adjusters stood as found
    ...(!isMarked && { trials: { 'run-1': numberedTrials({ ...facts, startSetting: { ...setting, stage: '2' } }) } }),
  });
  const marks: { body: MarkBody; where: unknown }[] = [];
  const played: string[] = [];
  let nowMs = 70_000;
  const parts = {
    store,
    buffers: { of: () => ({ nowMs: () => nowMs }) },
    sounds: { play: (name: string) => void played.push(name) },
    actions: {
      mark: (body: MarkBody, where: unknown) => {
        marks.push({ body, where });
        return Promise.resolve({ id: 'm' });
      },
    },
  } as unknown as AppParts;
  const mount = () =>
    renderHook(() => usePendingMark(), {
      wrapper: ({ children }: { children: ReactNode }) => <AppContext value={parts}>{children}</AppContext>,
    });
  const { result, unmount } = mount();
  return {
    marks,
    played,
    store,
    later: (ms: number) => (nowMs += ms),
    pending: () => result.current.pending,
    hands: () => result.current,
    do: (deed: (hands: ReturnType<typeof usePendingMark>) => void) => act(() => deed(result.current)),
    leave: () => act(unmount),
    comeBack: () => mount().result.current,
    wait: (ms: number) => act(() => vi.advanceTimersByTimeAsync(ms)),
  };
}
const positions = ({ body }: { body: MarkBody }) => (body.kind === 'adjustment' ? body.setting.positions : undefined);

describe('presses of more and less', () => {
  it('go in steps of the adjuster from where it is, and are marked at the time of the first press once they rest', async () => {
    const hand = begin();
    hand.do(({ step }) => step('Shutter', -1));
    expect(hand.pending()).toMatchObject({ name: 'Shutter', text: '4.75', firstMs: 70_000, typed: false });
    hand.later(2000);
    await hand.wait(2000);
    hand.do(({ step }) => step('Shutter', -1));
    await hand.wait(2999);
    expect(hand.marks).toEqual([]);
    await hand.wait(1);
    expect(hand.marks).toHaveLength(1);
    expect(positions(hand.marks[0]!)).toEqual([
      { name: 'Shutter', value: 4.5 },
      { name: 'Band', value: 2 },
    ]);
    expect(hand.marks[0]?.where).toEqual({ timeMs: 70_000, setsSimulator: false });
    expect(hand.pending()).toBeUndefined();
    expect(hand.played).toEqual(['mark']);
    expect(hand.store.getState().said).toContain('shutter 4.5');
  });
  it('of the first adjuster that is moved go on from as found, and leave the other one and the stage where they were', async () => {
    const hand = begin(true, { isMarked: false });
    hand.do(({ step }) => step('Shutter', -1));
    expect(hand.pending()).toMatchObject({ text: '4.75' });
    await hand.wait(3000);
    expect(hand.marks[0]?.body).toEqual({
      kind: 'adjustment',
      setting: {
        stage: '2',
        positions: [
          { name: 'Shutter', value: 4.75 },
          { name: 'Band', value: 2 },
        ],
      },
    });
  });
  it('of another adjuster mark the first one at once', () => {
    const hand = begin();
    hand.do(({ step }) => step('Shutter', 1));
    hand.do(({ step }) => step('Band', -1));
    expect(positions(hand.marks[0]!)?.[0]).toEqual({ name: 'Shutter', value: 5.25 });
    expect(hand.pending()).toMatchObject({ name: 'Band', text: '1.75' });
  });
  it.each([
    ['another screen is opened', (hand: ReturnType<typeof begin>) => hand.leave()],
    ['the window goes', () => void dispatchEvent(new Event('pagehide'))],
  ])('are marked once, at the time of the first, when %s before they rest', async (_, go) => {
    const hand = begin();
    hand.do(({ step }) => step('Shutter', -1));
    hand.later(2000);
    go(hand);
    expect(positions(hand.marks[0]!)?.[0]).toEqual({ name: 'Shutter', value: 4.75 });
    expect(hand.marks[0]?.where).toEqual({ timeMs: 70_000, setsSimulator: false });
    await hand.wait(10_000);
    hand.leave();
    expect(hand.marks).toHaveLength(1);
  });
  it('of a run that is not on screen any more are never marks of another run', () => {
    const hand = begin();
    hand.do(({ step }) => step('Shutter', -1));
    hand.store.setState((state) => ({ runs: { ...state.runs, 'run-2': state.runs['run-1']! }, runId: 'run-2' }));
    hand.leave();
    expect(hand.marks).toEqual([]);
  });
  it('of an adjuster that is not there do nothing; nor does anything without a run', () => {
    const hand = begin();
    hand.do(({ step }) => step('Head', 1));
    expect(hand.pending()).toBeUndefined();
    const alone = begin(false);
    alone.do(({ step }) => step('Shutter', 1));
    expect(alone.hands().adjusters).toEqual([]);
    expect(alone.pending()).toBeUndefined();
  });
});

describe('digits', () => {
  it('are one figure, wait for Enter however long it takes, and are marked as it then is', async () => {
    const hand = begin();
    for (const digit of ['3', '.', '5']) hand.do(({ type }) => type('Shutter', digit));
    expect(hand.pending()).toMatchObject({ text: '3.5', typed: true });
    await hand.wait(60_000);
    expect(hand.marks).toEqual([]);
    hand.do(({ commit }) => commit());
    expect(positions(hand.marks[0]!)?.[0]).toEqual({ name: 'Shutter', value: 3.5 });
  });
  it('that can be read are a mark when another screen is opened: the shutter was turned, with Enter or without', () => {
    const hand = begin();
    for (const digit of ['3', '.', '5']) hand.do(({ type }) => type('Shutter', digit));
    hand.later(9000);
    hand.leave();
    expect(positions(hand.marks[0]!)?.[0]).toEqual({ name: 'Shutter', value: 3.5 });
    expect(hand.marks[0]?.where).toEqual({ timeMs: 70_000, setsSimulator: false });
    expect(hand.marks).toHaveLength(1);
    expect(hand.comeBack().pending).toBeUndefined();
  });
  it.each(['12', '-'])('that cannot be read, %s, are there with the reason when the person comes back, and only in their run', (text) => {
    const hand = begin();
    for (const digit of text) hand.do(({ type }) => type('Shutter', digit));
    hand.leave();
    expect(hand.marks).toEqual([]);
    expect(hand.comeBack().pending).toMatchObject({ name: 'Shutter', text, firstMs: 70_000, error: expect.stringMatching(/./) as string });
    hand.store.setState((state) => ({ runs: { ...state.runs, 'run-2': state.runs['run-1']! }, runId: 'run-2' }));
    expect(hand.comeBack().pending).toBeUndefined();
  });
  it('begin anew after presses, and are at most eight', () => {
    const hand = begin();
    hand.do(({ step }) => step('Shutter', 1));
    hand.do(({ type }) => type('Shutter', '4'));
    expect(hand.pending()).toMatchObject({ text: '4', typed: true });
    for (const digit of '567890123') hand.do(({ type }) => type('Shutter', digit));
    expect(hand.pending()?.text).toBe('45678901');
  });
  it('are taken back one by one; with the last one nothing waits', async () => {
    const hand = begin();
    hand.do(({ type }) => type('Shutter', '4'));
    hand.do(({ type }) => type('Shutter', '2'));
    hand.do(({ erase }) => erase());
    expect(hand.pending()?.text).toBe('4');
    hand.do(({ erase }) => erase());
    expect(hand.pending()).toBeUndefined();
    hand.do(({ erase }) => erase());
    await hand.wait(5000);
    expect(hand.marks).toEqual([]);
  });
  it('outside the scale, or no number, are refused with the reason and stay; both ends are inside', () => {
    for (const [text, isIn] of [
      ['10.25', false],
      ['10', true],
      ['0', true],
      ['-1', false],
      ['..', false],
    ] as const) {
      const hand = begin();
      for (const digit of text) hand.do(({ type }) => type('Shutter', digit));
      hand.do(({ commit }) => commit());
      expect(hand.marks).toHaveLength(isIn ? 1 : 0);
      if (!isIn) expect(hand.pending()).toMatchObject({ text, error: expect.stringMatching(/./) as string });
    }
  });
  it('are gone with Escape, and nothing is marked', async () => {
    const hand = begin();
    hand.do(({ step }) => step('Shutter', 1));
    hand.do(({ cancel }) => cancel());
    await hand.wait(5000);
    expect(hand.pending()).toBeUndefined();
    expect(hand.marks).toEqual([]);
  });
});
