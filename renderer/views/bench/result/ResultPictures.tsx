/** The two pictures beside a result: the answer to a change of gas, and the error test by test. */
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import type { CellHistory } from '../../../../shared/bench/results/earlier-tests.ts';
import type { ResponseRow } from '../../../../shared/bench/results/evaluate.ts';
import type { BenchChannel } from '../../../../shared/bench/instrument.ts';
import { piecesOf } from '../../../../shared/bench/results/missing-lines.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { certified, unitOf, unitText } from '../../../../shared/words/bench/bench-format.ts';
import { formatDate } from '../../../../shared/format/duration.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import './result.css';

const words = benchResult;
const WIDTH = 410;
const LEFT = 52;
const RIGHT = 396;
const tone = (channel: BenchChannel): string => (channel === 'o2' ? 'curve-o2' : 'curve-co');

/** of the axis of an answer, in the unit of the channel */
const LEAST_SPAN: Readonly<Record<BenchChannel, number>> = { o2: 1, co2: 1, co: 20, no: 20, no2: 20, so2: 20 };

/** As many decimals as tell one tick from the next. */
const tickText = (tick: number, all: readonly number[]): string => {
  const step = Math.abs((all[1] ?? 1) - (all[0] ?? 0));
  return formatNumber(tick, step === 0 ? 0 : Math.max(0, -Math.floor(Math.log10(step) + 1e-9)));
};

type CurveProps = {
  channel: BenchChannel;
  points: readonly (readonly [number, number])[];
  response: ResponseRow | undefined;
  target: number | undefined;
};

export function ResponsePicture({ channel, points, response, target }: CurveProps) {
  const HEIGHT = 196;
  const bottom = HEIGHT - 34;
  const reached = points.at(-1)?.[0] ?? 60;
  // while it is still coming the axis stands still for a minute, so that the curve grows and nothing shifts
  const lastS = response === undefined ? Math.max(60, reached) : Math.min(reached, Math.max(60, 2.5 * response.t90S));
  const shown = points.filter(([t]) => t <= lastS);
  const values = shown.map(([, value]) => value);
  const low = Math.min(...values, target ?? Infinity);
  const high = Math.max(...values, target ?? -Infinity);
  // noise looks like noise
  const pad = Math.max((high - low) * 0.08, (LEAST_SPAN[channel] - (high - low)) / 2);
  const x = scaleLinear([-5, lastS], [LEFT, RIGHT]);
  const y = scaleLinear([low - pad, high + pad], [bottom, 10]);
  const draw = line<readonly [number, number]>(
    ([t]) => x(t),
    ([, value]) => y(value),
  );
  // what lies between two pieces was not seen
  const path = piecesOf(shown)
    .map((piece) => draw(piece) ?? '')
    .join('');
  const level = response === undefined || shown.length === 0 ? undefined : valueAt(shown, response.t90S);
  const text =
    response === undefined ? '' : words.t90(`${formatNumber(response.t90S, 0)} ±${formatNumber(Math.max(1, response.expandedS), 0)} s`);
  return (
    <svg
      className="bench-picture"
      width={WIDTH}
      height={HEIGHT}
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={text === '' ? words.way(bench.channels[channel]) : `${bench.channels[channel]}: ${text}`}
    >
      {y.ticks(4).map((tick) => (
        <g key={tick}>
          <path className="grid" d={`M${LEFT} ${y(tick)}H${RIGHT}`} />
          <text x={LEFT - 8} y={y(tick) + 5} textAnchor="end">
            {tickText(tick, y.ticks(4))}
          </text>
        </g>
      ))}
      {x
        .ticks(4)
        .filter((tick) => tick >= 0 && x(tick) <= RIGHT - 16)
        .map((tick) => (
          <text key={tick} x={x(tick)} y={HEIGHT - 10} textAnchor="middle">
            {`${formatNumber(tick, 0)} s`}
          </text>
        ))}
      <path className="stroke-third" strokeWidth="1.5" d={`M${x(0)} 8V${bottom}`} />
      <path className={`${tone(channel)} whole`} d={path} />
      {target !== undefined && <path className="stroke-accent" strokeWidth="3" d={`M${RIGHT - 8} ${y(target) - 9}H${RIGHT}v18h-8`} />}
      {response !== undefined && level !== undefined && x(response.t90S) < RIGHT && (
        <>
          <path
            className="stroke-ink"
            strokeWidth="2"
            d={`M${x(response.t90S)} ${Math.max(14, y(level) - 40)}V${Math.min(bottom, y(level) + 40)}`}
          />
          <text
            className="fill-ink"
            x={Math.min(x(response.t90S) + 8, RIGHT - 96)}
            y={y(level) > HEIGHT / 2 ? Math.max(24, y(level) - 46) : Math.min(bottom - 4, y(level) + 58)}
          >
            {text}
          </text>
        </>
      )}
    </svg>
  );
}

const valueAt = (points: readonly (readonly [number, number])[], t: number): number | undefined => points.find(([at]) => at >= t)?.[1];

/** Errors at the span gas over the tests, against the limit. */
export function TrendPicture({ history, zoneMinutes }: { history: CellHistory; zoneMinutes: number }) {
  const HEIGHT = 176;
  const bottom = HEIGHT - 34;
  const { channel, spanErrors, limit } = history;
  const wall = spanErrors.map(({ wallMs }) => wallMs);
  const reach = Math.max(...spanErrors.map(({ value, expanded }) => Math.abs(value) + expanded), (limit ?? 0) * 1.15, 1e-6);
  const low = Math.min(0, ...spanErrors.map(({ value, expanded }) => value - expanded), limit === undefined ? 0 : -limit * 0.4);
  const high = Math.max(0, ...spanErrors.map(({ value, expanded }) => value + expanded), limit === undefined ? 0 : limit * 0.4);
  const falls = Math.abs(low) > high;
  const y = scaleLinear([falls ? -reach : low, falls ? high : reach], [bottom, 14]);
  const [start, end] = [Math.min(...wall), Math.max(...wall)];
  const x = start === end ? () => (LEFT + RIGHT) / 2 : scaleLinear([start, end], [LEFT + 10, RIGHT - 12]);
  const edge = limit === undefined ? undefined : falls ? -limit : limit;
  const path =
    line<(typeof spanErrors)[number]>(
      ({ wallMs }) => x(wallMs),
      ({ value }) => y(value),
    )(spanErrors) ?? '';
  return (
    <svg
      className="bench-picture"
      width={WIDTH}
      height={HEIGHT}
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={words.trend(bench.channels[channel], certified(channel, history.spanReference ?? 0))}
    >
      {edge !== undefined && (
        <rect
          className="fill-accent-soft"
          opacity="0.6"
          x={LEFT}
          y={Math.min(y(0), y(edge))}
          width={RIGHT - LEFT}
          height={Math.abs(y(edge) - y(0))}
        />
      )}
      {edge !== undefined && (
        <>
          <path className="stroke-ink" strokeWidth="3" d={`M${LEFT} ${y(edge)}H${RIGHT}`} />
          <text className="fill-ink halo" x={LEFT + 6} y={falls ? y(edge) - 6 : y(edge) + 18}>
            {words.limitLine(`${edge > 0 ? '+' : '−'}${unitText(channel, formatNumber(Math.abs(edge), unitOf(channel) === '%' ? 1 : 0))}`)}
          </text>
        </>
      )}
      {y.ticks(3).map((tick) => (
        <g key={tick}>
          <path className="grid" d={`M${LEFT} ${y(tick)}H${RIGHT}`} />
          <text x={LEFT - 8} y={y(tick) + 5} textAnchor="end">
            {tickText(tick, y.ticks(3))}
          </text>
        </g>
      ))}
      <path className={`${tone(channel)} whole`} d={path} />
      {spanErrors.map(({ wallMs, value, expanded }) => (
        <g key={wallMs}>
          <path className="stroke-ink" strokeWidth="1.5" d={`M${x(wallMs)} ${y(value - expanded)}V${y(value + expanded)}`} />
          <rect x={x(wallMs) - 5} y={y(value) - 5} width="10" height="10" fill="var(--ground)" stroke="var(--ink)" strokeWidth="2.5" />
        </g>
      ))}
      {[...new Set([start, end])].map((at, i) => (
        <text key={at} x={x(at)} y={HEIGHT - 8} textAnchor={start === end ? 'middle' : i === 0 ? 'start' : 'end'}>
          {formatDate(at, zoneMinutes)}
        </text>
      ))}
    </svg>
  );
}
