/**
 * Sample streams for the learner: an invented burner, written down in forty dialects. Dialects are plain formatting rules; nothing
 * here uses the reader's code. Truth is what was formatted, rounded as it was sent, in the app's inner units.
 */
import type { StampedLine } from '../../../../shared/measurement/line.ts';
import type { Row, Dialect, Scenario } from './dialect.ts';
import { columnDialects } from './column-dialects.ts';
import { wordedDialects } from './worded-dialects.ts';

export const dialects: readonly Dialect[] = [...columnDialects, ...wordedDialects];

/** Small seeded generator (mulberry32), so that the streams are the same on every machine. */
export function seeded(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}
const normal = (random: () => number): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
/** One reading a second: a burner that warms up or runs steadily, and whose air is changed half way. */
export function burnerRows(
  count: number,
  seed: number,
  { o2 = 5.2, co = 34, stack = 212, air = 21.4, cold = true, freshSeconds = 0 }: Scenario = {},
): Row[] {
  const random = seeded(seed);
  const rows: Row[] = [];
  let wander = 0;
  for (let t = 0; t < count; t++) {
    wander = 0.95 * wander + 0.02 * normal(random);
    const fresh = t < freshSeconds ? 1 : Math.exp(-(t - freshSeconds) / 6) * (freshSeconds > 0 ? 1 : 0);
    const changed = t > count * 0.55 ? 1 - Math.exp(-(t - count * 0.55) / 8) : 0;
    const flame = o2 + wander + 0.04 * normal(random) + 1.3 * changed;
    const oxygen = fresh * 20.9 + (1 - fresh) * flame;
    const rise = cold ? 1 - Math.exp(-(t + 25) / 90) : 1;
    rows.push({
      t,
      o2: oxygen,
      co: Math.max(0, (1 - fresh) * (co * (1 + 1.5 * Math.exp(-t / 20)) * (1 - 0.3 * changed) + Math.max(1, co * 0.05) * normal(random))),
      stack: air + (stack - air) * rise + 0.3 * normal(random) - 4 * changed,
      air: air + 0.3 * (t / 300) + 0.05 * normal(random),
      co2: 15.4 * (1 - oxygen / 20.946),
      no: (1 - fresh) * (72 - 4 * changed + normal(random)),
      draft: -4.5 - 6 * rise + 0.4 * normal(random),
    });
  }
  return rows;
}
export type Disturbance =
  | 'none'
  | 'cut first line'
  | 'missing fields'
  | 'noise bytes'
  | 'mixed line ends'
  | 'decimal comma'
  | 'changing column count';
export const disturbances: readonly Disturbance[] = [
  'none',
  'cut first line',
  'missing fields',
  'noise bytes',
  'mixed line ends',
  'decimal comma',
  'changing column count',
];
export type Stream = {
  readonly bytes: Uint8Array;
  readonly lines: StampedLine[];
  readonly rows: readonly Row[];
  readonly spoiled: ReadonlySet<number>;
};
const delimiterOf = (line: string): string | undefined => [';', '\t', '|', ','].find((mark) => line.split(mark).length > 3);
/** One field of the line is left empty, or its value is replaced by bars; the shape stays. */
function dropField(line: string, random: () => number): string | undefined {
  const mark = delimiterOf(line);
  if (mark !== undefined && !line.startsWith('{')) {
    const cells = line.split(mark);
    const at = 1 + Math.floor(random() * (cells.length - 1));
    if (/[A-Za-z=:*]/.test(cells[at] ?? '')) return undefined;
    cells[at] = '';
    return cells.join(mark);
  }
  return undefined;
}
function disturb(
  lines: readonly string[],
  kind: Disturbance,
  random: () => number,
  index: number,
  count: number,
  dialect: Dialect,
): { lines: string[]; isSpoiled: boolean } {
  const copy = [...lines];
  switch (kind) {
    case 'none':
    case 'mixed line ends':
      return { lines: copy, isSpoiled: false };
    case 'cut first line':
      if (index === 0 && copy[0] !== undefined) copy[0] = copy[0].slice(1 + Math.floor(copy[0].length * 0.4));
      return { lines: copy, isSpoiled: index === 0 };
    case 'missing fields': {
      if (random() > 0.12) return { lines: copy, isSpoiled: false };
      const at = Math.floor(random() * copy.length);
      const dropped = dropField(copy[at] ?? '', random);
      if (dropped === undefined) copy.splice(at, 1);
      else copy[at] = dropped;
      return { lines: copy, isSpoiled: true };
    }
    case 'noise bytes': {
      if (random() > 0.1) return { lines: copy, isSpoiled: false };
      const at = Math.floor(random() * copy.length);
      const text = copy[at] ?? '';
      const place = Math.floor(random() * (text.length + 1));
      const noise = Array.from({ length: 1 + Math.floor(random() * 4) }, () =>
        String.fromCharCode([0, 1, 7, 0x1f, 0x7f, 0x80, 0x99, 0xff, 0xfe][Math.floor(random() * 9)] ?? 0),
      ).join('');
      copy[at] = text.slice(0, place) + noise + text.slice(place);
      return { lines: copy, isSpoiled: true };
    }
    case 'decimal comma': {
      if (dialect.isRigid === true || copy.some((line) => line.startsWith('{') || line.startsWith('$')))
        return { lines: copy, isSpoiled: false };
      const isComma = copy.some((line) => line.split(',').length > 2 && !line.includes(';'));
      return { lines: copy.map((line) => (isComma ? line.replaceAll(',', ';') : line).replace(/(\d)\.(\d)/g, '$1,$2')), isSpoiled: false };
    }
    case 'changing column count': {
      if (dialect.isRigid === true || index < count / 2) return { lines: copy, isSpoiled: false };
      return {
        lines: copy.map((line, at) => {
          const mark = delimiterOf(line);
          if (line.startsWith('{')) return `${line.slice(0, -1)},"extra":${7 + at}}`;
          if (line.startsWith('$') || at > 0 || line.startsWith('>')) return line;
          if (line.includes('=')) return `${line}${mark ?? ' '}XX=7.1`;
          return mark === undefined ? line : `${line}${line.endsWith(mark) ? '' : mark}7.1${line.endsWith(mark) ? mark : ''}`;
        }),
        isSpoiled: false,
      };
    }
  }
}
/** The bytes of a dialect, with one disturbance; every line stamped with the second of its row. */
export function makeStream(dialect: Dialect, kind: Disturbance, seed: number, count = 90): Stream {
  const random = seeded(seed * 7919 + disturbances.indexOf(kind));
  const rows = burnerRows(count, seed, dialect.scenario);
  const lines: StampedLine[] = [];
  const spoiled = new Set<number>();
  let text = '';
  const push = (timeMs: number, line: string, at: number): void => {
    const ends = ['\r\n', '\n', '\r', '\r\n\r\n', '\n\r'];
    text += line + (kind === 'mixed line ends' ? (ends[at % ends.length] ?? '\n') : (dialect.end ?? '\r\n'));
    if (line !== '') lines.push({ timeMs, bytes: line });
  };
  let at = 0;
  const heads =
    kind === 'cut first line' && dialect.head !== undefined
      ? [dialect.head[0]?.slice(3) ?? '', ...dialect.head.slice(1)]
      : (dialect.head ?? []);
  for (const line of heads)
    push(0, kind === 'decimal comma' && line.includes(',') && !line.includes(';') ? line.replaceAll(',', ';') : line, at++);
  for (const [index, row] of rows.entries()) {
    const isHeadCut = kind === 'cut first line' && dialect.head !== undefined;
    const { lines: disturbed, isSpoiled } = isHeadCut
      ? { lines: [...dialect.lines(row, index)], isSpoiled: false }
      : disturb(dialect.lines(row, index), kind, random, index, count, dialect);
    if (isSpoiled) spoiled.add(index);
    for (const line of disturbed) push(index * 1000, line, at++);
  }
  return { bytes: Uint8Array.from(text, (char) => char.charCodeAt(0) & 255), lines, rows, spoiled };
}
