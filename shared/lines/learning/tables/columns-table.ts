import { defined, whenDefined } from '../../../defined.ts';
import type { SentUnit } from '../../../measurement/sent-unit.ts';
import { unitMeaning } from '../../unit-meaning.ts';
import { splitColumns } from '../../reading/split-columns.ts';
import { nameMeaning } from '../names/column-name.ts';
import { makeColumn, styleOf, type Column, type Table } from './table.ts';
import { hasTwoNumbers, isSentenceName, mostFrequent } from './cells.ts';
import { findHeader, headPrefixesOf } from './header.ts';
import { findLayouts } from './layouts.ts';
import { commonPrompt, type LinesToLearn } from './lines-to-learn.ts';
import { isOfUse } from './line-pairs.ts';
import { neighbours } from './neighbours.ts';

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

/** a column of letters that say what kind of row it is */
const kindName = /^(kind|type|typ|art|tag|rec\w*|row|id|msg\w*|satz\w*|)$/i;

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
    // a comma that is in a cell all the same was quoted: it parts no columns
    delimiter === 'comma-or-semicolon',
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
    hasUnfitHead: header.isUnfit,
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
  const withNumbers = texts.filter((text) => /\d/.test(text));
  // 'O2 4.1 CO 23': the word in front of every line is the name of its first value
  const isName = isOfUse(mostFrequent(withNumbers.map((text) => /^[^\s=:,;]*/.exec(text)?.[0] ?? ''))?.item ?? '');
  const prompt = isName ? undefined : commonPrompt(withNumbers);
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
