import { useEffect, type RefObject } from 'react';
import type { LiveChart } from '../../../charts/create-live-chart.ts';
import { panned, zoomed, type TrendWindow } from '../../../charts/trend-window.ts';

type Move = (next: (window: TrendWindow, nowMs: number) => TrendWindow) => void;

/** Drag pans, two fingers or the wheel zoom around where they are. */
export function useTrendPointer(
  canvasRef: RefObject<HTMLCanvasElement | null>,
  chartRef: RefObject<LiveChart | undefined>,
  move: Move,
): void {
  useEffect(() => {
    const canvas = canvasRef.current;
    if (canvas === null) return undefined;
    const fingers = new Map<number, number>();
    const spread = (): number => {
      const [first, second] = [...fingers.values()];
      return first === undefined || second === undefined ? 0 : Math.abs(first - second);
    };
    const down = (event: PointerEvent): void => {
      fingers.set(event.pointerId, event.clientX);
      canvas.setPointerCapture(event.pointerId);
    };
    const drag = (event: PointerEvent): void => {
      const before = fingers.get(event.pointerId);
      if (before === undefined) return;
      const wide = spread();
      fingers.set(event.pointerId, event.clientX);
      if (fingers.size === 1) return move((window, now) => panned(window, now, (before - event.clientX) / canvas.clientWidth));
      const around = chartRef.current?.timeAt(event.clientX);
      const apart = spread();
      if (wide > 10 && apart > 10) move((window, now) => zoomed(window, now, wide / apart, around));
    };
    const up = (event: PointerEvent): void => void fingers.delete(event.pointerId);
    const wheel = (event: WheelEvent): void => {
      event.preventDefault();
      const around = chartRef.current?.timeAt(event.clientX);
      move((window, now) =>
        Math.abs(event.deltaX) > Math.abs(event.deltaY)
          ? panned(window, now, event.deltaX / canvas.clientWidth)
          : zoomed(window, now, Math.exp(event.deltaY * 0.0015), window.kind === 'following' ? undefined : around),
      );
    };
    canvas.addEventListener('pointerdown', down);
    canvas.addEventListener('pointermove', drag);
    canvas.addEventListener('pointerup', up);
    canvas.addEventListener('pointercancel', up);
    canvas.addEventListener('wheel', wheel, { passive: false });
    return () => {
      canvas.removeEventListener('pointerdown', down);
      canvas.removeEventListener('pointermove', drag);
      canvas.removeEventListener('pointerup', up);
      canvas.removeEventListener('pointercancel', up);
      canvas.removeEventListener('wheel', wheel);
    };
  }, [canvasRef, chartRef, move]);
}
