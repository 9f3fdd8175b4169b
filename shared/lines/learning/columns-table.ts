import type { SentUnit } from '../../measurement/recipe.ts';
import { readValue, type NumberStyle } from '../read-number.ts';
import { unitFromText, unitMeaning } from '../sent-units.ts';
import { splitColumns } from '../split-columns.ts';
import { nameMeaning } from './column-name.ts';
import { makeColumn, styleOf, type Column, type Table } from './table.ts';
import { defined, whenDefined } from '../../defined.ts';

export const mostFrequent = <T>(items: Iterable<T>): { item: T; count: number } | undefined => {
  const counts = new Map<T, number>();
  for (const item of items) counts.set(item, (counts.get(item) ?? 0) + 1);
  let best: { item: T; count: number } | undefined;
  for (const [item, count] of counts) if (best === undefined || count > best.count) best = { item, count };
  return best;
};

/** More columns than a recipe holds. */
const MOST_COLUMNS = 512;
/** a wide table is judged from its names and units; so many rows show what the numbers are */
const WIDE = 64;
const ROWS_OF_WIDE = 100;
/** and so many of a column that its name or unit rules out */
const ROWS_OF_EXCLUDED = 16;
/** so many rows of a wide table show which decimal mark it writes */
const ROWS_OF_STYLE = 8;
/** share of the lines that a delimiter splits alike, from where a wide table is settled */
const SURE_OF_WIDE = 0.9;
/** signs that are in clocks, dates and names too */
const softDelimiters: readonly string[] = ['blanks', 'comma-or-semicolon', '/', ':'];

const startsNumber = /^[<>]?[+\-(\u2212]?\s*[.,]?\d/;
const isNumeric = (cell: string): boolean => startsNumber.test(cell);
const hasTwoNumbers = (cells: readonly string[]): boolean => {
  const first = cells.findIndex(isNumeric);
  return first >= 0 && cells.some((cell, at) => at > first && isNumeric(cell));
};
const timeUnit = /^[[(]?(s|sec|ms|min|h|hh:mm:ss|hh:mm|dd\.mm\.yy(yy)?)[\])]?$/i;

/** Header cells to as many names as there are columns: units and second words join the word before. */
function fitNames(text: string, delimiter: string, count: number): string[] | undefined {
  // A per cent sign in front is a comment in some tables, and the first unit in others.
  const asIs = splitColumns(text.trim(), delimiter, true).texts;
  const bare = asIs[0] === '%' && asIs.length >= count - 1 ? text : text.replace(/^\s*(?:#+|\/\/|;|!|\*+|%\s)\s*/, '');
  const cells = splitColumns(bare, delimiter, true).texts;
  if (cells.length === count + 1 && cells[count] === '') cells.pop();
  if (cells.length === count) return cells;
  // Row numbers have no name; nor has what ends every line.
  if (cells.length === count - 1 && cells.every((cell) => cell !== '')) return ['', ...cells];
  if (delimiter !== 'blanks') return undefined;
  const wide = bare.trim().split(/\s{2,}|\t+/);
  if (wide.length === count) return wide;
  const joined: string[] = [];
  for (const cell of cells) {
    const last = joined.at(-1);
    const isUnit = unitFromText(cell) !== undefined && !/^(c|f|k)$/.test(cell);
    if (last !== undefined && (isUnit || /^[[(/]/.test(cell) || timeUnit.test(cell))) joined[joined.length - 1] = `${last} ${cell}`;
    else joined.push(cell);
  }
  return joined.length === count ? joined : undefined;
}

type Header = {
  names: string[] | undefined;
  /** the cells of a row of units, as they are */
  units: string[] | undefined;
  /** the names are a line of the table as it is, which the reader may follow when it comes again */
  isWhole: boolean;
  hasFactors: boolean;
};

/** a column of letters that say what kind of row it is */
const kindName = /^(kind|type|typ|art|tag|rec\w*|row|id|msg\w*|satz\w*|)$/i;
const unitsWord = /^#*\s*(units?|einheit(en)?|unit[eé]s?|unidad(es)?|unit[aà])\s*:?$/i;
const factorsWord = /^#*\s*(chan(nel)? gain|gain|offset|factor|faktor|slope|intercept|scale|coef\w*|cal\w*|[ABCD])\s*:?$/;
const isNameCell = (cell: string): boolean => !isNumeric(cell) || /[A-Za-z]{2}/.test(cell);

const knownNames = (line: string, delimiter: string, count: number): number =>
  fitNames(line, delimiter, count)?.filter((cell) => Object.keys(nameMeaning(cell).roles).length > 0).length ?? 0;

/** The line that names the columns, a row of units above or below it, and rows of gains or factors. */
function findHeader(lines: readonly string[], delimiter: string, count: number): Header {
  const header: Header = { names: undefined, units: undefined, isWhole: true, hasFactors: false };
  let namesScore = -1;
  for (const line of lines) {
    const isComment = /^\s*(#|\/\/|;)/.test(line);
    if (!/[A-Za-z%\u00c0-\u024f]/.test(line)) {
      if (isComment && (line.match(/\d[.,]\d|,[.]\d/g) ?? []).length >= 2) header.hasFactors = true;
      continue;
    }
    const cells = fitNames(line, delimiter, count);
    const first = (line.split(delimiter === 'blanks' ? /\s+/ : delimiter)[0] ?? '').trim();
    if (factorsWord.test(first) && cells !== undefined && cells.filter(isNumeric).length >= 2) header.hasFactors = true;
    if (cells === undefined) continue;
    const bare = cells.filter((cell) => cell !== '' && cell !== '-');
    const unitCount = bare.filter((cell) => unitMeaning(cell) !== undefined || timeUnit.test(cell)).length;
    const isLabelled = unitsWord.test(first);
    const isUnits =
      unitCount >= 2 &&
      unitCount >= (bare.length - 1) * 0.8 &&
      // single letters could be names themselves, unless another line names the columns
      (bare.some((cell) => /[%[(/°]|.{2}/.test(cell)) || lines.some((other) => other !== line && knownNames(other, delimiter, count) > 0));
    if (isLabelled || isUnits) {
      header.units ??= isLabelled && unitMeaning(cells[0] ?? '') === undefined ? ['', ...cells.slice(1)] : cells;
      continue;
    }
    if (cells.filter(isNameCell).length < cells.length * 0.9) continue;
    const letters = cells.filter((cell) => /[A-Za-z\u00c0-\u024f]/.test(cell)).length;
    if (letters < 2 || letters * 2 < count) continue;
    const known = knownNames(line, delimiter, count);
    if (known > namesScore) {
      header.names = cells;
      const own = splitColumns(line, delimiter, true).texts;
      header.isWhole = own.length === count || (own.length === count + 1 && own[count] === '');
      namesScore = known;
    }
  }
  return header;
}

/** Beginnings of lines of the head that the reader would take for readings: gains, means, factors. */
function headPrefixesOf(lines: readonly string[], delimiter: string, count: number): string[] {
  if (delimiter === 'blanks') return [];
  const firstOf = (line: string): string => line.slice(0, Math.max(0, line.indexOf(delimiter)));
  const split = lines.filter((line) => line.includes(delimiter));
  // Words in front are the head where all that follows begins with a number, and odd lines where most lines do.
  const areNumbers = split.map((line) => /^\s*"?[\d.+-]/.test(line));
  const firstNumber = areNumbers.indexOf(true);
  const isHeadOnly = firstNumber >= 0 && split.length - firstNumber >= 3 && areNumbers.slice(firstNumber).every(Boolean);
  if (!isHeadOnly && areNumbers.filter(Boolean).length < split.length * 0.8) return [];
  const odd = new Set<string>();
  for (const line of split) {
    const first = firstOf(line);
    if (/^\s*#/.test(first)) odd.add('#');
    else if (
      /^[A-Za-z][\w .:-]{0,40}$/.test(first) &&
      line.split(delimiter).length >= Math.min(count, 3) &&
      // a digit in a name ('O2') makes no reading of a line of names
      line
        .split(delimiter)
        .slice(1)
        .some((cell) => isNumeric(cell.trim().replace(/^"/, '')))
    )
      odd.add(`${first}${delimiter}`);
  }
  return [...odd].slice(0, 12);
}

const isSentenceName = (text: string): boolean => /^[$!#@&][A-Za-z]/.test(text);

/** What a column of its own says about its line; it names no number beside it. */
const isVerdict = (text: string): boolean => /^(ok|okay|valid|good|on|off)$/i.test(text.trim());

/** Text columns that only say what stands beside them: a unit behind a value, a name before it. */
function neighbours(
  rows: readonly (readonly string[])[],
  count: number,
): { names: string[]; units: (SentUnit | undefined)[]; isText: boolean[] } {
  const names = new Array<string>(count).fill('');
  const units = new Array<SentUnit | undefined>(count).fill(undefined);
  const isText = new Array<boolean>(count).fill(false);
  const constants = Array.from({ length: count }, (_, at) => {
    // where a number is in more than a fifth of the rows, no word is in four fifths
    let numbers = 0;
    for (const row of rows) {
      if (isNumeric(row[at] ?? '')) numbers += 1;
      if (numbers > rows.length * 0.2) return undefined;
    }
    const top = mostFrequent(rows.map((row) => row[at] ?? ''));
    return top !== undefined &&
      top.count >= rows.length * 0.8 &&
      top.item !== '' &&
      !isNumeric(top.item) &&
      !/^[ap]\.?m\.?$/i.test(top.item)
      ? top.item
      : undefined;
  });
  const isLabelled = constants.filter((text) => text !== undefined).length >= 2;
  // '$FGAS' says what sentence it is, and names no number in it.
  if (isSentenceName(constants[0] ?? '')) {
    constants[0] = undefined;
    isText[0] = true;
  }
  for (let at = 0; at < count; at++) {
    const text = constants[at];
    if (text === undefined) continue;
    const unit = unitFromText(text.replace(/[,;|]+$/, ''));
    if (unit !== undefined && at > 0 && constants[at - 1] === undefined) {
      units[at - 1] = unit;
      isText[at] = true;
    } else if (
      !isVerdict(text) &&
      at + 1 < count &&
      constants[at + 1] === undefined &&
      (isLabelled || Object.keys(nameMeaning(text).roles).length > 0)
    ) {
      // 'cell temperature 44.5': all words before the number name it.
      let from = at;
      while (from > 0 && constants[from - 1] !== undefined && !isText[from - 1]) from -= 1;
      const run = constants.slice(from, at + 1).map((word) => (word ?? '').replace(/[:=;,]+$/, ''));
      names[at + 1] = run.join(' ');
      for (let one = from; one <= at; one++) isText[one] = true;
    }
  }
  return { names, units, isText };
}

/** Rows on each side of a change that are compared. */
const ROWS_BESIDE = 15;

/**
 * Other column counts that stay for a while: where columns were added or left out, by keeping the values close to those of the
 * rows just before. Nothing is said where two places fit alike.
 */
function findLayouts(
  splitRows: readonly (readonly string[])[],
  count: number,
  style: NumberStyle,
): { count: number; from: number; shift: number }[] {
  const layouts: { count: number; from: number; shift: number }[] = [];
  const counts = new Map<number, number>();
  for (const row of splitRows) counts.set(row.length, (counts.get(row.length) ?? 0) + 1);
  for (const [other, times] of counts) {
    if (other === count || times < Math.max(5, splitRows.length * 0.06) || other < 3 || Math.abs(other - count) > 3) continue;
    const change = splitRows.findIndex(
      (row, at) => row.length === other && (splitRows[at - 1]?.length === count || splitRows[at + 1]?.length === count),
    );
    const near = (wanted: number): (readonly string[])[] =>
      splitRows
        .map((row, at) => ({ row, away: Math.abs(at - change) }))
        .filter(({ row }) => row.length === wanted)
        .sort((a, b) => a.away - b.away)
        .slice(0, ROWS_BESIDE)
        .map(({ row }) => row);
    const main = near(count);
    const rows = near(other);
    const medians = Array.from({ length: count }, (_, at) => medianOf(main, at, style));
    const shift = other - count;
    const ends: { from: number; cost: number }[] = [];
    for (let from = 0; from <= Math.min(count, other); from++) {
      if (shift < 0 && from - shift > count) continue;
      let cost = 0;
      for (let at = 0; at < count; at++) {
        if (shift < 0 && at >= from && at < from - shift) continue;
        const here = medianOf(rows, at < from ? at : at + shift, style);
        const there = medians[at];
        if (here === undefined && there === undefined) continue;
        if (here === undefined || there === undefined) cost += 3;
        else
          cost += Math.min(
            3,
            Math.abs(Math.log((Math.abs(here) + 1) / (Math.abs(there) + 1))) + (Math.sign(here) * Math.sign(there) < 0 ? 1 : 0),
          );
      }
      ends.push({ from, cost });
    }
    ends.sort((a, b) => a.cost - b.cost);
    const [first, second] = ends;
    if (first !== undefined && first.cost < 1.5 && (second === undefined || second.cost > first.cost + 0.5))
      layouts.push({ count: other, from: first.from, shift });
  }
  return layouts.slice(0, 4);
}

function medianOf(rows: readonly (readonly string[])[], at: number, style: NumberStyle): number | undefined {
  const values: number[] = [];
  for (const row of rows) {
    const read = readValue(row[at] ?? '', style);
    if (read.kind === 'number') values.push(read.value);
  }
  if (values.length < rows.length * 0.4) return undefined;
  values.sort((a, b) => a - b);
  return values[Math.floor(values.length / 2)];
}

/** Text before the first value that all lines share ('GAS: 4.1,23'), so that it is no part of the first column. */
export function commonPrompt(lines: readonly string[]): string | undefined {
  const starts = lines.map((line) => /^[^0-9+\-.]*/.exec(line)?.[0] ?? '');
  const top = mostFrequent(starts);
  return top !== undefined && top.item.trim() !== '' && top.count >= lines.length * 0.5 && top.item.length <= 40 ? top.item : undefined;
}

export type LinesToLearn = {
  readonly texts: readonly string[];
  /** lines that carry digits: those that a recipe ought to read */
  readonly withDigits: number;
};

const delimiters: readonly (readonly [string, number])[] = [
  [';', 0.3],
  ['\t', 0.3],
  ['|', 0.2],
  [',', 0.2],
  [', ', 0.25],
  ['comma-or-semicolon', -0.2],
  ['blanks', 0],
  ['/', -0.3],
  [':', -0.6],
];

/** Split at any blank, an empty cell between two tabs would vanish, and names and units would slip to their neighbours. */
function areTabTables(lines: readonly string[]): boolean {
  const counts = lines.filter((line) => /\d/.test(line)).map((line) => line.split('\t').length);
  const top = mostFrequent(counts);
  return top !== undefined && top.item > 2 && top.count >= counts.length * 0.9;
}

function tableFor(
  lines: readonly string[],
  withDigits: number,
  delimiter: string,
  preference: number,
  prompt: string | undefined,
): Table | undefined {
  const quoted = lines.some((line) => line.includes('"'));
  if (delimiter !== 'blanks' && delimiter !== 'comma-or-semicolon' && !lines.some((line) => line.includes(delimiter))) return undefined;
  if (delimiter === 'blanks' && areTabTables(lines)) return undefined;
  const stripped = prompt === undefined ? lines : lines.map((line) => (line.startsWith(prompt) ? line.slice(prompt.length) : line));
  // Lines behind a hash are the head where most others have none; so are lines that begin with a word where most begin with a number.
  const isHashed = lines.filter((line) => line.startsWith('#')).length > lines.length * 0.5;
  const beginsWithWord = (line: string): boolean => /^\s*"?[A-Za-z]/.test(line);
  const areWordsHead = stripped.filter(beginsWithWord).length < stripped.length * 0.3;
  const split = stripped
    .filter((line) => (isHashed || !line.startsWith('#')) && !(areWordsHead && beginsWithWord(line)))
    .map((line) => splitColumns(line, delimiter, quoted).texts);
  const data = split.filter(hasTwoNumbers);
  const top = mostFrequent(data.map((cells) => cells.length));
  if (top === undefined || top.item < 2 || top.item > MOST_COLUMNS || top.count < 3 || top.count < withDigits * 0.34) return undefined;
  let count = top.item;
  let rows = data.filter((cells) => cells.length === count);
  if (count > WIDE && rows.length > ROWS_OF_WIDE) {
    const half = ROWS_OF_WIDE / 2;
    rows = [...rows.slice(0, half), ...rows.slice(-half)];
  }
  const rowCount = data.filter((cells) => cells.length === count).length;
  // A delimiter at the end of every line opens no column.
  const isNamedToTheEnd = (): boolean =>
    stripped.some((line) => {
      const cells = splitColumns(line, delimiter, quoted).texts;
      return cells.length === count && cells[count - 1] !== '';
    });
  if (delimiter !== 'blanks' && rows.every((cells) => cells[count - 1] === '') && !isNamedToTheEnd()) {
    count -= 1;
    rows = rows.map((cells) => cells.slice(0, count));
    if (count < 2) return undefined;
  }
  const style = styleOf(
    (count > WIDE ? rows.slice(0, ROWS_OF_STYLE) : rows).flat(),
    delimiter === ',' || delimiter === 'comma-or-semicolon',
  );
  const header = findHeader(stripped, delimiter, count);
  const beside =
    header.names === undefined
      ? neighbours(rows, count)
      : { names: [] as string[], units: [] as (SentUnit | undefined)[], isText: [] as boolean[] };
  const isMarked = isSentenceName(rows[0]?.[0] ?? '');
  const isKind = /^[A-Z]$/.test(rows[0]?.[0] ?? '') && kindName.test(header.names?.[0] ?? 'kind');
  const startsWith = isMarked || isKind ? mostFrequent(rows.map((cells) => cells[0] ?? '')) : undefined;
  // One kind of rows so far: another that comes later is no reading of this table.
  const isSentence = startsWith !== undefined && startsWith.count >= rows.length * (isMarked ? 0.5 : 1);
  if (isSentence) rows = rows.filter((cells) => cells[0] === startsWith.item);

  // 'RAW,1204,88,311': the word in front says what all columns are that have no name of their own.
  const rawWord =
    header.names === undefined
      ? [prompt ?? '', ...beside.names]
          .map((text) => text.replace(/[^A-Za-z ]+/g, ' ').trim())
          .find((text) => nameMeaning(text).excludedBy === 'raw')
      : undefined;
  const columns: Column[] = [];
  for (let at = 0; at < count; at++) {
    if (beside.isText[at] === true) continue;
    const given = header.names?.[at] ?? beside.names[at] ?? '';
    const name = given === '' ? (rawWord ?? '') : given;
    const unitText = header.units?.[at];
    const shown = count > WIDE && isRuledOut(name, unitText) ? rows.slice(0, ROWS_OF_EXCLUDED) : rows;
    columns.push(makeColumn({ at, name, unit: beside.units[at], unitText, texts: shown.map((cells) => cells[at] ?? ''), style }));
  }
  const numeric = columns.filter((column) => (column.statistics?.share ?? 0) > 0.5).length;
  if (numeric < 1 || (numeric < 2 && header.names === undefined)) return undefined;
  // Lines that know no decimal mark leave it to the reader where it belongs.
  const isWhole = numeric >= 3 && columns.every(({ statistics, unit }) => (statistics?.decimals ?? 0) === 0 && unit === undefined);
  if (isWhole)
    for (const [index, column] of columns.entries()) if (column.name === '') columns[index] = { ...column, scales: [0.1, 1, 0.01] };
  const layouts = isSentence ? [] : findLayouts(data, count, style);
  const covered =
    (isSentence ? rows.length : rowCount) + data.filter((cells) => layouts.some((layout) => layout.count === cells.length)).length;
  return {
    shape: {
      kind: 'columns',
      delimiter,
      count,
      layouts,
      quoted,
      ...defined({ header: header.names === undefined || !header.isWhole ? undefined : header.names }),
      ...(isSentence ? { startsWith: startsWith.item } : {}),
    },
    columns,
    rows: rows.length,
    share: Math.min(1, covered / Math.max(1, withDigits)),
    style,
    check: { kind: 'none' },
    prompts: prompt === undefined ? [] : [prompt],
    reasons: [
      { key: 'columns', count, delimiter, lines: isSentence ? rows.length : rowCount, all: withDigits },
      ...whenDefined(header.names, () => ({ key: 'header' }) as const),
      ...whenDefined(header.units, () => ({ key: 'units-row' }) as const),
    ],
    preference: preference + Math.min(0.3, numeric * 0.05),
    hasFactors: header.hasFactors,
    headPrefixes: headPrefixesOf(stripped, delimiter, count),
  };
}

/** Its values decide nothing: it can be neither a channel nor a clock. */
function isRuledOut(name: string, unitText: string | undefined): boolean {
  const { roles, excludedBy, foreign } = nameMeaning(name);
  if (roles.time !== undefined || roles.date !== undefined) return false;
  const cell = unitText === undefined ? undefined : unitMeaning(unitText, true);
  const other = cell?.kind === 'foreign' ? cell : foreign;
  if (other !== undefined) return other.quantity !== 'time' && other.quantity !== 'date';
  return excludedBy !== undefined && excludedBy !== 'time';
}

/** Every delimiter that splits most lines into the same number of columns. */
export function columnsTables({ texts, withDigits }: LinesToLearn): Table[] {
  const tables: Table[] = [];
  const prompt = commonPrompt(texts.filter((text) => /\d/.test(text)));
  // Where cells between semicolons are numbers with one comma, the comma is a decimal mark and no delimiter beside them.
  const withComma = texts
    .slice(0, 200)
    .flatMap((text) => (text.includes(';') && text.includes(',') ? text.split(';').filter((cell) => cell.includes(',')) : []));
  const isDecimalComma = withComma.filter((cell) => /^\s*[<>]?[+-]?\d+,\d+\s*\S{0,5}\s*$/.test(cell)).length > withComma.length * 0.6;
  // Two ways to say the same are looked at once.
  const hasBoth = texts.some((text) => text.includes(';')) && texts.some((text) => text.includes(','));
  const areCommasWide = texts.every((text) => !/,(?! )/.test(text));
  for (const [delimiter, preference] of delimiters) {
    if (delimiter === 'comma-or-semicolon' && (isDecimalComma || !hasBoth)) continue;
    if (delimiter === ',' && areCommasWide) continue;
    const plain = tableFor(texts, withDigits, delimiter, preference, undefined);
    // So many columns in nearly every line are no accident of another sign between them; each further look at them is dear.
    if (plain !== undefined && isWideTable(plain)) return [plain];
    if (plain !== undefined) tables.push(plain);
    // Only where the prompt hides the first value.
    if (prompt !== undefined && !(delimiter !== 'blanks' && prompt.includes(delimiter))) {
      const behind = tableFor(texts, withDigits, delimiter, preference - 0.05, prompt);
      if (behind !== undefined) tables.push(behind);
    }
  }
  return tables;
}

/** Every other shape would only split these lines worse. */
export const isWideTable = ({ shape, share }: Table): boolean =>
  shape.kind === 'columns' && (shape.count ?? 0) > WIDE && share >= SURE_OF_WIDE && !softDelimiters.includes(shape.delimiter);
