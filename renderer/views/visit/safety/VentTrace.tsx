/** Draft, O2 and room CO of the worst-case test: one time axis, one mark where the fans came on, the level without them as a dotted line, the limit as a bracket. */
import type { TracePoint, WorstLine, WorstQuantity } from '../../../../shared/tuning/safety/venting.ts';
import { DrawnWords } from '../../../../shared/report/drawings/Drawing.tsx';
import { worstFigure, worstUnit } from '../../../../shared/report/worst-figures.ts';
import { ventWords as words } from '../../../../shared/words/visit/venting.ts';
import type { UnitSystem } from '../../../../shared/format/quantity.ts';
import { whenDefined } from '../../../../shared/defined.ts';
import { useWidth } from '../../../components/use-width.ts';
import './safety.css';

/** before it was measured */
const WIDTH = 860;
/** a curve narrower than this says nothing */
const LEAST_WIDTH = 480;
const HEIGHT = 96;
const GAP = 10;
const LEFT = 128;
const RIGHT = 116;

type Props = {
  points: readonly TracePoint[];
  lines: readonly WorstLine[];
  fromMs: number;
  onFromMs: number | undefined;
  nowMs: number;
  units: UnitSystem;
  /** the instrument speaks and the test runs: the newest values are those of now */
  live: boolean;
};

export function VentTrace({ points, lines, fromMs, onFromMs, nowMs, units, live }: Props) {
  const shown = lines.filter(({ quantity }) => points.some((point) => point[quantity] !== undefined));
  const endMs = Math.max(nowMs, fromMs + 120_000);
  const [box, measured] = useWidth<HTMLDivElement>(WIDTH);
  const width = Math.max(LEAST_WIDTH, measured);
  const x = (ms: number): number => LEFT + ((ms - fromMs) / (endMs - fromMs)) * (width - LEFT - RIGHT);
  const height = Math.max(1, shown.length) * (HEIGHT + GAP) + 26;
  return (
    <div ref={box} className="vent-trace">
      <svg width={width} height={height} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={words.trace}>
        {shown.map((line, at) => (
          <Strip
            key={line.quantity}
            line={line}
            points={points}
            top={at * (HEIGHT + GAP) + 20}
            right={width - RIGHT}
            x={x}
            onFromMs={onFromMs}
            units={units}
            live={live}
          />
        ))}
        {onFromMs !== undefined && (
          <>
            <path className="stroke-ink" strokeWidth="1.5" d={`M${x(onFromMs)} 6V${height - 6}`} />
            <text x={x(onFromMs) + 6} y="14">
              {words.columns.on}
            </text>
          </>
        )}
        <text x={LEFT} y="14">
          {words.columns.off}
        </text>
      </svg>
    </div>
  );
}

function Strip({
  line,
  points,
  top,
  right,
  x,
  onFromMs,
  units,
  live,
}: {
  line: WorstLine;
  points: readonly TracePoint[];
  top: number;
  /** where the curve's room ends */
  right: number;
  x: (ms: number) => number;
  onFromMs: number | undefined;
  units: UnitSystem;
  live: boolean;
}) {
  const { quantity, off, on } = line;
  const values = points.flatMap((point) => point[quantity] ?? []);
  // of the newest sample alone: a value that is missing in it is not there now
  const newest = live ? points.at(-1)?.[quantity] : undefined;
  // the limit of O2 is one of its change: it stands below the level without fans
  const limit =
    line.limit === undefined ? undefined : quantity === 'o2Percent' ? (off === undefined ? undefined : off.mean - line.limit) : line.limit;
  const all = [...values, ...whenDefined(limit)];
  const least: Record<WorstQuantity, number> = { draftPa: 2, o2Percent: 0.5, roomCoPpm: 4 };
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const pad = Math.max(least[quantity] - (high - low), 0) / 2 + (high - low) * 0.12;
  // suction is drawn upwards: more draft is higher
  const sign = quantity === 'draftPa' ? -1 : 1;
  const [from, to] = sign === -1 ? [high + pad, low - pad] : [low - pad, high + pad];
  const y = (value: number): number => top + HEIGHT - ((value - from) / (to - from)) * HEIGHT;
  const path = points
    .flatMap((point) => {
      const value = point[quantity];
      return value === undefined ? [] : [`${x(point.timeMs).toFixed(1)} ${y(value).toFixed(1)}`];
    })
    .join('L');
  const tick = (value: number) => (
    <text x={LEFT - 8} y={y(value) + 5} textAnchor="end" className="number">
      {worstFigure(quantity, value, units)}
    </text>
  );
  const changeX = right + 18;
  return (
    <g>
      <path className="axis" d={`M${LEFT} ${top + HEIGHT}H${right}M${LEFT} ${top}V${top + HEIGHT}`} />
      <text x="0" y={top + 14} className="bold">
        <DrawnWords text={words.quantities[quantity]} />
      </text>
      <text x="0" y={top + 32} className="second">
        {worstUnit(quantity, units)}
      </text>
      {newest !== undefined && (
        <text x="0" y={top + 68} className="newest">
          {worstFigure(quantity, newest, units)}
        </text>
      )}
      {off !== undefined && tick(off.mean)}
      {off !== undefined && (
        <path className="stroke-second" strokeDasharray="2 5" strokeWidth="1.5" d={`M${LEFT} ${y(off.mean)}H${right + 30}`} />
      )}
      {path !== '' && (
        <path
          className={`stroke-${quantity === 'o2Percent' ? 'o2' : quantity === 'roomCoPpm' ? 'co' : 'ink'}`}
          fill="none"
          strokeWidth="2"
          d={`M${path}`}
        />
      )}
      {on !== undefined && off !== undefined && onFromMs !== undefined && Math.abs(y(on.mean) - y(off.mean)) > 6 && (
        <path
          className="stroke-ink"
          fill="none"
          strokeWidth="2"
          d={`M${changeX} ${y(off.mean)}V${y(on.mean)}m-5 ${y(on.mean) > y(off.mean) ? -7 : 7}l5 ${y(on.mean) > y(off.mean) ? 7 : -7}l5 ${y(on.mean) > y(off.mean) ? -7 : 7}`}
        />
      )}
      {limit !== undefined && (
        <>
          <path
            className="stroke-ink"
            fill="none"
            strokeWidth="3"
            d={`M${right + 74} ${y(limit)}h12V${quantity === 'roomCoPpm' ? top + HEIGHT : top}`}
          />
          <text x={right + 70} y={y(limit) + 5} textAnchor="end">
            {words.limit}
          </text>
        </>
      )}
    </g>
  );
}
