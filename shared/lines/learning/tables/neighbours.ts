import type { SentUnit } from '../../../measurement/sent-unit.ts';
import { unitFromText } from '../../unit-spellings.ts';
import { nameMeaning } from '../names/column-name.ts';
import { isNumeric, isSentenceName, mostFrequent } from './cells.ts';

/** What a column of its own says about its line; it names no number beside it. */
const isVerdict = (text: string): boolean => /^(ok|okay|valid|good|on|off)$/i.test(text.trim());

/** Text columns that only say what stands beside them: a unit behind a value, a name before it. */
export function neighbours(
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
