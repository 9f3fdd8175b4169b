import { useCallback, useEffect, useRef } from 'react';
import { formatClock } from '../../../../shared/format/duration.ts';
import { shownAs } from '../../../../shared/format/quantity.ts';
import { quantities } from '../../../../shared/units/quantities.ts';
import { useApp } from '../../../app-parts.ts';
import { createLiveChart, type LiveChart } from '../../../charts/create-live-chart.ts';
import type { TrendWindow } from '../../../charts/trend-window.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { weightOf } from '../../tune/trend/trend-content-of.ts';
import { useTrendPointer } from '../../tune/trend/use-trend-pointer.ts';
import { storedPoints } from './stored-points.ts';
import { bestOf, type Fetched } from './use-stretch.ts';
import './run.css';

/** The strips of a stored run: drawn from what was fetched, moved by mouse and fingers. */
export function RunTrend({
  fetched,
  view,
  move,
  label,
  durationMs,
  startWallMs,
  zoneMinutes,
}: {
  fetched: Fetched;
  view: TrendWindow;
  move: (next: (window: TrendWindow, nowMs: number) => TrendWindow) => void;
  label: string;
  durationMs: number;
  startWallMs: number;
  zoneMinutes: number;
}) {
  const units = useApp((app) => app.settings.units);
  const theme = useApp((app) => app.settings.theme);
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<LiveChart | undefined>(undefined);
  const strips = fetched.channels.join(' ');

  const timeText = useCallback(
    (ms: number): string => formatClock(startWallMs + ms, zoneMinutes, ms % 60_000 === 0 ? 'minutes' : 'seconds'),
    [startWallMs, zoneMinutes],
  );
  const draw = useRef<() => void>(() => undefined);
  useEffect(() => {
    draw.current = () =>
      chart.current?.draw({
        buffers: storedPoints(bestOf(fetched, view, durationMs), fetched.version, durationMs),
        content: fetched.content,
        window: view,
        units,
        timeText,
      });
    // a wheel turns several times within one frame; one picture of it is enough
    const frame = requestAnimationFrame(() => draw.current());
    return () => cancelAnimationFrame(frame);
  }, [fetched, view, units, timeText, durationMs]);
  useEffect(() => {
    if (canvas.current === null) return undefined;
    const made = createLiveChart(
      canvas.current,
      strips.split(' ').map((name) => {
        const channel = name as Parameters<typeof weightOf>[0];
        return { channel, weight: weightOf(channel) };
      }),
    );
    chart.current = made;
    const sizes = new ResizeObserver(() => draw.current());
    sizes.observe(canvas.current.parentElement ?? canvas.current);
    void document.fonts.ready.then(() => made.themeChanged());
    draw.current();
    return () => {
      sizes.disconnect();
      made.destroy();
      chart.current = undefined;
    };
  }, [strips]);
  useEffect(() => {
    const frame = requestAnimationFrame(() => chart.current?.themeChanged());
    return () => cancelAnimationFrame(frame);
  }, [theme]);
  useTrendPointer(canvas, chart, move);

  return (
    <div className="run-strips">
      <div className="run-names" aria-hidden="true">
        {fetched.channels.map((channel) => (
          <span key={channel} style={{ flexGrow: weightOf(channel) }}>
            <b>
              <ChannelName text={quantities[channel].label} />
            </b>
            <span className="second">{shownAs(channel, units).unit}</span>
          </span>
        ))}
      </div>
      <div className="trend run-trend">
        <canvas ref={canvas} role="img" aria-label={label} />
      </div>
    </div>
  );
}
