import { useCallback, useEffect, useRef, useState } from 'react';
import { useApp, useParts } from '../../app-parts.ts';
import { createOverlayChart, type OverlayChart, type OverlayContent, type OverlayRange } from '../../charts/create-overlay-chart.ts';
import { useKey } from '../../keys/use-key.ts';

type Props = {
  label: string;
  /** asked at each frame, so that a live curve grows without a render */
  content: () => OverlayContent;
  whole: () => OverlayRange;
  onPicture?: (take: () => string) => void;
};

const pan = ({ fromS, toS }: OverlayRange, share: number): OverlayRange => ({
  fromS: fromS + (toS - fromS) * share,
  toS: toS + (toS - fromS) * share,
});
const zoom = ({ fromS, toS }: OverlayRange, factor: number, aroundS = (fromS + toS) / 2): OverlayRange => ({
  fromS: aroundS - (aroundS - fromS) * factor,
  toS: aroundS + (toS - aroundS) * factor,
});

/** Thin shell: arrows pan, + and - zoom, End shows all; wheel and drag do the same. */
export function OverlayView({ label, content, whole, onPicture }: Props) {
  const { frames } = useParts();
  const theme = useApp((state) => state.settings.theme);
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<OverlayChart | undefined>(undefined);
  const [range, setRange] = useState<OverlayRange>();
  const draw = useRef<() => void>(() => undefined);
  useEffect(() => {
    draw.current = () => chart.current?.draw(content(), range ?? whole());
    draw.current();
  }, [content, whole, range]);
  useEffect(() => {
    const element = canvas.current;
    if (element === null) return undefined;
    chart.current = createOverlayChart(element);
    onPicture?.(() => chart.current?.picture() ?? '');
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

  const move = useCallback((next: (range: OverlayRange) => OverlayRange) => setRange((current) => next(current ?? whole())), [whole]);
  useKey('panLeft', () => move((current) => pan(current, -0.25)));
  useKey('panRight', () => move((current) => pan(current, 0.25)));
  useKey('zoomIn', () => move((current) => zoom(current, 0.5)));
  useKey('zoomOut', () => move((current) => zoom(current, 2)));
  useKey('follow', () => setRange(undefined));

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
        onDoubleClick={() => setRange(undefined)}
      />
    </div>
  );
}
