/** Thin React shell around the trend: keys, pointer and wheel move its window; points never pass through React. */
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { RunInfo } from '../../../../shared/ipc/run-info.ts';
import { common } from '../../../../shared/words/common.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { createLiveChart, type LiveChart } from '../../../charts/create-live-chart.ts';
import type { TrendContent } from '../../../charts/trend-content.ts';
import { panned, towardsMark, windowAtRest, zoomed, type TrendWindow } from '../../../charts/trend-window.ts';
import { Key } from '../../../components/Key.tsx';
import { useKey } from '../../../keys/use-key.ts';
import { selectUnits } from '../../../state/selectors.ts';
import { weightOf } from './trend-content-of.ts';
import { useTrendPointer } from './use-trend-pointer.ts';
import { formatClock } from '../../../../shared/format/duration.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import '../tune.css';

type Props = {
  info: RunInfo;
  content: TrendContent;
  summary: string;
  /** what it shows until the person moves it; at rest it follows */
  begin?: TrendWindow | undefined;
};

/** how long states take from a batch to the screen, at most */
const STATES_MS = 60;

export function LiveTrend({ info, content, summary, begin }: Props) {
  const { buffers, frames } = useParts();
  const units = useApp(selectUnits);
  const theme = useApp((state) => state.settings.theme);
  const canvasRef = useRef<HTMLCanvasElement>(null);
  const chartRef = useRef<LiveChart | undefined>(undefined);
  // undefined: at rest, following; the window at rest grows with a young run
  const [chosen, setChosen] = useState(begin);
  const run = buffers.of(info.runId);
  const { zoneMinutes, startWallMs } = info;

  const timeText = useCallback(
    (ms: number, following: boolean): string => {
      if (!following) return formatClock(startWallMs + ms, zoneMinutes, ms % 60_000 === 0 ? 'minutes' : 'seconds');
      const { ago, ahead, min, now } = live.trend;
      if (ms === 0) return now;
      const minutes = min(formatNumber(Math.abs(ms) / 60_000, Number.isInteger(ms / 60_000) ? 0 : 1));
      return ms < 0 ? ago(minutes) : ahead(minutes);
    },
    [startWallMs, zoneMinutes],
  );

  const drawRef = useRef<() => void>(() => undefined);
  const soon = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  useEffect(() => {
    clearTimeout(soon.current);
    soon.current = undefined;
    drawRef.current = () => chartRef.current?.draw({ buffers: run, content, window: chosen ?? windowAtRest(run.nowMs()), units, timeText });
    drawRef.current();
  }, [run, content, chosen, units, timeText]);

  const channels = content.strips.map(({ channel }) => channel).join(' ');
  const strips = useMemo(
    () =>
      channels
        .split(' ')
        .filter((name) => name !== '')
        .map((name) => ({
          channel: name as TrendContent['strips'][number]['channel'],
          weight: weightOf(name as TrendContent['strips'][number]['channel']),
        })),
    [channels],
  );
  useEffect(() => {
    const canvas = canvasRef.current;
    if (canvas === null || strips.length === 0) return undefined;
    const chart = createLiveChart(canvas, strips);
    chartRef.current = chart;
    // a batch mostly brings new states with it: what is drawn for those draws its points as well, and nothing twice
    const draw = (): void =>
      void (soon.current ??= setTimeout(() => {
        soon.current = undefined;
        drawRef.current();
      }, STATES_MS));
    const stop = frames.onFrame(draw);
    const sizes = new ResizeObserver(() => frames.request());
    sizes.observe(canvas.parentElement ?? canvas);
    void document.fonts.ready.then(() => chartRef.current?.themeChanged());
    return () => {
      stop();
      clearTimeout(soon.current);
      soon.current = undefined;
      sizes.disconnect();
      chart.destroy();
      chartRef.current = undefined;
    };
  }, [strips, frames]);
  useEffect(() => {
    // the page's colours change after this render
    const frame = requestAnimationFrame(() => chartRef.current?.themeChanged());
    const system = matchMedia('(prefers-color-scheme: light)');
    const turn = (): void => void requestAnimationFrame(() => chartRef.current?.themeChanged());
    system.addEventListener('change', turn);
    return () => {
      cancelAnimationFrame(frame);
      system.removeEventListener('change', turn);
    };
  }, [theme]);

  const move = useCallback(
    (next: (window: TrendWindow, nowMs: number) => TrendWindow): void => {
      setChosen((current) => next(current ?? windowAtRest(run.nowMs()), run.nowMs()));
    },
    [run],
  );
  const follow = (): void => setChosen(undefined);
  useKey('panLeft', () => move((window, now) => panned(window, now, -0.25)));
  useKey('panRight', () => move((window, now) => panned(window, now, 0.25)));
  useKey('zoomIn', () => move((window, now) => zoomed(window, now, 0.5)));
  useKey('zoomOut', () => move((window, now) => zoomed(window, now, 2)));
  useKey('marks', () =>
    move((window, now) =>
      towardsMark(
        window,
        now,
        content.marks.map(({ timeMs }) => timeMs),
      ),
    ),
  );
  useKey('follow', follow);
  useTrendPointer(canvasRef, chartRef, move);

  const isFixed = chosen?.kind === 'fixed';
  return (
    <div className="trend">
      <canvas ref={canvasRef} role="img" aria-label={`${live.trend.label}. ${summary} ${live.trend.help}`} />
      {isFixed && (
        <div className="follow">
          <button type="button" className="button" onClick={follow} title={common.keyOf('End')}>
            {live.trend.follow} <Key action="follow" />
          </button>
        </div>
      )}
    </div>
  );
}
