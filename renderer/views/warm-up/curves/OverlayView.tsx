import { useCallback, useEffect, useRef } from 'react';
import { useApp, useParts } from '../../../app-parts.ts';
import { createOverlayChart, type OverlayChart } from '../../../charts/create-overlay-chart.ts';
import type { OverlayContent, OverlayRange } from '../../../charts/overlay-content.ts';
import { useKey } from '../../../keys/use-key.ts';
import './curves.css';

type Props = {
  label: string;
  /** asked at each frame, so that a live curve grows without a render */
  content: (range: OverlayRange) => OverlayContent;
  whole: () => OverlayRange;
  onPicture?: (take: OverlayChart['picture']) => void;
};

const pan = ({ fromS, toS }: OverlayRange, share: number): OverlayRange => ({
  fromS: fromS + (toS - fromS) * share,
  toS: toS + (toS - fromS) * share,
});
const zoom = ({ fromS, toS }: OverlayRange, factor: number, aroundS = (fromS + toS) / 2): OverlayRange => {
  const next = { fromS: aroundS - (aroundS - fromS) * factor, toS: aroundS + (toS - aroundS) * factor };
  const span = next.toS - next.fromS;
  return span < 10 || span > 86_400 ? { fromS, toS } : next;
};

/** Thin shell: arrows pan, + and - zoom, End shows all; wheel and drag do the same. A move asks for a frame, it renders nothing. */
export function OverlayView({ label, content, whole, onPicture }: Props) {
  const { frames } = useParts();
  const theme = useApp((state) => state.settings.theme);
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<OverlayChart | undefined>(undefined);
  const range = useRef<OverlayRange | undefined>(undefined);
  const draw = useRef<() => void>(() => undefined);
  useEffect(() => {
    draw.current = () => {
      const shown = range.current ?? whole();
      chart.current?.draw(content(shown), shown);
    };
    draw.current();
  }, [content, whole]);
  useEffect(() => {
    const element = canvas.current;
    if (element === null) return undefined;
    chart.current = createOverlayChart(element);
    onPicture?.((title, watermark) => chart.current?.picture(title, watermark) ?? '');
    draw.current();
    const stop = frames.onFrame(() => draw.current());
    void document.fonts.ready.then(() => chart.current?.themeChanged());
    return () => {
      stop();
      chart.current?.destroy();
      chart.current = undefined;
    };
  }, [frames, onPicture]);
  useEffect(() => {
    const frame = requestAnimationFrame(() => chart.current?.themeChanged());
    return () => cancelAnimationFrame(frame);
  }, [theme]);

  const move = useCallback(
    (next: (range: OverlayRange) => OverlayRange | undefined) => {
      range.current = next(range.current ?? whole());
      frames.request();
    },
    [whole, frames],
  );
  useKey('panLeft', () => move((current) => pan(current, -0.25)));
  useKey('panRight', () => move((current) => pan(current, 0.25)));
  useKey('zoomIn', () => move((current) => zoom(current, 0.5)));
  useKey('zoomOut', () => move((current) => zoom(current, 2)));
  useKey('follow', () => move(() => undefined));

  const dragged = useRef<number | undefined>(undefined);
  return (
    <div className="overlay">
      <canvas
        ref={canvas}
        role="img"
        aria-label={label}
        onWheel={({ deltaY }) => move((current) => zoom(current, deltaY > 0 ? 1.2 : 1 / 1.2))}
        onPointerDown={({ clientX, currentTarget, pointerId }) => {
          dragged.current = clientX;
          currentTarget.setPointerCapture(pointerId);
        }}
        onPointerMove={({ clientX, currentTarget }) => {
          if (dragged.current === undefined) return;
          const share = (dragged.current - clientX) / currentTarget.clientWidth;
          dragged.current = clientX;
          move((current) => pan(current, share));
        }}
        onPointerUp={() => (dragged.current = undefined)}
        onDoubleClick={() => move(() => undefined)}
      />
    </div>
  );
}
