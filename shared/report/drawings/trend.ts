import { ticks } from 'd3-array';
import { linear, n, svg, svgSubscripts, type Scale } from './svg.ts';

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

const WIDTH = 680;
const LEFT = 58;
const RIGHT = WIDTH - 6;
const TOP = 46;
const STRIP = 70;
const BETWEEN = 20;
const dashes: Readonly<Record<TrendStrip['ink'], string>> = { o2: '', co: '9 5', stack: '14 4 2 4', air: '2 5' };

/** One strip per channel over one time axis. Settled stretches are filled with a foot line; gaps and excluded stretches are hatched, never joined. */
export function trendDrawing(picture: TrendPicture): string {
  const x = linear(picture.fromMs, Math.max(picture.toMs, picture.fromMs + 1), LEFT, RIGHT);
  const bottom = TOP + picture.strips.length * (STRIP + BETWEEN) - BETWEEN;
  const inView = ({ fromMs, toMs }: Span): [number, number] => [
    Math.max(LEFT, Math.min(RIGHT, x(fromMs))),
    Math.max(LEFT, Math.min(RIGHT, x(toMs))),
  ];
  const hatched = (spans: readonly Span[], pattern: string): string =>
    spans
      .map(inView)
      .filter(([a, b]) => b - a > 0.3)
      .map(([a, b]) => `<rect fill="url(#${pattern})" x="${n(a)}" y="${TOP}" width="${n(b - a)}" height="${bottom - TOP}"/>`)
      .join('');
  const content = [
    '<defs><pattern id="gap" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="k-3" stroke-width="1.6" d="M0 0V6"/></pattern><pattern id="out" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path class="gl" d="M0 0V9"/></pattern></defs>',
    hatched(picture.excluded, 'out'),
    hatched(picture.gaps, 'gap'),
    ...picture.strips.map((strip, index) => stripDrawing(strip, x, TOP + index * (STRIP + BETWEEN), inView)),
    ...markDrawings(picture, x, bottom),
    `<path class="ax" d="M${LEFT} ${bottom + 4}H${RIGHT}"/>`,
    ...picture.timeTicks.map(
      ({ timeMs, text }) =>
        `<path class="ax" d="M${n(x(timeMs))} ${bottom + 4}v5"/><text x="${n(x(timeMs))}" y="${bottom + 23}" text-anchor="middle">${text}</text>`,
    ),
    picture.simulated === undefined
      ? ''
      : `<text class="f-3" x="${RIGHT}" y="${bottom + 38}" text-anchor="end">${picture.simulated}</text>`,
  ];
  return svg(WIDTH, bottom + 42, picture.label, content.join(''));
}

const GLYPH = 5.4;

/**
 * A change is named to the right of its line, what was looked at to the left of its tick (the next change often comes at once). A text without
 * room gives way to its short form, then to nothing; the line always stays.
 */
function markDrawings({ marks, rowNames }: TrendPicture, x: Scale, bottom: number): string[] {
  const changes = marks.filter(({ kind }) => kind === 'change').map(({ timeMs }) => x(timeMs));
  let lookedTo = LEFT - 8;
  const heads = (['change', 'look'] as const).flatMap((kind) => {
    const name = rowNames[kind];
    const y = kind === 'change' ? 12 : 28;
    return name === undefined || !marks.some((mark) => mark.kind === kind)
      ? []
      : [`<text class="mark" x="${LEFT - 8}" y="${y}" text-anchor="end">${svgSubscripts(name)}</text>`];
  });
  const drawn = marks.map(({ timeMs, text, short, kind }) => {
    const at = x(timeMs);
    const next = changes.find((one) => one > at + 0.5) ?? RIGHT + 4;
    const room = kind === 'change' ? next - at - 6 : at - 6 - Math.max(lookedTo, ...changes.filter((one) => one < at), 0);
    const named = (rowNames[kind] === undefined ? [text, short] : [short]).find((one) => one.length * GLYPH <= room);
    if (kind === 'look') lookedTo = at;
    const line =
      kind === 'change'
        ? `<path class="k-ink" stroke-width="1.2" d="M${n(at)} 4V${bottom}"/>`
        : `<path class="k-ink" stroke-width="1.2" d="M${n(at)} 19V29"/>`;
    if (named === undefined) return line;
    const place = kind === 'change' ? `x="${n(at + 4)}" y="12"` : `x="${n(at - 4)}" y="28" text-anchor="end"`;
    return `${line}<text class="mark f-ink halo" ${place}>${svgSubscripts(named)}</text>`;
  });
  return [...heads, ...drawn];
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

function stripDrawing(strip: TrendStrip, x: Scale, top: number, inView: (span: Span) => [number, number]): string {
  const bottom = top + STRIP;
  const [least, most] = rangeOf(strip);
  const margin = Math.max((most - least) * 0.08, (leastSpans[strip.ink] - (most - least)) / 2, 0.5);
  const scale = linear(least - margin, most + margin, bottom, top);
  const y = (value: number): number => Math.min(bottom, Math.max(top, scale(value)));
  const grid = ticks(least - margin, most + margin, 3)
    .map(
      (tick) =>
        `<path class="gl" d="M${LEFT} ${n(y(tick))}H${RIGHT}"/><text x="${LEFT - 8}" y="${n(y(tick) + 4.5)}" text-anchor="end">${String(tick).replace('-', '−')}</text>`,
    )
    .join('');
  const settled = strip.settled
    .map(inView)
    .filter(([a, b]) => b > a)
    .map(
      ([a, b]) =>
        `<rect class="f-soft" opacity=".7" x="${n(a)}" y="${top}" width="${n(b - a)}" height="${STRIP}"/><path class="k-acc" stroke-width="2.5" d="M${n(a)} ${bottom}H${n(b)}"/>`,
    )
    .join('');
  const readings = strip.readings
    .map(
      ({ timeMs, value, asLeft }) =>
        `<rect class="${asLeft ? 'f-ink' : 'f-paper'} k-ink" stroke-width="2" x="${n(x(timeMs) - 4)}" y="${n(y(value) - 4)}" width="8" height="8"/>`,
    )
    .join('');
  const dash = dashes[strip.ink] === '' ? '' : ` stroke-dasharray="${dashes[strip.ink]}"`;
  return (
    settled +
    grid +
    `<path class="k-${strip.ink}" stroke-width="1.8"${dash} d="${linePath(strip, x, y)}"/>` +
    readings +
    `<text class="f-ink b halo" x="${LEFT}" y="${top - 4}">${svgSubscripts(strip.title)}</text>`
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
