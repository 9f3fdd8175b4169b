/** What averaging gains, and where drift takes it back: Allan deviation over averaging time, both on log scales. */
import { scaleLog } from 'd3-scale';
import { line } from 'd3-shape';
import type { AllanPoint } from '../../../../shared/bench/results/noise.ts';
import type { RoundResult } from '../../../../shared/bench/results/test-result.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { unitOf } from '../../../../shared/words/bench/bench-format.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import './result.css';

const words = benchResult;
const [WIDTH, HEIGHT, LEFT, RIGHT] = [410, 176, 62, 396];
const BOTTOM = HEIGHT - 34;
/** 1, 2, 5 in every decade, as far as they lie inside */
const decades = (low: number, high: number, steps: readonly number[]): number[] =>
  [-4, -3, -2, -1, 0, 1, 2, 3, 4]
    .flatMap((power) => steps.map((step) => Number((step * 10 ** power).toPrecision(6))))
    .filter((tick) => tick >= low * 0.999 && tick <= high * 1.001);
const plain = (value: number): string => formatNumber(value, Math.max(0, -Math.floor(Math.log10(value))));

export function NoisePicture({ noise: { channel, points, best } }: { noise: RoundResult['noise'][number] }) {
  // a display that stood still has no noise to draw
  const shown = points.filter(({ deviation }) => deviation > 0);
  const [first, last] = [shown[0], shown.at(-1)];
  if (first === undefined || last === undefined || first === last) return null;
  const low = Math.min(...shown.map(({ deviation }) => deviation));
  const high = Math.max(...shown.map(({ deviation }) => deviation));
  const x = scaleLog([first.averagingS, last.averagingS], [LEFT + 8, RIGHT - 8]);
  const y = scaleLog([low / 1.4, high * 1.2], [BOTTOM, 10]);
  const [bottom = low, top = high] = y.domain();
  const some = decades(bottom, top, [1, 2, 5]);
  const ticks = some.length > 4 ? decades(bottom, top, [1]) : some;
  const path =
    line<AllanPoint>(
      ({ averagingS }) => x(averagingS),
      ({ deviation }) => y(deviation),
    )(shown) ?? '';
  const at = best === undefined || best.deviation <= 0 ? undefined : { x: x(best.averagingS), y: y(best.deviation) };
  const label = best === undefined ? '' : words.noiseLabel(`${formatNumber(best.averagingS, 0)} s`);
  return (
    <svg
      className="bench-picture"
      width={WIDTH}
      height={HEIGHT}
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={`${words.noiseTitle(bench.channels[channel])}: ${label}`}
    >
      {ticks.map((tick) => (
        <g key={tick}>
          <path className="grid" d={`M${LEFT} ${y(tick)}H${RIGHT}`} />
          <text x={LEFT - 8} y={y(tick) + 5} textAnchor="end">
            {plain(tick)}
          </text>
        </g>
      ))}
      <text x={LEFT - 8} y={HEIGHT - 10} textAnchor="end">
        {unitOf(channel)}
      </text>
      {decades(first.averagingS, last.averagingS, [1, 3]).map((tick) => (
        <text key={tick} x={x(tick)} y={HEIGHT - 10} textAnchor="middle">
          {`${formatNumber(tick, tick < 1 ? 1 : 0)} s`}
        </text>
      ))}
      <path className={`${channel === 'o2' ? 'curve-o2' : 'curve-co'} whole`} d={path} />
      {at !== undefined && (
        <>
          <path className="stroke-accent" strokeWidth="3" d={`M${at.x - 12} ${at.y - 10}h-6v20h6M${at.x + 12} ${at.y - 10}h6v20h-6`} />
          <rect className="fill-accent" x={at.x - 4} y={at.y - 8} width="8" height="16" />
          <text
            className="fill-ink"
            // the curve comes down from the left: beside its lowest point is room
            x={at.x > LEFT + 120 ? at.x - 24 : at.x + 24}
            y={at.y + 5}
            textAnchor={at.x > LEFT + 120 ? 'end' : 'start'}
          >
            {label}
          </text>
        </>
      )}
    </svg>
  );
}
