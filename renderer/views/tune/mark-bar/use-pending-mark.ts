/**
 * An adjustment between the first press and the moment it is kept. The mark's time is the first press, its value what stands after
 * three seconds or Enter. Digits type a position; it waits for Enter then, because nobody types at the pace of a timer.
 */
import { useCallback, useEffect, useRef, useState } from 'react';
import type { Setting } from '../../../../shared/measurement/mark.ts';
import type { Adjuster } from '../../../../shared/tuning/trial/adjuster.ts';
import { roundToStep, withPosition } from '../../../../shared/tuning/trial/setting.ts';
import { parseTypedNumber } from '../../../../shared/units/parse-number.ts';
import { common } from '../../../../shared/words/common.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { useParts } from '../../../app-parts.ts';
import { adjustersOf, selectRun, settingNow, type StepperAdjuster } from '../../../state/selectors.ts';
import type { AppState } from '../../../state/store.ts';
import { formatPosition } from '../../../../shared/format/quantity.ts';
import { defined } from '../../../../shared/defined.ts';

export type PendingMark = { name: string; text: string; firstMs: number; typed: boolean; error: string | undefined };
export type PendingDeeds = {
  pending: PendingMark | undefined;
  adjusters: readonly StepperAdjuster[];
  step: (name: string, direction: 1 | -1) => void;
  type: (name: string, digit: string) => void;
  erase: () => void;
  commit: () => void;
  cancel: () => void;
};

const KEEP_AFTER_MS = 3000;
const asAdjuster = ({ name, min, max, step }: StepperAdjuster): Adjuster => ({
  name,
  step,
  unit: '',
  role: 'fine',
  kind: 'air',
  ...defined({ min, max }),
});

/** What is typed, as a position on its adjuster's scale; or why it is none. */
function readPosition(
  state: AppState,
  { name, text }: Pick<PendingMark, 'name' | 'text'>,
): { adjuster: StepperAdjuster; position: number } | { error: string } {
  const adjuster = adjustersOf(state).find((one) => one.name === name);
  const parsed = parseTypedNumber(text);
  if (adjuster === undefined || !parsed.ok) return { error: common.fieldErrors.notANumber };
  const { min, max } = adjuster;
  if ((min !== undefined && parsed.value < min) || (max !== undefined && parsed.value > max))
    return { error: common.fieldErrors.outside(formatPosition(min ?? 0), formatPosition(max ?? parsed.value)) };
  return { adjuster, position: parsed.value };
}

/** What could not be read when the person went elsewhere, with why. */
function heldOf(state: AppState): PendingMark | undefined {
  const held = state.markHeld;
  if (held === undefined || held.runId !== state.runId) return undefined;
  const read = readPosition(state, held);
  return { ...held, typed: true, error: 'error' in read ? read.error : undefined };
}

export function usePendingMark(): PendingDeeds {
  const { store, actions, buffers, sounds } = useParts();
  const [pending, setPending] = useState<PendingMark | undefined>(() => heldOf(store.getState()));
  const latest = useRef(pending);
  const change = useCallback((next: PendingMark | undefined): void => {
    latest.current = next;
    setPending(next);
  }, []);

  const record = selectRun(store.getState());
  const adjusters = adjustersOf(store.getState());
  const find = (name: string): StepperAdjuster | undefined => adjusters.find((one) => one.name === name);
  const nowMs = (): number => (record === undefined ? 0 : buffers.of(record.info.runId).nowMs());

  const commit = useCallback((): void => {
    const current = latest.current;
    const run = selectRun(store.getState());
    if (current === undefined || run === undefined) return;
    const read = readPosition(store.getState(), current);
    if ('error' in read) return change({ ...current, typed: true, error: read.error });
    const { adjuster, position } = read;
    const known: Setting = settingNow(store.getState()) ?? {
      stage: '1',
      positions: adjustersOf(store.getState()).flatMap(({ name, value }) => (value === undefined ? [] : [{ name, value }])),
    };
    change(undefined);
    void actions
      .mark(
        { kind: 'adjustment', setting: withPosition(known, adjuster.name, position) },
        { timeMs: current.firstMs, setsSimulator: run.info.simulator !== undefined },
      )
      .then((mark) => {
        if (mark === undefined) return;
        sounds.play('mark');
        store.getState().saidChanged(live.marked(`${adjuster.name.toLowerCase()} ${formatPosition(position)}`));
      });
  }, [actions, change, sounds, store]);

  useEffect(() => {
    if (pending === undefined || pending.typed) return undefined;
    const timer = setTimeout(commit, KEEP_AFTER_MS);
    return () => clearTimeout(timer);
  }, [pending, commit]);

  // the shutter was turned, whatever screen is opened before Enter or the three seconds: what can be read is marked, and what cannot waits here
  useEffect(() => {
    const { runId } = store.getState();
    const leave = (): void => {
      const current = latest.current;
      const isHere = current !== undefined && runId !== undefined && store.getState().runId === runId;
      const isRead = isHere && !('error' in readPosition(store.getState(), current));
      if (isRead) commit();
      const held = isHere && !isRead ? { runId, name: current.name, text: current.text, firstMs: current.firstMs } : undefined;
      store.getState().markWaits(held);
    };
    addEventListener('pagehide', leave);
    return () => {
      removeEventListener('pagehide', leave);
      leave();
    };
  }, [commit, store]);

  /** Turning to another adjuster keeps what the first one stands at. */
  const begin = (name: string): PendingMark | undefined => {
    if (latest.current !== undefined && latest.current.name !== name) commit();
    return latest.current?.name === name ? latest.current : undefined;
  };

  return {
    pending,
    adjusters,
    step(name, direction) {
      const adjuster = find(name);
      if (adjuster === undefined) return;
      const before = begin(name);
      const parsed = before === undefined ? undefined : parseTypedNumber(before.text);
      const from = parsed?.ok === true ? parsed.value : adjuster.value;
      const value = from === undefined ? (adjuster.min ?? 0) : roundToStep(asAdjuster(adjuster), from + direction * adjuster.step);
      change({ name, text: String(value), firstMs: before?.firstMs ?? nowMs(), typed: false, error: undefined });
    },
    type(name, digit) {
      const before = begin(name);
      const text = before?.typed === true ? before.text + digit : digit;
      change({ name, text: text.slice(0, 8), firstMs: before?.firstMs ?? nowMs(), typed: true, error: undefined });
    },
    erase() {
      const before = latest.current;
      if (before === undefined) return;
      const text = before.text.slice(0, -1);
      change(text === '' ? undefined : { ...before, text, typed: true, error: undefined });
    },
    commit,
    cancel: () => change(undefined),
  };
}
