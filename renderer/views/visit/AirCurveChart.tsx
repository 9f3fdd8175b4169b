import { curveMonotoneX, line } from 'd3-shape';
import type { AirCurve, CurvePoint } from '../../../shared/tuning/air-curve.ts';
import { antitonicFit } from '../../../shared/tuning/isotonic.ts';
import type { NextPoint } from './advice-words.ts';
import { curveScreen as words } from '../../../shared/words/visit.ts';
import { formatNumber, formatSmoke } from '../../format/quantity.ts';
import { chartSize as size, curveScales, type CurveScales } from './curve-geometry.ts';

type Props = {
  curve: AirCurve;
  advice: NextPoint | undefined;
  numberOf: (trialId: string) => number;
  asLeftId: string | undefined;
  /** everything that the picture says, as a sentence */
  summary: string;
};

/** Smoke above CO over one O2 axis: where smoke starts and how surely, the window, the reserve, the trials, and the setting to try next. */
export function AirCurveChart({ curve, advice, numberOf, asLeftId, summary }: Props) {
  const scales = curveScales(curve, advice);
  return (
    <svg className="air-curve" viewBox={`0 0 ${size.width} ${size.height}`} role="img" aria-label={`${words.chart}. ${summary}`}>
      <defs>
        <pattern id="onset-hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path className="stroke-third" strokeWidth="1.4" d="M0 0V7" />
        </pattern>
      </defs>
      <Window curve={curve} scales={scales} back />
      <Onset curve={curve} scales={scales} />
      <Axes scales={scales} />
      <Lines points={curve.points} scales={scales} />
      <OnsetLine curve={curve} scales={scales} />
      <Window curve={curve} scales={scales} />
      <Reserve curve={curve} scales={scales} />
      {curve.points.map((point) => (
        <Point
          key={point.trialId}
          point={point}
          scales={scales}
          number={numberOf(point.trialId)}
          chosen={point.trialId === asLeftId}
          crowded={crowded(point, curve, scales)}
        />
      ))}
      {advice !== undefined && <Next advice={advice} scales={scales} />}
    </svg>
  );
}

function Axes({ scales }: { scales: CurveScales }) {
  const { left, right, axis, smokeBottom, top, coTop, coBottom } = size;
  return (
    <>
      {scales.smokeTicks.map((tick) => (
        <g key={`s${tick}`}>
          <path className="grid" d={`M${left} ${scales.smoke(tick)}H${right}`} />
          <text x={left - 10} y={scales.smoke(tick) + 5} textAnchor="end">
            {tick}
          </text>
        </g>
      ))}
      {scales.coTicks.map((tick) => (
        <g key={`c${tick}`}>
          <path className="grid" d={`M${left} ${scales.co(tick)}H${right}`} />
          <text x={left - 10} y={scales.co(tick) + 5} textAnchor="end">
            {formatNumber(tick, 0)}
          </text>
        </g>
      ))}
      <path className="axis" d={`M${left} ${axis}H${right}`} />
      {scales.o2Ticks.map((tick) => (
        <g key={`o${tick}`}>
          <path className="axis" d={`M${scales.o2(tick)} ${axis}v6`} />
          <text x={scales.o2(tick)} y={axis + 22} textAnchor="middle">
            {tick}
          </text>
        </g>
      ))}
      <text className="fill-ink" textAnchor="middle" transform={`translate(12 ${(top + smokeBottom) / 2 + 3}) rotate(-90)`}>
        {words.smokeAxis}
      </text>
      <text className="fill-co" textAnchor="middle" transform={`translate(12 ${(coTop + coBottom) / 2}) rotate(-90)`}>
        {words.coAxis}
      </text>
      <text className="fill-ink" x={right} y={axis - 9} textAnchor="end">
        O<tspan className="sub">2</tspan> %, dry
      </text>
    </>
  );
}

/** Smoke: the fit that never rises, with straight lines between the trials, as the onset is read. CO: through the trials. */
function Lines({ points, scales }: { points: readonly CurvePoint[]; scales: CurveScales }) {
  const settled = [...points].filter((point) => point.settled).sort((a, b) => a.o2 - b.o2);
  const smoky = settled.filter((point) => point.smoke !== undefined);
  const fit = antitonicFit(smoky.map((point) => point.smoke ?? 0));
  const smokeLine =
    line<CurvePoint>(
      (point) => scales.o2(point.o2),
      (_, index) => scales.smoke(fit[index] ?? 0),
    )(smoky) ?? '';
  const withCo = settled.filter((point) => point.coPpm !== undefined);
  const coLine =
    line<CurvePoint>(
      (point) => scales.o2(point.o2),
      (point) => scales.co(Math.max(0, point.coPpm ?? 0)),
    ).curve(curveMonotoneX)(withCo) ?? '';
  return (
    <>
      <path className="stroke-ink" strokeWidth="2.5" d={smokeLine} />
      <path className="stroke-co" strokeWidth="2.5" strokeDasharray="9 5" d={coLine} />
    </>
  );
}

function Onset({ curve: { onset }, scales }: { curve: AirCurve; scales: CurveScales }) {
  if (onset.state !== 'found') return null;
  const [from, to] = [scales.o2(onset.low), scales.o2(onset.high)];
  return <rect fill="url(#onset-hatch)" x={from} y={size.top} width={Math.max(2, to - from)} height={size.smokeBottom + 6 - size.top} />;
}

function OnsetLine({ curve: { onset, window }, scales }: { curve: AirCurve; scales: CurveScales }) {
  if (onset.state !== 'found') return null;
  const x = scales.o2(onset.o2);
  const half = Math.max(onset.high - onset.o2, onset.o2 - onset.low);
  const text = words.onset(`${formatNumber(onset.o2, 1)} ±${formatNumber(Math.max(0.1, half), 1)}`);
  // the label gives way to that of the window
  const windowX = window === undefined ? Infinity : (scales.o2(window.fromO2) + scales.o2(window.toO2)) / 2;
  const isTight = windowX - x < 150;
  return (
    <>
      <path className="stroke-ink" strokeWidth="2" d={`M${x} ${size.top}V${size.axis}`} />
      <text
        className="fill-ink strong"
        x={isTight ? Math.max(x + 14, size.left + 158) : Math.max(x, size.left + 78)}
        y="18"
        textAnchor={isTight ? 'end' : 'middle'}
      >
        {text}
      </text>
    </>
  );
}

function Window({ curve: { window }, scales, back = false }: { curve: AirCurve; scales: CurveScales; back?: boolean }) {
  if (window === undefined || window.conflict) return null;
  const [from, to] = [scales.o2(window.fromO2), scales.o2(window.toO2)];
  if (back)
    return <rect className="fill-accent-soft" opacity="0.6" x={from} y={size.top} width={to - from} height={size.axis - size.top} />;
  const arm = Math.min(9, (to - from) / 3);
  const room = size.right - to;
  return (
    <>
      <path
        className="stroke-accent"
        strokeWidth="4"
        d={`M${from + arm} ${size.top + 2}H${from}V${size.axis}h${arm}M${to - arm} ${size.top + 2}H${to}V${size.axis}h${-arm}`}
      />
      <text className="fill-accent strong" x={(from + to) / 2} y="18" textAnchor="middle">
        {words.window}
      </text>
      {room > 170 && (
        <text x={to + 12} y="18">
          {words.tooMuch}
        </text>
      )}
    </>
  );
}

/** A dimension line from the onset to the window. */
function Reserve({ curve: { onset, window }, scales }: { curve: AirCurve; scales: CurveScales }) {
  if (onset.state !== 'found' || window === undefined) return null;
  const [from, to] = [scales.o2(onset.o2) + 2, scales.o2(window.fromO2) - 3];
  const y = size.top + 29;
  if (to - from < 40) return null;
  const middle = (from + to) / 2;
  const text = words.reserve(formatNumber(window.reserveO2Points, 1));
  const wide = to - from > 130;
  return (
    <>
      <path className="stroke-ink" strokeWidth="1.5" d={`M${from} ${y}H${to}m-8 -5l8 5l-8 5M${from + 8} ${y - 5}l-8 5l8 5`} />
      {wide && <rect className="fill-ground" x={middle - 47} y={y - 12} width="94" height="24" />}
      <text className="fill-ink strong" x={middle} y={wide ? y + 5 : y + 22} textAnchor="middle">
        {wide ? text : formatNumber(window.reserveO2Points, 1)}
      </text>
    </>
  );
}

/** A number that would stand on its neighbour's moves up. */
const crowded = (point: CurvePoint, { points }: AirCurve, scales: CurveScales): number =>
  points.filter(
    (other) => other.order < point.order && Math.abs(scales.o2(other.o2) - scales.o2(point.o2)) < 18 && other.smoke === point.smoke,
  ).length;

function Point({
  point,
  scales,
  number,
  chosen,
  crowded: above,
}: {
  point: CurvePoint;
  scales: CurveScales;
  number: number;
  chosen: boolean;
  crowded: number;
}) {
  const x = scales.o2(point.o2);
  const [x0, x1] = [scales.o2(point.o2 - point.o2Half), scales.o2(point.o2 + point.o2Half)];
  const ys = point.smoke === undefined ? undefined : scales.smoke(point.smoke);
  const yc = point.coPpm === undefined ? undefined : scales.co(Math.max(0, point.coPpm));
  const box = chosen ? 'fill-ink' : 'fill-ground';
  const dash = point.settled ? undefined : '3 2';
  return (
    <g data-trial={number}>
      {ys !== undefined && (
        <>
          <path
            className="stroke-ink"
            strokeWidth="1.5"
            d={`M${x0} ${ys}H${x1}M${x} ${scales.smoke(Math.max(0, (point.smoke ?? 0) - 0.5))}V${scales.smoke((point.smoke ?? 0) + ((point.smoke ?? 0) > 0 ? 0.5 : 0))}`}
          />
          <rect className={box} stroke="var(--ink)" strokeWidth="2.5" strokeDasharray={dash} x={x - 6} y={ys - 6} width="12" height="12" />
          <text
            className="fill-ink strong"
            x={(point.smoke ?? 0) > 0 ? x + 14 : x}
            y={ys - ((point.smoke ?? 0) > 0 ? 8 : 13) - above * 16}
            textAnchor="middle"
          >
            {number}
          </text>
        </>
      )}
      {yc !== undefined && (
        <>
          <path
            className="stroke-ink"
            strokeWidth="1.5"
            d={`M${x0} ${yc}H${x1}M${x} ${scales.co(Math.max(0, (point.coPpm ?? 0) - (point.coHalf ?? 0)))}V${scales.co(Math.max(0, (point.coPpm ?? 0) + (point.coHalf ?? 0)))}`}
          />
          <rect className={box} stroke="var(--ink)" strokeWidth="2.5" strokeDasharray={dash} x={x - 6} y={yc - 6} width="12" height="12" />
          {ys === undefined && (
            <text className="fill-ink strong" x={x} y={yc - 12} textAnchor="middle">
              {number}
            </text>
          )}
        </>
      )}
    </g>
  );
}

function Next({ advice, scales }: { advice: NextPoint; scales: CurveScales }) {
  const [x, low, high] = [scales.o2(advice.expectedO2), scales.o2(advice.low), scales.o2(advice.high)];
  const y = scales.smoke(0);
  return (
    <>
      <path className="stroke-ink" strokeWidth="2.5" d={`M${low} ${y}H${high}M${low} ${y - 7}v14M${high} ${y - 7}v14`} />
      <rect className="fill-ground" stroke="var(--ink)" strokeWidth="3" x={x - 7} y={y - 19} width="14" height="34" />
      <text className="fill-ink strong" x={x} y={y - 27} textAnchor="middle">
        {words.next}
      </text>
    </>
  );
}
