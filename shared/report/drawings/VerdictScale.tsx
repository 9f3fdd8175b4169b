/**
 * A value with its uncertainty against its limits: the slot and the pin. The shape tells the verdict without colour: a solid bar passes, a
 * half-filled one is too close to call, a cross fails.
 */
import type { CardVerdict } from '../../tuning/card/target-card.ts';
import { bracketLeft, bracketRight, linear, n } from './coordinates.ts';
import { Drawing } from './Drawing.tsx';
import { finite, scaleSpan, type ScaleInput } from './scale-span.ts';

export type ScalePicture = ScaleInput & { readonly verdict: CardVerdict; readonly label: string };

const WIDTH = 144;
const HEIGHT = 30;
const EDGE = 8;
/** what stands at the end of the scale is drawn whole */
const LAST = 15;
const MIDDLE = HEIGHT / 2;
const inks = { pass: 'accent', fail: 'alarm', 'too-close': 'notice', 'not-known': 'third' } as const;

export function VerdictScale({ picture, width = WIDTH }: { picture: ScalePicture; width?: number }) {
  const { value, expanded, verdict, label } = picture;
  const span = scaleSpan(picture);
  if (span === undefined) return <Drawing width={WIDTH} height={HEIGHT} shownWidth={width} label="" />;
  const scale = linear(...span, EDGE, WIDTH - EDGE);
  const inside = (x: number): number => n(Math.min(WIDTH - LAST, Math.max(LAST, x)));
  const [low, high] = [finite(picture.low), finite(picture.high)];
  const slot: [number, number] = [low === undefined ? EDGE : scale(low), high === undefined ? WIDTH - EDGE : scale(high)];
  const at = inside(scale(value));
  return (
    <Drawing width={WIDTH} height={HEIGHT} shownWidth={width} label={label}>
      {verdict === 'pass' && (
        <rect className="fill-accent-soft" x={n(slot[0])} y="3" width={n(Math.max(0, slot[1] - slot[0]))} height={HEIGHT - 6} />
      )}
      <path className="stroke-edge" d={`M${EDGE} ${MIDDLE}H${WIDTH - EDGE}`} />
      {low !== undefined && <path className="stroke-ink" strokeWidth="3" d={bracketLeft(scale(low), 2, HEIGHT - 2, 7)} />}
      {high !== undefined && <path className="stroke-ink" strokeWidth="3" d={bracketRight(scale(high), 2, HEIGHT - 2, 7)} />}
      {expanded !== undefined && expanded > 0 && (
        <Whisker from={inside(scale(value - expanded))} to={inside(scale(value + expanded))} ink={inks[verdict]} />
      )}
      <Pin at={at} verdict={verdict} />
    </Drawing>
  );
}

function Whisker({ from, to, ink }: { from: number; to: number; ink: string }) {
  const d = `M${from} ${MIDDLE}H${to}M${from} ${MIDDLE - 6}v12M${to} ${MIDDLE - 6}v12`;
  return <path className={`stroke-${ink}`} strokeWidth="2.5" d={d} />;
}

function Pin({ at, verdict }: { at: number; verdict: CardVerdict }) {
  switch (verdict) {
    case 'fail': {
      const cross = `M${n(at - 7)} ${MIDDLE - 7}l14 14M${n(at + 7)} ${MIDDLE - 7}l-14 14`;
      return (
        <>
          <path className="stroke-ground" strokeWidth="9" d={cross} />
          <path className="stroke-alarm" strokeWidth="4" d={cross} />
        </>
      );
    }
    case 'too-close':
      return (
        <>
          <rect className="fill-ground" x={n(at - 5)} y="5" width="10" height={HEIGHT - 10} />
          <rect className="stroke-notice" strokeWidth="3" x={n(at - 5)} y="5" width="10" height={HEIGHT - 10} />
          <path className="fill-notice" d={`M${n(at - 5)} ${MIDDLE}h10v10h-10z`} />
        </>
      );
    case 'pass':
      return <rect className="fill-accent" x={n(at - 5)} y="4" width="10" height={HEIGHT - 8} />;
    case 'not-known':
      return (
        <>
          <rect className="fill-ground" x={n(at - 5)} y="5" width="10" height={HEIGHT - 10} />
          <rect className="stroke-third" strokeWidth="2.5" x={n(at - 5)} y="5" width="10" height={HEIGHT - 10} />
        </>
      );
  }
}
