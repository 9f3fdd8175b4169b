import type { StampedLine } from '../measurement/line.ts';
import { cleanLine } from './clean-line.ts';
import { choose, findEncoding, gapsIn } from './learning/choose-lines.ts';
import { coBasisIn } from './learning/names/co-basis.ts';
import { namesGas } from './learning/names/column-name.ts';
import { columnsTables, isWideTable } from './learning/tables/columns-table.ts';
import { cycleTables } from './learning/tables/cycle-table.ts';
import { findCheck } from './learning/find-check.ts';
import { fixedTables } from './learning/tables/fixed-table.ts';
import { mergedTables } from './learning/tables/merged-table.ts';
import { jsonTables } from './learning/tables/json-tables.ts';
import { taggedTables } from './learning/tables/tagged-tables.ts';
import { registersTables } from './learning/tables/registers-table.ts';
import { pairsTables } from './learning/tables/pairs-table.ts';
import { LEAST_LINES, type LearnResult, type Proposal } from './learning/proposal.ts';
import { propose, type Candidate } from './learning/propose-recipe.ts';
import type { Table } from './learning/tables/table.ts';
import type { LinesToLearn } from './learning/tables/lines-to-learn.ts';
import { templateTables } from './learning/tables/template-table.ts';
import { lineForCheck, verifyCheck } from './line-check.ts';
import { peelLog } from './peel-log.ts';
import { unprintableShare } from './wrong-baud.ts';

/** share of the lines that name a gas, from where they have names, though no place for the values */
const SHARE_OF_MESSAGES = 0.3;

/** UTF-16: every second byte of plain text is nought. */
function isTwoBytes(lines: readonly StampedLine[]): boolean {
  let noughts = 0;
  let plain = 0;
  for (const { bytes } of lines.slice(0, 40))
    for (let at = 0; at < bytes.length; at++) {
      const code = bytes.charCodeAt(at);
      if (code === 0) noughts += 1;
      else if (code >= 32 && code < 127) plain += 1;
    }
  return plain >= 20 && noughts >= plain * 0.8 && noughts <= plain * 1.2;
}

/** nearly every line, save torn ones */
const SHARE_OF_ALL = 0.95;
/** a mark behind a value may go once the board is warm */
const ROWS_TO_BE_ALL = 30;

/**
 * Proposes recipes for lines of an instrument that nobody has described, best first. Shapes, checks and clocks are tried on the
 * lines themselves; which column is which is weighed from names, units, ranges and how the numbers move. Pure: the same lines
 * give the same proposals.
 */
export function learn(allLines: readonly StampedLine[]): LearnResult {
  const whole = allLines.filter((line) => line.cutBytes === undefined);
  const lines = choose(whole);
  const lineCount = allLines.length;
  const baud = unprintableShare(lines.length < whole.length ? choose(allLines) : allLines);
  if (baud.isWrong && isTwoBytes(whole)) return { proposals: [], lineCount, trouble: 'utf-16' };
  if (baud.isWrong) return { proposals: [], lineCount, trouble: 'wrong-baud', baud };
  if (whole.length < allLines.length * 0.5) return { proposals: [], lineCount, trouble: 'lines-too-long' };
  if (lines.length < LEAST_LINES) return { proposals: [], lineCount, trouble: 'too-few-lines' };

  const encoding = findEncoding(lines);
  const raw = lines.map(({ bytes }) => bytes);
  const found = findCheck(raw);
  const check = found?.check ?? { kind: 'none' as const };
  const bodies = lines.flatMap(({ bytes, timeMs }) => {
    if (check.kind === 'none') return [{ bytes, timeMs }];
    const verified = verifyCheck(check, lineForCheck(check, bytes));
    // Lines without digits carry headers and names; those with digits have to bear the check.
    return verified.ok ? [{ bytes: verified.body, timeMs }] : /\d.*\d/.test(bytes) && !/[A-Za-z]{2}/.test(bytes) ? [] : [{ bytes, timeMs }];
  });
  const clean = bodies
    .map(({ bytes, timeMs }) => ({ ...cleanLine(bytes, encoding), timeMs }))
    .filter(({ isDirty, text }) => !isDirty && text.trim() !== '');
  const gaps = gapsIn(clean);
  const texts = clean.map(({ text }) => text);
  const peeled = texts.map(peelLog);
  const isLog = peeled.filter((text, at) => text !== texts[at]).length >= texts.length * 0.5;

  const coBasis = coBasisIn(texts);
  const candidates: Candidate[] = [];
  for (const logPrefix of isLog ? [true, false] : [false]) {
    const some = logPrefix ? peeled : texts;
    const toLearn: LinesToLearn = { texts: some, withDigits: some.filter((text) => /\d/.test(text)).length };
    const longestLine = Math.max(0, ...texts.map(({ length }) => length));
    for (const table of tablesOf(toLearn, gaps)) {
      const candidate = propose({ ...table, check, longestLine, coBasis }, { lines, encoding, checkCount: found?.count ?? 0, logPrefix });
      candidates.push(candidate);
    }
    if (candidates.some(({ kind }) => kind === 'proposal')) break;
  }
  // What no usual shape reads whole may still have the same characters between its numbers.
  if (!candidates.some((one) => one.kind === 'proposal' && !leavesUnread(one.proposal)) && !areFrames(texts)) {
    const toLearn: LinesToLearn = { texts, withDigits: texts.filter((text) => /\d/.test(text)).length };
    // lines of another kind must not be left out just where something else is seen in them
    const isOther = candidates.some(({ kind }) => kind === 'proposal');
    for (const table of templateTables(toLearn).filter(({ share, rows }) => !isOther || (share >= SHARE_OF_ALL && rows >= ROWS_TO_BE_ALL)))
      candidates.push(
        propose(
          { ...table, check, coBasis: coBasis ?? table.coBasis },
          { lines, encoding, checkCount: found?.count ?? 0, logPrefix: false },
        ),
      );
  }
  candidates.sort((a, b) => b.rank - a.rank);
  const proposals = namedFirst(candidates.flatMap((one) => (one.kind === 'proposal' ? [one.proposal] : []))).slice(0, 4);
  if (proposals.length > 0) return { proposals, lineCount };
  const [refused] = candidates.flatMap((one) => (one.kind === 'refused' ? [one] : []));
  if (areFrames(texts)) return { proposals: [], lineCount, trouble: 'frames' };
  const trouble = refused?.trouble ?? 'no-shape';
  const isInMessages = trouble === 'no-names' && texts.filter(namesGas).length >= texts.length * SHARE_OF_MESSAGES;
  return { proposals: [], lineCount, trouble: isInMessages ? 'names-in-messages' : trouble, ruledOut: refused?.ruledOut };
}

const leavesUnread = ({ columns }: Proposal): boolean => columns.some(({ evidence }) => evidence.some(({ key }) => key === 'more-behind'));

/** Where names leave a question open, a way to split the same lines that knows no names does not pass it over. */
function namedFirst(proposals: readonly Proposal[]): readonly Proposal[] {
  const isSaid = ({ columns }: Proposal): boolean =>
    columns.some(({ taken, evidence }) => taken !== undefined && evidence.some(({ side, key }) => side === 'for' && key === 'name-says'));
  const [first] = proposals;
  if (first === undefined || first.isOpen || isSaid(first)) return proposals;
  const asked = proposals.find((one) => one.isOpen && isSaid(one));
  return asked === undefined ? proposals : [asked, ...proposals.filter((one) => one !== asked)];
}

/** Bytes written as pairs of hexadecimal digits. */
function areFrames(texts: readonly string[]): boolean {
  const isFrame = (text: string): boolean => /(?:\b[0-9A-Fa-f]{2} ){3}|\b(?=[0-9A-F]*[A-F])[0-9A-F]{16,}\b|"[0-9A-Fa-f]{16,}"/.test(text);
  return texts.filter(isFrame).length >= texts.length * 0.5;
}

function tablesOf(toLearn: LinesToLearn, gaps: Set<number>): Table[] {
  const json = jsonTables(toLearn);
  if (json.length > 0) return json;
  const columns = columnsTables(toLearn);
  if (columns.some(isWideTable)) return columns;
  return [
    ...registersTables(toLearn),
    ...mergedTables(toLearn),
    ...columns,
    ...pairsTables(toLearn, gaps),
    ...taggedTables(toLearn, gaps),
    ...cycleTables(toLearn, gaps),
    ...fixedTables(toLearn),
  ];
}
