import { useId } from 'react';
import { line } from 'd3-shape';
import { formatNumber } from '../../format/quantity.ts';
import { antitonicFit } from '../../tuning/curve/isotonic.ts';
import { curveScreen as words } from '../../words/visit/screens/air-curve.ts';
import { n } from './coordinates.ts';
import {
  BOX,
  curveScales,
  curveSizes,
  numberPlaces,
  type AirCurvePicture,
  type CurveScales,
  type CurveSize,
  type NumberPlace,
  type PicturePoint,
} from './curve-places.ts';
import { Drawing, DrawnWords } from './Drawing.tsx';
import { whenDefined } from '../../defined.ts';

/** room for the name of the axis, at its end */
const O2_NAME = 76;

type Part = { picture: AirCurvePicture; scales: CurveScales; size: CurveSize };

/**
 * Smoke above CO on one O2 axis; onset as a line in its hatched uncertainty, the window as a slot. Open square: trial, solid: as left.
 * The window's own drawing is larger and names onset, window and reserve in it; on paper they stand beside it.
 */
export function AirCurveDrawing({ picture, place }: { picture: AirCurvePicture; place: keyof typeof curveSizes }) {
  const size: CurveSize = curveSizes[place];
  const scales = curveScales(picture, size);
  const part = { picture, scales, size };
  const hatch = useId();
  const { onset, window, next, label } = picture;
  // the solid square of what was left lies on those of other trials
  const points = [...picture.points].sort((one, other) => Number(one.asLeft) - Number(other.asLeft));
  const numbers = numberPlaces(points, scales, size, uprightsOf(picture, scales));
  return (
    <Drawing width={size.width} height={size.height} label={label} className="air-curve">
      <defs>
        <pattern id={hatch} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path className="stroke-third" strokeWidth="1.4" d="M0 0V7" />
        </pattern>
      </defs>
      {window !== undefined && (
        <rect
          className="fill-accent-soft"
          opacity="0.6"
          x={n(scales.o2(window.fromO2))}
          y={size.top}
          width={n(Math.max(0, scales.o2(window.toO2) - scales.o2(window.fromO2)))}
          height={size.axis - size.top}
        />
      )}
      {onset !== undefined && (
        <rect
          fill={`url(#${hatch})`}
          x={n(scales.o2(onset.low))}
          y={size.top}
          width={n(Math.max(2, scales.o2(onset.high) - scales.o2(onset.low)))}
          height={size.smokeBottom + 6 - size.top}
        />
      )}
      <Axes {...part} />
      <Below {...part} numbers={numbers} />
      <Lines points={points} scales={scales} />
      {onset !== undefined && <path className="stroke-ink" strokeWidth="2" d={`M${n(scales.o2(onset.o2))} ${size.top}V${size.axis}`} />}
      <Slot {...part} />
      {place === 'window' && <Names {...part} />}
      {points.map((point) => (
        <Point key={point.number} point={point} scales={scales} />
      ))}
      {numbers.map(({ text, x, y }) => (
        <text key={text} className="fill-ink strong halo" x={n(x)} y={n(y)} textAnchor="middle">
          {text}
        </text>
      ))}
      {next !== undefined && <Next next={next} scales={scales} />}
    </Drawing>
  );
}

/** Lines through both panels: the onset of smoke and the ends of the window. */
const uprightsOf = ({ onset, window }: AirCurvePicture, { o2 }: CurveScales): number[] => [
  ...whenDefined(onset, (onset) => o2(onset.o2)),
  ...(window === undefined ? [] : [o2(window.fromO2), o2(window.toO2)]),
];

function Axes({ picture, scales, size }: Part) {
  const { left, right, axis } = size;
  const row = (tick: number, y: number) => (
    <>
      <path className="grid" d={`M${left} ${n(y)}H${right}`} />
      <text x={left - 10} y={n(y + 5)} textAnchor="end">
        {formatNumber(tick, 0)}
      </text>
    </>
  );
  return (
    <>
      {scales.smokeTicks.map((tick) => (
        <g key={`s${tick}`}>{row(tick, scales.smoke(tick))}</g>
      ))}
      {scales.coTicks.map((tick) => (
        <g key={`c${tick}`}>{row(tick, scales.co(tick))}</g>
      ))}
      <path className="axis" d={`M${left} ${axis}H${right}`} />
      {scales.o2Ticks.map((tick) => (
        <g key={`o${tick}`}>
          <path className="axis" d={`M${n(scales.o2(tick))} ${axis}v6`} />
          {scales.o2(tick) < right - O2_NAME && (
            <text x={n(scales.o2(tick))} y={axis + 20} textAnchor="middle">
              {tick}
            </text>
          )}
        </g>
      ))}
      <text className="fill-ink" x={right} y={axis + 20} textAnchor="end">
        <DrawnWords text={picture.words.o2} />
      </text>
      <text className="fill-ink" textAnchor="middle" transform={`translate(15 ${(size.smokeTop + size.smokeBottom) / 2}) rotate(-90)`}>
        {picture.words.smoke}
      </text>
      <text className="fill-co" textAnchor="middle" transform={`translate(15 ${(size.coTop + size.coBottom) / 2}) rotate(-90)`}>
        {picture.words.co}
      </text>
    </>
  );
}

/** Below the axis: what the figures are not, and what the numbers leave to the table. */
function Below({ picture, size, numbers }: Part & { numbers: readonly NumberPlace[] }) {
  const told = numbers.reduce((sum, { numbers: trials }) => sum + trials.length, 0);
  const leftOut = picture.points.filter(({ smoke, coPpm }) => smoke !== undefined || coPpm !== undefined).length - told;
  const more = Math.max(...numbers.map(({ numbers: trials }) => trials.length - 1));
  const says = [
    picture.words.simulated,
    more > 1 ? words.moreTrials(more) : undefined,
    leftOut > 0 ? words.numbersLeftOut(leftOut) : undefined,
  ].filter((part) => part !== undefined);
  if (says.length === 0) return null;
  return (
    <text className="fill-third" x={size.left} y={size.axis + 35}>
      {says.join(' · ')}
    </text>
  );
}

/** Smoke: along the fit that never rises. Both straight from trial to trial: nothing is known in between. */
function Lines({ points, scales }: { points: readonly PicturePoint[]; scales: CurveScales }) {
  const settled = points.filter((point) => point.settled).sort((one, other) => one.o2 - other.o2);
  const smoky = settled.filter(({ smoke }) => smoke !== undefined);
  const fit = antitonicFit(smoky.map(({ smoke }) => smoke ?? 0));
  const withCo = settled.filter(({ coPpm }) => coPpm !== undefined);
  const draw = (of: readonly PicturePoint[], y: (point: PicturePoint, index: number) => number): string =>
    line<PicturePoint>(
      ({ o2 }) => n(scales.o2(o2)),
      (point, index) => n(y(point, index)),
    )([...of]) ?? '';
  return (
    <>
      {smoky.length > 1 && <path className="stroke-ink" strokeWidth="2.5" d={draw(smoky, (_, index) => scales.smoke(fit[index] ?? 0))} />}
      {withCo.length > 1 && (
        <path
          className="stroke-co"
          strokeWidth="2.5"
          strokeDasharray="9 5"
          d={draw(withCo, ({ coPpm }) => scales.co(Math.max(0, coPpm ?? 0)))}
        />
      )}
    </>
  );
}

function Slot({ picture: { window }, scales, size }: Part) {
  if (window === undefined) return null;
  const [from, to] = [scales.o2(window.fromO2), scales.o2(window.toO2)];
  const arm = n(Math.min(9, (to - from) / 3));
  return (
    <path
      className="stroke-accent"
      strokeWidth="4"
      d={`M${n(from + arm)} ${size.top + 2}H${n(from)}V${size.axis}h${arm}M${n(to - arm)} ${size.top + 2}H${n(to)}V${size.axis}h${-arm}`}
    />
  );
}

/** Names of onset, window and reserve, in the larger drawing of the window. */
function Names({ picture: { onset, window }, scales, size }: Part) {
  const [from, to] = window === undefined ? [Infinity, Infinity] : [scales.o2(window.fromO2), scales.o2(window.toO2)];
  const at = onset === undefined ? undefined : scales.o2(onset.o2);
  // the label of the onset gives way to that of the window
  const isTight = at !== undefined && (from + to) / 2 - at < 150;
  return (
    <>
      {onset !== undefined && at !== undefined && (
        <text
          className="fill-ink strong"
          x={n(isTight ? Math.max(at + 14, size.left + 158) : Math.max(at, size.left + 78))}
          y="18"
          textAnchor={isTight ? 'end' : 'middle'}
        >
          {words.onset(`${formatNumber(onset.o2, 1)} ±${formatNumber(Math.max(0.1, onset.high - onset.o2, onset.o2 - onset.low), 1)}`)}
        </text>
      )}
      {window !== undefined && (
        <>
          <text className="fill-accent strong" x={n((from + to) / 2)} y="18" textAnchor="middle">
            {words.window}
          </text>
          {size.right - to > 170 && (
            <text x={n(to + 12)} y="18">
              {words.tooMuch}
            </text>
          )}
          {at !== undefined && window.reserveO2Points !== undefined && (
            <Reserve from={at + 2} to={from - 3} y={size.top + 29} points={window.reserveO2Points} />
          )}
        </>
      )}
    </>
  );
}

/** A dimension line from the onset to the window. */
function Reserve({ from, to, y, points }: { from: number; to: number; y: number; points: number }) {
  if (to - from < 40) return null;
  const middle = n((from + to) / 2);
  const wide = to - from > 130;
  const arrows = `M${n(from)} ${y}H${n(to)}m-8 -5l8 5l-8 5M${n(from + 8)} ${y - 5}l-8 5l8 5`;
  return (
    <>
      <path className="stroke-ink" strokeWidth="1.5" d={arrows} />
      {wide && <rect className="fill-ground" x={n(middle - 47)} y={y - 12} width="94" height="24" />}
      <text className="fill-ink strong" x={middle} y={wide ? y + 5 : y + 22} textAnchor="middle">
        {to - from > 92 ? words.reserve(formatNumber(points, 1)) : formatNumber(points, 1)}
      </text>
    </>
  );
}

function Point({ point, scales }: { point: PicturePoint; scales: CurveScales }) {
  const { o2, o2Half, smoke, smokeHalf = 0, coPpm, coHalf = 0, settled, asLeft } = point;
  const x = n(scales.o2(o2));
  const [from, to] = [n(scales.o2(o2 - o2Half)), n(scales.o2(o2 + o2Half))];
  const square = (y: number, low: number, high: number) => (
    <>
      <path className="stroke-ink" strokeWidth="1.5" d={`M${from} ${n(y)}H${to}M${x} ${n(low)}V${n(high)}`} />
      <rect
        className={`boxed ${asLeft ? 'fill-ink' : 'fill-ground'}`}
        strokeWidth="2.5"
        strokeDasharray={settled ? undefined : '3 2'}
        x={n(x - BOX)}
        y={n(y - BOX)}
        width={2 * BOX}
        height={2 * BOX}
      />
    </>
  );
  return (
    <g data-trial={point.number}>
      {smoke !== undefined &&
        square(scales.smoke(smoke), scales.smoke(Math.max(0, smoke - smokeHalf)), scales.smoke(smoke > 0 ? smoke + smokeHalf : 0))}
      {coPpm !== undefined &&
        square(
          scales.co(Math.max(0, coPpm)),
          scales.co(Math.max(0, coPpm - coHalf)),
          Math.max(scales.co(scales.co.domain()[1] ?? 0), scales.co(Math.max(0, coPpm + coHalf))),
        )}
    </g>
  );
}

function Next({ next, scales }: { next: NonNullable<AirCurvePicture['next']>; scales: CurveScales }) {
  const [x, low, high] = [n(scales.o2(next.expectedO2)), n(scales.o2(next.low)), n(scales.o2(next.high))];
  const y = n(scales.smoke(0));
  return (
    <>
      <path className="stroke-ink" strokeWidth="2.5" d={`M${low} ${y}H${high}M${low} ${y - 7}v14M${high} ${y - 7}v14`} />
      <rect className="boxed fill-ground" strokeWidth="3" x={n(x - 7)} y={n(y - 19)} width="14" height="34" />
      <text className="fill-ink strong halo" x={x} y={n(y - 27)} textAnchor="middle">
        {words.next}
      </text>
    </>
  );
}
