/** The head of a table: the line that names its columns, a row of units, rows of gains or factors. */
import { multiplierIn } from '../../multiplier.ts';
import { unitMeaning } from '../../unit-meaning.ts';
import { unitFromText } from '../../unit-spellings.ts';
import { splitColumns } from '../../reading/split-columns.ts';
import { nameMeaning } from '../names/column-name.ts';
import { isNumeric } from './cells.ts';

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
  if (delimiter !== 'blanks') {
    const names = splitOutsideBrackets(bare, delimiter);
    return names.length === count ? names : undefined;
  }
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

/** 'O2 (dry, %),CO (ppm, dry)': a delimiter inside brackets parts no names. */
function splitOutsideBrackets(text: string, delimiter: string): string[] {
  const isDelimiter = (letter: string): boolean => (delimiter === 'comma-or-semicolon' ? ',;' : delimiter).includes(letter);
  const names = [''];
  let depth = 0;
  for (const letter of text) {
    if ('([{'.includes(letter)) depth++;
    if (')]}'.includes(letter)) depth = Math.max(0, depth - 1);
    if (depth === 0 && isDelimiter(letter)) names.push('');
    else names[names.length - 1] += letter;
  }
  return names.map((name) => name.trim());
}

type Header = {
  names: string[] | undefined;
  /** a line names columns, but not as many as there are. The values alone must not tell then: the names may say that a column is something else */
  isUnfit: boolean;
  /** the cells of a row of units, as they are */
  units: string[] | undefined;
  /** the names are a line of the table as it is, which the reader may follow when it comes again */
  isWhole: boolean;
  hasFactors: boolean;
};
const unitsWord = /^#*\s*(units?|einheit(en)?|unit[eé]s?|unidad(es)?|unit[aà])\s*:?$/i;
const factorsWord = /^#*\s*(chan(nel)? gain|gain|offset|factor|faktor|slope|intercept|scale|coef\w*|cal\w*|[ABCD])\s*:?$/;
const isNameCell = (cell: string): boolean => !isNumeric(cell) || /[A-Za-z]{2}/.test(cell);

const knownIn = (cells: readonly string[]): number => cells.filter((cell) => Object.keys(nameMeaning(cell).roles).length > 0).length;
const knownNames = (line: string, delimiter: string, count: number): number => knownIn(fitNames(line, delimiter, count) ?? []);

/** The line that names the columns, a row of units above or below it, and rows of gains or factors. */
export function findHeader(lines: readonly string[], delimiter: string, count: number): Header {
  const header: Header = { names: undefined, isUnfit: false, units: undefined, isWhole: true, hasFactors: false };
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
    if (cells === undefined) {
      const words = splitColumns(line, delimiter, true).texts;
      header.isUnfit ||= !words.some(isNumeric) && knownIn(words) >= 2;
      continue;
    }
    const bare = cells.filter((cell) => cell !== '' && cell !== '-');
    const unitCount = bare.filter((cell) => unitMeaning(multiplierIn(cell)?.rest ?? cell) !== undefined || timeUnit.test(cell)).length;
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
  header.isUnfit &&= header.names === undefined;
  return header;
}

/** Beginnings of lines of the head that the reader would take for readings: gains, means, factors. */
export function headPrefixesOf(lines: readonly string[], delimiter: string, count: number): string[] {
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
