import { extent } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import type { NextPoint } from './advice-words.ts';
import { positionOf } from '../../../../shared/tuning/trial/setting.ts';
import type { Trial } from '../../../../shared/tuning/trial/trial.ts';
import { figureOf } from '../../../../shared/tuning/trial/trial-figures.ts';
import { curveScreen as words } from '../../../../shared/words/visit/screens/air-curve.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { formatPosition } from '../../../../shared/format/quantity.ts';
import { whenDefined } from '../../../../shared/defined.ts';
import '../visit.css';
import './curve.css';

const size = { width: 411, height: 146, left: 44, right: 401, top: 22, bottom: 116 } as const;

/** What each mark of one adjuster did to O2, and where the next setting lies on it. */
export function RelationChart({ trials, adjuster, advice }: { trials: readonly Trial[]; adjuster: string; advice: NextPoint | undefined }) {
  const points = trials
    .flatMap((trial) => {
      const [x, o2] = [positionOf(trial.setting, adjuster), figureOf(trial, 'o2')];
      return x === undefined || o2 === undefined || trial.reading?.settled !== true ? [] : [{ x, y: o2.mean }];
    })
    .sort((a, b) => a.x - b.x);
  if (points.length < 2) return null;
  const move = advice?.adjuster === adjuster ? advice : undefined;
  const [xLow = 0, xHigh = 1] = extent([...points.map(({ x: at }) => at), ...whenDefined(move, (move) => move.to)]);
  const [yLow = 0, yHigh = 1] = extent([...points.map(({ y: at }) => at), ...whenDefined(move, (move) => move.expectedO2)]);
  const x = scaleLinear()
    .domain([xLow - 0.4, xHigh + 0.4])
    .range([size.left, size.right]);
  const y = scaleLinear()
    .domain([yLow - 0.3, yHigh + 0.5])
    .nice(4)
    .range([size.bottom, size.top]);
  const xTicks = x.ticks(6).filter((tick) => Number.isInteger(tick * 4));
  return (
    <figure className="relation drawn">
      <figcaption className="small second">
        <ChannelName text={words.relation(adjuster.toLowerCase())} />
      </figcaption>
      <svg viewBox={`0 0 ${size.width} ${size.height}`} width="100%" role="img" aria-label={words.relation(adjuster.toLowerCase())}>
        {y.ticks(4).map((tick) => (
          <g key={tick}>
            <path className="grid" d={`M${size.left} ${y(tick)}H${size.right}`} />
            <text x={size.left - 8} y={y(tick) + 5} textAnchor="end">
              {tick}
            </text>
          </g>
        ))}
        {xTicks.map((tick) => (
          <g key={tick}>
            <path className="axis" d={`M${x(tick)} ${size.bottom}v5`} />
            <text x={x(tick)} y={size.bottom + 20} textAnchor="middle">
              {formatPosition(tick)}
            </text>
          </g>
        ))}
        <path
          className="stroke-second"
          strokeWidth="2.5"
          d={points.map((point, at) => `${at === 0 ? 'M' : 'L'}${x(point.x)} ${y(point.y)}`).join('')}
        />
        {points.map((point, at) => (
          <rect
            key={at}
            className="fill-ground"
            stroke="var(--ink)"
            strokeWidth="2.5"
            x={x(point.x) - 5}
            y={y(point.y) - 5}
            width="10"
            height="10"
          />
        ))}
        {move !== undefined && (
          <>
            <path
              className="stroke-accent"
              strokeWidth="2"
              strokeDasharray="4 4"
              d={`M${x(move.to)} ${size.bottom}V${y(move.expectedO2)}H${size.left}`}
            />
            <rect
              className="fill-ground"
              stroke="var(--ink)"
              strokeWidth="3"
              x={x(move.to) - 6}
              y={y(move.expectedO2) - 13}
              width="12"
              height="26"
            />
          </>
        )}
        <text className="fill-ink" x={size.right} y={size.bottom - 8} textAnchor="end">
          {adjuster.toLowerCase()}
        </text>
        <text className="fill-ink" x={size.left + 6} y="14">
          O<tspan className="sub">2</tspan> %
        </text>
      </svg>
    </figure>
  );
}
