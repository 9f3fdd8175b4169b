/**
 * One channel's history for charts: every sample for a while, then low and high of ever longer stretches, so that a day at ten
 * samples a second stays small and a look at any stretch of it costs the same. A spike of a single sample is never thinned away,
 * and two points are never joined across missing time.
 *
 * Level 0 holds the samples themselves; each row of level k + 1 sums up four rows of level k. Appending is O(1) amortised.
 */
import { createLevel, type Level, type Row } from './level.ts';
import { createPoints } from './points.ts';

export interface Series {
  /** goes up whenever something changed; a chart redraws when it differs from the version drawn last */
  readonly version: number;
  /** samples appended so far */
  readonly count: number;
  readonly firstMs: number | undefined;
  readonly lastMs: number | undefined;
  readonly lastValue: number | undefined;
  /**
   * @param timeMs run time; a time before the last one is taken as the last one
   * @throws RangeError on a number that is not finite (absent values are not appended; call `gap`)
   */
  append(timeMs: number, value: number): void;
  /** What comes next is not joined to what was before: unplugged, absent, excluded. */
  gap(): void;
  /**
   * Low and high in about `buckets` equal slots from `fromMs` to `toMs`. Slots sit on multiples of their width, so a chart that
   * scrolls does not shimmer. One neighbour on each side of the range is included, so that lines run out of the picture.
   */
  query(fromMs: number, toMs: number, buckets: number): Columns;
}

/** `breaks` holds the indices at which a new segment starts: row `i` is not joined with row `i - 1`. */
export type Columns = { timeMs: number[]; low: number[]; high: number[]; breaks: number[] };

const FAN_IN = 4;
const SAMPLES_KEPT = 1 << 15;
const ROWS_KEPT = 1 << 14;
/** The levels up to this one reach back some hours only: half the rows. A day at ten a second is all in the next one. */
const SHORT_LEVELS = 2;
const LEVELS = 8; // level 8 alone spans 4^8 x 16 384 samples: 1.2 thousand days at ten a second
const ROWS_PER_BUCKET = 4;

export function createSeries(options: { samplesKept?: number; rowsKept?: number } = {}): Series {
  const levels: Level[] = [createPoints(options.samplesKept ?? SAMPLES_KEPT)];
  // the row being gathered for each level above 0
  const open: (Row & { parts: number })[] = [];
  let version = 0;
  let count = 0;
  let firstMs: number | undefined;
  let lastMs: number | undefined;
  let lastValue: number | undefined;
  let startsSegment = false;

  /** Adds a finished row of `level - 1` to the row being gathered for `level`. */
  const gather = (level: number, row: Row): void => {
    if (level > LEVELS) return;
    const gathering = (open[level] ??= { fromMs: 0, toMs: 0, low: 0, high: 0, startsSegment: false, parts: 0 });
    if (gathering.parts === 0) {
      gathering.fromMs = row.fromMs;
      gathering.low = row.low;
      gathering.high = row.high;
      gathering.startsSegment = row.startsSegment;
    } else {
      if (row.low < gathering.low) gathering.low = row.low;
      if (row.high > gathering.high) gathering.high = row.high;
      gathering.startsSegment ||= row.startsSegment;
    }
    gathering.toMs = row.toMs;
    gathering.parts++;
    if (gathering.parts === FAN_IN) close(level);
  };
  const close = (level: number): void => {
    const row = open[level];
    if (row === undefined || row.parts === 0) return;
    (levels[level] ??= createLevel(options.rowsKept ?? (level > SHORT_LEVELS ? ROWS_KEPT : ROWS_KEPT / 2))).push(row);
    row.parts = 0;
    gather(level + 1, row);
  };

  /** A row may not span missing time that is long against the row itself; short drop-outs do not stop the thinning. */
  const closeOverGap = (nextMs: number): void => {
    const missingMs = nextMs - (lastMs ?? nextMs);
    const spacingMs = count > 1 ? ((lastMs ?? 0) - (firstMs ?? 0)) / (count - 1) : 0;
    for (let level = 1, spanMs = spacingMs * FAN_IN; level < open.length; level++, spanMs *= FAN_IN) {
      if (missingMs * 2 > spanMs) close(level);
    }
  };

  const raw: Row = { fromMs: 0, toMs: 0, low: 0, high: 0, startsSegment: false };
  return {
    get version() {
      return version;
    },
    get count() {
      return count;
    },
    get firstMs() {
      return firstMs;
    },
    get lastMs() {
      return lastMs;
    },
    get lastValue() {
      return lastValue;
    },
    append(timeMs, value) {
      if (!Number.isFinite(value) || !Number.isFinite(timeMs)) throw new RangeError(`series point ${timeMs}, ${value}`);
      const time = lastMs !== undefined && timeMs < lastMs ? lastMs : timeMs;
      if (startsSegment) closeOverGap(time);
      raw.fromMs = raw.toMs = time;
      raw.low = raw.high = value;
      raw.startsSegment = startsSegment;
      levels[0]?.push(raw);
      gather(1, raw);
      startsSegment = false;
      firstMs ??= time;
      lastMs = time;
      lastValue = value;
      count++;
      version++;
    },
    gap() {
      if (startsSegment || count === 0) return;
      startsSegment = true;
      version++;
    },
    query(fromMs, toMs, buckets) {
      const columns: Columns = { timeMs: [], low: [], high: [], breaks: [] };
      if (count === 0 || !(toMs >= fromMs) || buckets < 1) return columns;
      const level = chooseLevel(levels, fromMs, toMs, buckets * ROWS_PER_BUCKET);
      const collect = createCollector(columns, Math.max((toMs - fromMs) / buckets, 1e-9));
      const rows = levels[level] as Level;
      let index = Math.max(0, rows.firstEndingAtOrAfter(fromMs) - 1);
      let done = false;
      for (; index < rows.size && !done; index++) {
        collect.add(rows.fromMs(index), rows.toMs(index), rows.low(index), rows.high(index), rows.startsSegment(index));
        done = rows.fromMs(index) > toMs;
      }
      // what has not filled a row of this level yet
      for (let below = level; below >= 1 && !done; below--) {
        const row = open[below];
        if (row === undefined || row.parts === 0) continue;
        collect.add(row.fromMs, row.toMs, row.low, row.high, row.startsSegment);
        done = row.fromMs > toMs;
      }
      collect.finish();
      return columns;
    },
  };
}

/** The finest level that reaches back to `fromMs` (or as far as anything does) and needs no more than `most` rows; else the coarsest. */
function chooseLevel(levels: readonly Level[], fromMs: number, toMs: number, most: number): number {
  const filled = levels.flatMap((level, index) => (level.size > 0 ? [{ level, index }] : []));
  const oldestMs = Math.min(...filled.map(({ level }) => level.fromMs(0)));
  const reaching = filled.filter(({ level }) => level.fromMs(0) <= Math.max(fromMs, oldestMs));
  const fits = reaching.find(({ level }) => level.firstEndingAtOrAfter(toMs) - level.firstEndingAtOrAfter(fromMs) <= most);
  return (fits ?? reaching[reaching.length - 1])?.index ?? 0;
}

/** Merges rows into slots of equal width; a segment's start opens a second row in its slot, but never a third. */
function createCollector(columns: Columns, width: number) {
  let slot = Number.NaN;
  let rowsInSlot = 0;
  let from = 0;
  let to = 0;
  let low = 0;
  let high = 0;
  let isOpen = false;

  const finish = (): void => {
    if (!isOpen) return;
    columns.timeMs.push(from + (to - from) / 2);
    columns.low.push(low);
    columns.high.push(high);
  };
  return {
    add(rowFrom: number, rowTo: number, rowLow: number, rowHigh: number, startsSegment: boolean): void {
      const rowSlot = Math.floor(rowFrom / width);
      const isNewSlot = rowSlot !== slot;
      const splits = startsSegment && isOpen && rowsInSlot < 2;
      if (isNewSlot || splits) {
        finish();
        rowsInSlot = isNewSlot ? 1 : rowsInSlot + 1;
        slot = rowSlot;
        if (startsSegment && columns.timeMs.length > 0) columns.breaks.push(columns.timeMs.length);
        from = rowFrom;
        to = rowTo;
        low = rowLow;
        high = rowHigh;
        isOpen = true;
        return;
      }
      to = rowTo;
      if (rowLow < low) low = rowLow;
      if (rowHigh > high) high = rowHigh;
    },
    finish,
  };
}
