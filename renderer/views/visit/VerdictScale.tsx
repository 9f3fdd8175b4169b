import type { CardVerdict } from '../../../shared/tuning/target-card.ts';
import { placesOn, type ScaleInput } from './verdict-geometry.ts';

type Props = ScaleInput & { verdict: CardVerdict; width?: number; height?: number };

/** Limits as the slot's brackets, the value as pin with whisker: inside, half over the limit, or a cross outside. */
export function VerdictScale({ verdict, width = 150, height = 40, ...input }: Props) {
  const places = placesOn(width, input);
  const middle = height / 2;
  if (places === undefined) return <svg width={width} height={height} aria-hidden="true" />;
  const { low, high, at, whiskerFrom, whiskerTo } = places;
  const tone = verdict === 'pass' ? 'accent' : verdict === 'fail' ? 'alarm' : verdict === 'too-close' ? 'notice' : 'third';
  return (
    <svg width={width} height={height} viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
      <path className="stroke-edge" d={`M8 ${middle}H${width - 8}`} />
      {verdict === 'pass' && (
        <rect className="fill-accent-soft" x={low ?? 8} y={middle - 12} width={Math.max(0, (high ?? width - 8) - (low ?? 8))} height={24} />
      )}
      {low !== undefined && (
        <path className="stroke-ink" strokeWidth="3" d={`M${low + 7} ${middle - 14}H${low}V${middle + 14}H${low + 7}`} />
      )}
      {high !== undefined && (
        <path className="stroke-ink" strokeWidth="3" d={`M${high - 7} ${middle - 14}H${high}V${middle + 14}H${high - 7}`} />
      )}
      {whiskerFrom !== undefined && whiskerTo !== undefined && (
        <path
          className={`stroke-${tone}`}
          strokeWidth="2.5"
          d={`M${whiskerFrom} ${middle}H${whiskerTo}M${whiskerFrom} ${middle - 6}v12M${whiskerTo} ${middle - 6}v12`}
        />
      )}
      {verdict === 'fail' ? (
        <>
          <path stroke="var(--ground)" fill="none" strokeWidth="10" d={cross(at, middle)} />
          <path className="stroke-alarm" strokeWidth="5" d={cross(at, middle)} />
        </>
      ) : verdict === 'too-close' ? (
        <>
          <rect className="fill-ground" stroke="var(--notice)" strokeWidth="3" x={at - 5} y={middle - 10} width="10" height="20" />
          <path className="fill-notice" d={`M${at - 5} ${middle}h10v10h-10z`} />
        </>
      ) : verdict === 'pass' ? (
        <rect className="fill-accent" x={at - 5} y={middle - 11} width="10" height="22" />
      ) : (
        <rect className="fill-ground" stroke="var(--ink-2)" strokeWidth="2.5" x={at - 5} y={middle - 11} width="10" height="22" />
      )}
    </svg>
  );
}

const cross = (x: number, y: number): string => `M${x - 8} ${y - 9}l16 18m0 -18l-16 18`;
