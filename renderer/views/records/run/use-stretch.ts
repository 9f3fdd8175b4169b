import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { History, ReadProgress } from '../../../../shared/ipc/run-documents.ts';
import { useParts } from '../../../app-parts.ts';
import { spanOf, type TrendWindow } from '../../../charts/trend-window.ts';
import { channelsOf, storedContent } from './stored-points.ts';

const BUCKETS = 3000;
/** a pause in the movement before finer points are asked for; until then those that are here are drawn */
const CALM_MS = 50;
/** while the run is being read: often enough to see it grow, seldom enough not to slow it down */
const AGAIN_MS = 500;

/** `base`: the whole run, coarse; drawn where the finer points have not come yet */
export type Fetched = {
  base: History;
  history: History;
  channels: ReturnType<typeof channelsOf>;
  content: ReturnType<typeof storedContent>;
  version: number;
  /** the run is still being read; what is here is what there is of it */
  progress: ReadProgress | undefined;
};

export function bestOf({ base, history }: Fetched, view: TrendWindow, durationMs: number): History {
  const { fromMs, toMs } = spanOf(view, durationMs);
  return history.fromMs <= Math.max(0, fromMs) && history.toMs >= Math.min(durationMs, toMs) ? history : base;
}

/** The stretch in view, and its points: of three widths, so that a pan finds some at once. */
export function useStretch(runId: string, durationMs: number) {
  const { client } = useParts();
  const wholeMs = Math.max(1000, durationMs);
  const whole = useMemo((): TrendWindow => ({ kind: 'fixed', fromMs: 0, toMs: wholeMs }), [wholeMs]);
  const [view, setView] = useState<TrendWindow>(whole);
  const [state, setState] = useState<Fetched | 'none'>();
  const version = useRef(0);
  const wasPartial = useRef(false);
  const { fromMs, toMs } = spanOf(view, durationMs);

  const take = useCallback(
    (history: History | undefined, isWhole: boolean): void => {
      version.current += 1;
      wasPartial.current ||= history?.progress !== undefined;
      setState((before) => {
        const { progress } = history ?? {};
        if (history === undefined) return typeof before === 'object' ? before : 'none';
        const known = typeof before === 'object' ? before : undefined;
        const base = isWhole || known === undefined ? history : known.base;
        const found = channelsOf(base);
        // a channel that is in the whole run keeps its strip where a stretch has none of it
        const channels = found.length === 0 ? channelsOf(history) : found;
        if (channels.length === 0 && progress === undefined) return 'none';
        return { base, history, channels, content: storedContent(history, channels, durationMs), version: version.current, progress };
      });
    },
    [durationMs],
  );
  const stage = typeof state === 'object' ? (state.progress?.stage ?? 'done') : undefined;
  useEffect(() => {
    let isHere = true;
    const width = toMs - fromMs;
    const stretch = { fromMs: Math.max(0, fromMs - width), toMs: Math.min(wholeMs, toMs + width) };
    const isWhole = stretch.fromMs === 0 && stretch.toMs === wholeMs;
    let timer = setTimeout(function ask() {
      if (stretch.toMs <= stretch.fromMs) return;
      void client.call('run.history', { runId, ...stretch, buckets: BUCKETS, partly: true }).then((made) => {
        if (!isHere) return;
        take(made.ok ? made.value : undefined, isWhole);
        if (made.ok && made.value.progress !== undefined) timer = setTimeout(ask, AGAIN_MS);
      });
    }, CALM_MS);
    return () => {
      isHere = false;
      clearTimeout(timer);
    };
  }, [client, runId, fromMs, toMs, wholeMs, take]);

  // looked at closely while it was read: the whole run, which was fetched before, is then longer than it was
  useEffect(() => {
    if (!wasPartial.current || stage === 'curves') return undefined;
    let isHere = true;
    void client.call('run.history', { runId, fromMs: 0, toMs: wholeMs, buckets: BUCKETS, partly: true }).then((made) => {
      if (!isHere || !made.ok) return;
      const base = made.value;
      setState((before) => (typeof before === 'object' ? { ...before, base, channels: channelsOf(base) } : before));
    });
    return () => {
      isHere = false;
    };
  }, [client, runId, wholeMs, stage]);

  const move = useCallback(
    (next: (window: TrendWindow, nowMs: number) => TrendWindow): void =>
      setView((current) => {
        const { fromMs: from, toMs: to } = spanOf(next(current, durationMs), durationMs);
        // never further out than the run, nor beyond its ends
        const size = Math.min(to - from, wholeMs);
        const start = Math.max(0, Math.min(from, durationMs - size));
        return { kind: 'fixed', fromMs: start, toMs: start + size };
      }),
    [durationMs, wholeMs],
  );
  return { whole, state, view, move, setView };
}
