import { useId } from 'react';
import { ticks } from 'd3-array';
import { linear, n, type Scale } from './coordinates.ts';
import { Drawing, DrawnWords } from './Drawing.tsx';

type Span = { readonly fromMs: number; readonly toMs: number };
export type TrendStrip = {
  /** name, unit, and the class of its ink */
  readonly title: string;
  readonly ink: 'o2' | 'co' | 'stack' | 'air';
  readonly timeMs: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
  readonly breaks: readonly number[];
  readonly settled: readonly Span[];
  readonly readings: readonly { readonly timeMs: number; readonly value: number; readonly asLeft: boolean }[];
};
export type TrendPicture = {
  readonly fromMs: number;
  readonly toMs: number;
  readonly strips: readonly TrendStrip[];
  /** changes run through all strips, named in the top row; smoke stands in the second row and is no line */
  readonly marks: readonly {
    readonly timeMs: number;
    readonly text: string;
    /** used where the whole text finds no room */
    readonly short: string;
    readonly kind: 'change' | 'look';
  }[];
  /** what every mark of a row is about, written once before the row; its marks then say the figure alone */
  readonly rowNames: { readonly change: string | undefined; readonly look: string | undefined };
  readonly gaps: readonly Span[];
  readonly excluded: readonly Span[];
  readonly timeTicks: readonly { readonly timeMs: number; readonly text: string }[];
  readonly label: string;
  readonly simulated: string | undefined;
};

/** the text column of the narrower paper (A4, 180 mm) */
const WIDTH = 672;
const LEFT = 58;
const RIGHT = WIDTH - 6;
const TOP = 46;
const STRIP = 31;
/** a name stands clear of the squares at the foot of the strip above */
const BETWEEN = 19;
const dashes: Readonly<Record<TrendStrip['ink'], string | undefined>> = { o2: undefined, co: '9 5', stack: '14 4 2 4', air: '2 5' };

type InView = (span: Span) => readonly [from: number, to: number];

/** One strip per channel over one time axis. Settled stretches are filled with a foot line; gaps and excluded stretches are hatched, never joined. */
export function TrendDrawing({ picture }: { picture: TrendPicture }) {
  const { fromMs, toMs, strips, excluded, gaps, timeTicks, label, simulated } = picture;
  const x = linear(fromMs, Math.max(toMs, fromMs + 1), LEFT, RIGHT);
  const bottom = TOP + strips.length * (STRIP + BETWEEN) - BETWEEN;
  const inView: InView = (span) => [Math.max(LEFT, Math.min(RIGHT, x(span.fromMs))), Math.max(LEFT, Math.min(RIGHT, x(span.toMs)))];
  const [gapId, outId] = [useId(), useId()];
  return (
    <Drawing width={WIDTH} height={bottom + 42} label={label}>
      <defs>
        <pattern id={gapId} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path className="stroke-third" strokeWidth="1.6" d="M0 0V6" />
        </pattern>
        <pattern id={outId} width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)">
          <path className="grid" d="M0 0V9" />
        </pattern>
      </defs>
      <Hatched spans={excluded} pattern={outId} inView={inView} height={bottom - TOP} />
      <Hatched spans={gaps} pattern={gapId} inView={inView} height={bottom - TOP} />
      {strips.map((strip, index) => (
        <Strip key={strip.title} strip={strip} x={x} top={TOP + index * (STRIP + BETWEEN)} inView={inView} />
      ))}
      <Marks picture={picture} x={x} bottom={bottom} />
      <path className="axis" d={`M${LEFT} ${bottom + 4}H${RIGHT}`} />
      {timeTicks.map(({ timeMs, text }) => (
        <g key={timeMs}>
          <path className="axis" d={`M${n(x(timeMs))} ${bottom + 4}v5`} />
          <text x={n(Math.min(RIGHT - 16, x(timeMs)))} y={bottom + 23} textAnchor="middle">
            {text}
          </text>
        </g>
      ))}
      {simulated !== undefined && (
        <text className="fill-third" x={RIGHT} y={bottom + 38} textAnchor="end">
          {simulated}
        </text>
      )}
    </Drawing>
  );
}

function Hatched({ spans, pattern, inView, height }: { spans: readonly Span[]; pattern: string; inView: InView; height: number }) {
  return (
    <>
      {spans
        .map(inView)
        .filter(([from, to]) => to - from > 0.3)
        .map(([from, to], index) => (
          <rect key={index} fill={`url(#${pattern})`} x={n(from)} y={TOP} width={n(to - from)} height={height} />
        ))}
    </>
  );
}

const GLYPH = 5.4;

/**
 * A change is named to the right of its line, what was looked at to the left of its tick (the next change often comes at once). A text without
 * room gives way to its short form, then to nothing; the line always stays.
 */
function namedMarks({ marks, rowNames }: TrendPicture, x: Scale) {
  const changes = marks.filter(({ kind }) => kind === 'change').map(({ timeMs }) => x(timeMs));
  let lookedTo = LEFT - 8;
  return marks.map(({ timeMs, text, short, kind }) => {
    const at = x(timeMs);
    const next = changes.find((one) => one > at + 0.5) ?? RIGHT + 4;
    const room = kind === 'change' ? next - at - 6 : at - 6 - Math.max(lookedTo, ...changes.filter((one) => one < at), 0);
    const named = (rowNames[kind] === undefined ? [text, short] : [short]).find((one) => one.length * GLYPH <= room);
    if (kind === 'look') lookedTo = at;
    return { at, kind, named };
  });
}

function Marks({ picture, x, bottom }: { picture: TrendPicture; x: Scale; bottom: number }) {
  const { marks, rowNames } = picture;
  return (
    <>
      {(['change', 'look'] as const).map((kind) => {
        const name = rowNames[kind];
        if (name === undefined || !marks.some((mark) => mark.kind === kind)) return null;
        return (
          <text key={kind} className="mark" x={LEFT - 8} y={kind === 'change' ? 12 : 28} textAnchor="end">
            <DrawnWords text={name} />
          </text>
        );
      })}
      {namedMarks(picture, x).map(({ at, kind, named }, index) => (
        <g key={index}>
          <path className="stroke-ink" strokeWidth="1.2" d={kind === 'change' ? `M${n(at)} 4V${bottom}` : `M${n(at)} 19V29`} />
          {named !== undefined && (
            <text
              className="mark fill-ink halo"
              x={n(kind === 'change' ? at + 4 : at - 4)}
              y={kind === 'change' ? 12 : 28}
              textAnchor={kind === 'change' ? 'start' : 'end'}
            >
              <DrawnWords text={named} />
            </text>
          )}
        </g>
      ))}
    </>
  );
}

/** Nearly everything: start-up and a purge would press all the rest flat. What lies outside is drawn at the edge. */
const SHOWN_SHARE = 0.04;
/** a strip never shows less than this: noise must look like noise */
const leastSpans: Readonly<Record<TrendStrip['ink'], number>> = { o2: 2, co: 40, stack: 12, air: 6 };

function rangeOf({ low, high, readings }: TrendStrip): [least: number, most: number] {
  const sorted = [...low, ...high].sort((a, b) => a - b);
  const at = (share: number): number => sorted[Math.min(sorted.length - 1, Math.max(0, Math.round(share * (sorted.length - 1))))] ?? 0;
  const means = readings.map(({ value }) => value);
  return [Math.min(at(SHOWN_SHARE), ...means), Math.max(at(1 - SHOWN_SHARE), ...means)];
}

/** At most two, so that no figure lies on the next one or on the name of the strip. */
function stripTicks(from: number, to: number): number[] {
  for (const count of [3, 2, 1]) {
    const found = ticks(from, to, count);
    if (found.length <= MOST_TICKS) return found;
  }
  return [];
}
const MOST_TICKS = 2;

function Strip({ strip, x, top, inView }: { strip: TrendStrip; x: Scale; top: number; inView: InView }) {
  const bottom = top + STRIP;
  const [least, most] = rangeOf(strip);
  const margin = Math.max((most - least) * 0.08, (leastSpans[strip.ink] - (most - least)) / 2, 0.5);
  const scale = linear(least - margin, most + margin, bottom, top);
  const y = (value: number): number => Math.min(bottom, Math.max(top, scale(value)));
  return (
    <>
      {strip.settled
        .map(inView)
        .filter(([from, to]) => to > from)
        .map(([from, to], index) => (
          <g key={index}>
            <rect className="fill-accent-soft" opacity=".7" x={n(from)} y={top} width={n(to - from)} height={STRIP} />
            <path className="stroke-accent" strokeWidth="2.5" d={`M${n(from)} ${bottom}H${n(to)}`} />
          </g>
        ))}
      {stripTicks(least - margin, most + margin).map((tick) => (
        <g key={tick}>
          <path className="grid" d={`M${LEFT} ${n(y(tick))}H${RIGHT}`} />
          <text x={LEFT - 8} y={n(y(tick) + 4.5)} textAnchor="end">
            {String(tick).replace('-', '−')}
          </text>
        </g>
      ))}
      <path className={`stroke-${strip.ink}`} strokeWidth="1.8" strokeDasharray={dashes[strip.ink]} d={linePath(strip, x, y)} />
      {strip.readings.map(({ timeMs, value, asLeft }) => (
        <rect
          key={timeMs}
          className={`boxed ${asLeft ? 'fill-ink' : 'fill-ground'}`}
          strokeWidth="2"
          x={n(x(timeMs) - 4)}
          y={n(y(value) - 4)}
          width="8"
          height="8"
        />
      ))}
      <text className="fill-ink strong halo" x={LEFT} y={top - 4}>
        <DrawnWords text={strip.title} />
      </text>
    </>
  );
}

/** Every bucket is drawn from its low to its high, so that a spike of one sample stays on paper. */
function linePath({ timeMs, low, high, breaks }: TrendStrip, x: Scale, y: Scale): string {
  const starts = new Set(breaks);
  let last = NaN;
  return timeMs
    .map((time, index) => {
      const [bottom, top] = [low[index] ?? 0, high[index] ?? 0];
      const at = n(x(time));
      const joined = index > 0 && !starts.has(index);
      // come in at the nearer end, so that the line does not run up and down twice
      const [first, second] = joined && Math.abs(top - last) < Math.abs(bottom - last) ? [top, bottom] : [bottom, top];
      last = second;
      const move = `${joined ? 'L' : 'M'}${at} ${n(y(first))}`;
      return first === second ? move : `${move}V${n(y(second))}`;
    })
    .join('');
}
