import type { ItemNow } from '../../../shared/tuning/set-up/geometry-now.ts';

/** One scale shows both: cross or hollow bar as found, solid bar as left. */
export function TwoSidedScale({ item, width }: { item: ItemNow; width: number }) {
  const { asFound, asLeft } = item.verdicts;
  const limits = 'limits' in item.now ? item.now.limits : undefined;
  if (limits === undefined) return <svg width={width} height={36} aria-hidden="true" />;
  const values = [asFound, asLeft].flatMap((one) => ('value' in one ? [one.value] : []));
  const bounds = [limits.low, limits.high].filter(Number.isFinite);
  const span = Number.isFinite(limits.high - limits.low) ? limits.high - limits.low : Math.max(1, (bounds[0] ?? 1) * 0.5);
  const from = Math.min(...bounds, ...values) - span / 4;
  const to = Math.max(...bounds, ...values) + span / 4;
  const x = (value: number): number => 10 + ((Math.min(to, Math.max(from, value)) - from) / (to - from || 1)) * (width - 20);
  const low = Number.isFinite(limits.low) ? x(limits.low) : undefined;
  const high = Number.isFinite(limits.high) ? x(limits.high) : undefined;
  const cross = (at: number): string => `M${at - 6} 11l12 14m0 -14l-12 14`;
  const hasLeft = 'value' in asLeft;
  return (
    <svg width={width} height={36} viewBox={`0 0 ${width} 36`} aria-hidden="true">
      <rect className="fill-accent-soft" x={low ?? 4} y={7} width={Math.max(0, (high ?? width - 4) - (low ?? 4))} height={22} />
      <path className="stroke-edge" d={`M4 18H${width - 4}`} />
      {low !== undefined && <path className="stroke-ink" strokeWidth="3" d={`M${low + 6} 5H${low}V31H${low + 6}`} />}
      {high !== undefined && <path className="stroke-ink" strokeWidth="3" d={`M${high - 6} 5H${high}V31H${high - 6}`} />}
      {'value' in asFound &&
        (asFound.verdict === 'fail' ? (
          <path className="stroke-alarm" strokeWidth="4" d={cross(x(asFound.value))} />
        ) : hasLeft ? (
          <rect
            className="fill-ground stroke-ink"
            stroke="var(--ink)"
            strokeWidth="2"
            x={x(asFound.value) - 4}
            y={10}
            width={8}
            height={16}
          />
        ) : (
          <rect className="fill-accent" x={x(asFound.value) - 5} y={8} width={10} height={20} />
        ))}
      {hasLeft &&
        (asLeft.verdict === 'fail' ? (
          <path className="stroke-alarm" strokeWidth="4" d={cross(x(asLeft.value))} />
        ) : (
          <rect className="fill-accent" x={x(asLeft.value) - 5} y={8} width={10} height={20} />
        ))}
    </svg>
  );
}
