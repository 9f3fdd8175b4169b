import type { FieldPlace, LineCheck } from '../../../measurement/recipe.ts';
import type { Shape } from '../../../measurement/recipe-shape.ts';
import type { SentUnit } from '../../../measurement/sent-unit.ts';
import { classicSentinel } from '../../reading/sentinels.ts';
import { plainNumber, readValue, type NumberStyle } from '../../reading/read-number.ts';
import { unitMeaning, type ForeignQuantity } from '../../unit-meaning.ts';
import { nameMeaning, type NameMeaning } from '../names/column-name.ts';
import { multiplierIn, type Multiplier } from '../../multiplier.ts';
import type { LineReason } from '../line-reason.ts';
import { defined } from '../../../defined.ts';

/** A column, key, path, register or slice, over all lines that a shape can read. */
export type Column = {
  readonly at: FieldPlace;
  readonly name: string;
  readonly meaning: NameMeaning;
  /** the unit named by the header, a row of units, or behind the values */
  readonly unit: SentUnit | undefined;
  /** a unit that no channel is sent in: this column is none */
  readonly foreign?: { readonly quantity: ForeignQuantity; readonly text: string } | undefined;
  /** the unit as it was sent, for the eye */
  readonly unitText?: string | undefined;
  /** beside the name or the unit; where its factor is known, values and statistics are already multiplied by it */
  readonly multiplier?: Multiplier | undefined;
  /** the key came twice in a line, with two values */
  readonly isTwofold?: boolean | undefined;
  readonly texts: readonly string[];
  /** undefined where the text is no number */
  readonly values: readonly (number | undefined)[];
  readonly statistics: Statistics | undefined;
  /** factors that may stand between the digits and the value (registers, fixed width, decimals left out) */
  readonly scales: readonly number[];
  /** values that stand for 'no value' and were left out of the statistics */
  readonly sentinels: readonly number[];
};

export type Statistics = {
  readonly count: number;
  /** share of the rows that hold a number */
  readonly share: number;
  readonly low: number;
  readonly high: number;
  readonly median: number;
  readonly spread: number;
  /** median step between neighbours, absolute */
  readonly step: number;
  /** 90th percentile of the steps */
  readonly bigStep: number;
  readonly decimals: number;
  readonly distinct: number;
  readonly negativeShare: number;
};

export type Table = {
  readonly shape: Shape;
  readonly columns: readonly Column[];
  readonly rows: number;
  /** share of the lines that carry digits which this shape reads */
  readonly share: number;
  readonly style: NumberStyle;
  readonly check: LineCheck;
  readonly prompts: readonly string[];
  readonly reasons: readonly LineReason[];
  /** how much the shape itself is liked where two read the same */
  readonly preference: number;
  /** a banner above says that CO is corrected to a reference, in its words */
  readonly coBasis?: string | undefined;
  /** rows of gains or factors stand above the numbers: they may be raw counts */
  readonly hasFactors?: boolean | undefined;
  /** a head names columns, but which name is whose is not known */
  readonly hasUnfitHead?: boolean | undefined;
  /** the same keys come behind different tags: lines of two instruments */
  readonly isMixed?: boolean | undefined;
  /** characters of the longest line */
  readonly longestLine?: number | undefined;
  /** beginnings of lines that belong to the head: names, units, gains, means */
  readonly headPrefixes?: readonly string[] | undefined;
};

/** what boards send for 'no value', common practice; see `fault-codes.ts` for when it comes later */
const CODE = -1;
const LEAST_BESIDE_CODE = 1.5;

/** Classic sentinels that stand far apart from everything else in the column. */
function sentinelsAmong(values: readonly (number | undefined)[]): number[] {
  const present = new Set<number>();
  let low = Infinity;
  let high = -Infinity;
  let hasCode = false;
  for (const value of values) {
    if (value === undefined) continue;
    if (classicSentinel(value) !== undefined) present.add(value);
    else if (value === CODE) hasCode = true;
    else {
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
  }
  // -1 far below all others is no value, and would make any gas impossible; a cell that drifts around nought has others near it.
  if (hasCode && low >= LEAST_BESIDE_CODE) present.add(CODE);
  // Nothing else in the column: a channel that has not shown a value yet.
  if (high < low) return [...present].filter((value) => Math.abs(value) >= 999);
  return [...present].filter((value) => value === CODE || (value > 0 ? value > 3 * Math.max(high, 1) : value < 3 * Math.min(low, 0) - 30));
}

const quantile = (sorted: Float64Array, q: number): number =>
  sorted[Math.min(sorted.length - 1, Math.max(0, Math.round(q * (sorted.length - 1))))] ?? 0;

/** Digits behind the first mark that has any. */
function decimalsOf(text: string): number {
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code !== POINT && code !== COMMA) continue;
    let end = at + 1;
    while (end < text.length && isDigit(text.charCodeAt(end))) end += 1;
    if (end === at + 1) continue;
    // 7.62E+1 is known to a tenth.
    const exponent = end === text.length ? null : /[eE]([+-]?\d{1,2})/.exec(text);
    return Math.max(0, end - at - 1 - (exponent === null ? 0 : Number(exponent[1])));
  }
  return 0;
}
const POINT = 46;
const COMMA = 44;
const isDigit = (code: number): boolean => code >= 48 && code <= 57;

function statisticsOf(values: readonly (number | undefined)[], texts: readonly string[], factor: number): Statistics | undefined {
  const numbers = new Float64Array(values.length);
  let count = 0;
  let negative = 0;
  const decimals = new Map<number, number>();
  for (let row = 0; row < values.length; row++) {
    const value = values[row];
    if (value === undefined) continue;
    numbers[count++] = value;
    if (value < 0) negative += 1;
    const places = decimalsOf(texts[row] ?? '');
    decimals.set(places, (decimals.get(places) ?? 0) + 1);
  }
  if (count < 2) return undefined;
  const steps = new Float64Array(count - 1);
  for (let at = 1; at < count; at++) steps[at - 1] = Math.abs((numbers[at] ?? 0) - (numbers[at - 1] ?? 0));
  steps.sort();
  const sorted = numbers.subarray(0, count).sort();
  let distinct = 1;
  for (let at = 1; at < count; at++) if (sorted[at] !== sorted[at - 1]) distinct += 1;
  let mode = 0;
  let most = 0;
  for (const [places, times] of decimals) {
    if (times <= most) continue;
    mode = places;
    most = times;
  }
  const low = quantile(sorted, 0.04);
  const high = quantile(sorted, 0.96);
  return {
    count,
    share: count / Math.max(1, values.length),
    low,
    high,
    median: quantile(sorted, 0.5),
    spread: high - low,
    step: quantile(steps, 0.5),
    bigStep: quantile(steps, 0.9),
    decimals: Math.max(0, mode - Math.round(Math.log10(factor))),
    distinct,
    negativeShare: negative / count,
  };
}

export type ColumnParts = {
  at: FieldPlace;
  name: string;
  unit?: SentUnit | undefined;
  /** the cell of a row of units, as it is */
  unitText?: string | undefined;
  texts: readonly string[];
  style: NumberStyle;
  scales?: readonly number[];
  isTwofold?: boolean | undefined;
};

/** share of the lines from where a key with two values is no slip of a few lines */
const TWOFOLD_SHARE = 0.05;
export const isTwofoldIn = (times: number, rows: number): boolean => times > Math.max(1, rows * TWOFOLD_SHARE);

/** text in brackets after a name; it need not be a unit */
const vague: readonly ForeignQuantity[] = ['unknown', 'angle', 'time', 'date', 'text'];

/** Values as numbers, statistics, and the unit where most values carry the same. */
export function makeColumn({ at, name, unit: given, unitText, texts, style, scales = [1], isTwofold }: ColumnParts): Column {
  const meaning = nameMeaning(name);
  const units = new Map<SentUnit, number>();
  let count = 0;
  const isPlainStyle = style.thousands === 'none';
  const values = texts.map((text) => {
    const plain = isPlainStyle ? plainNumber(text, style.decimal) : undefined;
    if (plain !== undefined) {
      count += 1;
      return plain;
    }
    const read = readValue(text, style);
    if (read.kind !== 'number') return undefined;
    count += 1;
    if (read.unit !== undefined) units.set(read.unit, (units.get(read.unit) ?? 0) + 1);
    return read.value;
  });
  const sentinels = sentinelsAmong(values);
  if (sentinels.length > 0)
    for (const [row, value] of values.entries()) if (value !== undefined && sentinels.includes(value)) values[row] = undefined;
  const inUnit = unitText === undefined ? undefined : multiplierIn(unitText);
  const multiplier = inUnit?.multiplier ?? meaning.multiplier;
  const factor = multiplier?.factor ?? 1;
  if (factor !== 1)
    for (const [row, value] of values.entries()) if (value !== undefined) values[row] = Number((value * factor).toPrecision(12));
  const cell = unitText === undefined ? undefined : unitMeaning(inUnit?.rest ?? unitText, true);
  const unit = given ?? (cell?.kind === 'sent' ? cell.unit : undefined);
  const glued = [...units].sort((a, b) => b[1] - a[1])[0];
  const behind = count < texts.length * 0.5 ? foreignBehind(texts) : undefined;
  // A name that says another unit than the row of units says against it: neither overrules the other.
  const isClear = meaning.foreign !== undefined && !vague.includes(meaning.foreign.quantity);
  const foreign =
    behind ??
    (cell?.kind === 'foreign' ? { quantity: cell.quantity, text: cell.text } : unit === undefined || isClear ? meaning.foreign : undefined);
  return {
    at,
    name,
    meaning,
    ...defined({ foreign, multiplier, isTwofold }),
    unitText: unitText ?? foreign?.text,
    unit: (glued !== undefined && glued[1] >= count * 0.5 ? glued[0] : undefined) ?? unit ?? meaning.unit,
    texts,
    values,
    statistics: statisticsOf(values, texts, factor),
    scales,
    sentinels,
  };
}

/** '2.11V', '12 kg': numbers with a unit that no channel is sent in. */
function foreignBehind(texts: readonly string[]): Column['foreign'] {
  const seen = new Map<string, { times: number; foreign: NonNullable<Column['foreign']> }>();
  for (const text of texts.slice(0, 60)) {
    const unit = /^\s*[<>]?[+-]?[\d.,]+(?:e[+-]?\d+)?\s*([^\d\s.,;][^\s;,]{0,15})\s*$/i.exec(text)?.[1];
    const said = unit === undefined ? undefined : unitMeaning(unit, true);
    if (said?.kind !== 'foreign') continue;
    const row = seen.get(said.text) ?? { times: 0, foreign: { quantity: said.quantity, text: said.text } };
    row.times += 1;
    seen.set(said.text, row);
  }
  return [...seen.values()].find(({ times }) => times >= 3)?.foreign;
}

const groupsOfComma = /^[<>]?[+-]?[1-9]\d{0,2}(,\d{3})+(?![\d.,])/;
const groupsOfPoint = /^[<>]?[+-]?[1-9]\d{0,2}(\.\d{3})+(?![\d.,])/;
const groups = (mark: ',' | '.'): RegExp => (mark === ',' ? groupsOfComma : groupsOfPoint);

/** Which decimal mark and thousands mark the values use. */
export function styleOf(cells: Iterable<string>, commaIsDelimiter: boolean): NumberStyle {
  let point = 0;
  let comma = 0;
  let thousandsComma = 0;
  let thousandsPoint = 0;
  let apostrophe = 0;
  let blank = 0;
  let underscore = 0;
  let commaGroups = 0;
  let pointGroups = 0;
  for (const cell of cells) {
    // Three digits behind the mark: a thousand, or a value to a thousandth.
    if (!commaIsDelimiter && groups(',').test(cell)) commaGroups += 1;
    if (groups('.').test(cell)) pointGroups += 1;
    if (/^[<>]?[+-]?\d+\.\d+(?!\.)/.test(cell) && !/\d\.\d+\.\d/.test(cell)) point += 1;
    if (!commaIsDelimiter && /^[<>]?[+-]?\d+,\d+/.test(cell) && !/\d,\d+[,.]\d/.test(cell)) comma += 1;
    if (!commaIsDelimiter && /\d,\d{3}(\.\d|,\d{3})/.test(cell)) thousandsComma += 1;
    if (/\d\.\d{3}(,\d|\.\d{3})/.test(cell)) thousandsPoint += 1;
    if (/\d['\u2019]\d{3}(?!\d)/.test(cell)) apostrophe += 1;
    if (/^[+-]?\d{1,3}[ \u00a0\u2009\u202f]\d{3}([.,]\d+)?(?!\d)/.test(cell)) blank += 1;
    if (/\d_\d{3}(?!\d)/.test(cell)) underscore += 1;
  }
  const thousands =
    apostrophe > 0
      ? 'apostrophe'
      : blank > 0
        ? 'blank'
        : underscore > 0
          ? 'underscore'
          : (thousandsComma > 0 && comma <= point) || (commaGroups > 0 && comma === commaGroups && point > 0 && pointGroups === 0)
            ? 'comma'
            : thousandsPoint > 0 || (pointGroups > 0 && point === pointGroups && comma > 0 && commaGroups === 0)
              ? 'point'
              : 'none';
  return { decimal: thousands === 'point' || (comma > point && thousands !== 'comma') ? ',' : '.', thousands };
}
