import type { LineRecipe } from '../measurement/recipe.ts';
import type { StampedLine } from '../measurement/line.ts';
import { cleanLine, decodeUtf8 } from './clean-line.ts';
import { buildRecipe } from './learning/build-recipe.ts';
import { cycleTables } from './learning/cycle-table.ts';
import { columnsTables, isWideTable, type LinesToLearn } from './learning/columns-table.ts';
import { namesGas } from './learning/column-name.ts';
import { LINES_FOR_A_CHECK, findCheck } from './learning/find-check.ts';
import { findClock, type FoundClock } from './learning/find-clock.ts';
import { fixedTables } from './learning/fixed-table.ts';
import { judge } from './learning/judge.ts';
import type { ColumnVerdict, Trouble } from './learning/evidence.ts';
import type { LineReason } from './learning/line-reason.ts';
import { mergedTables } from './learning/merged-table.ts';
import { jsonTables, registersTables, taggedTables } from './learning/other-tables.ts';
import { pairsTables } from './learning/pairs-table.ts';
import { templateTables } from './learning/template-table.ts';
import type { Column, Table } from './learning/table.ts';
import { lineForCheck, verifyCheck } from './line-check.ts';
import { peelLog } from './peel-log.ts';
import type { LineRead } from './line-read.ts';
import { createLineReader } from './read-line.ts';
import { unprintableShare, type BaudTrouble } from './wrong-baud.ts';

/** A further choice between two recipes with the same channels; it does not stop the first. */
export type Choice = { readonly key: 'date-order' | 'draft-sign'; readonly recipe: LineRecipe };

export type Proposal = {
  readonly recipe: LineRecipe;
  /** 0 to 1: how sure it is that these are the right channels in the right units */
  readonly confidence: number;
  /** how the lines are built; what each column is, is in `columns` */
  readonly reasons: readonly LineReason[];
  /** the evidence, column by column */
  readonly columns: readonly ColumnVerdict[];
  /** a person has to look at the columns before anything is used */
  readonly isOpen: boolean;
  readonly preview: readonly { readonly bytes: string; readonly read: LineRead }[];
  readonly choices: readonly Choice[];
};

export type LearnResult = {
  /** best first */
  readonly proposals: readonly Proposal[];
  readonly lineCount: number;
  /** why there is no proposal */
  readonly trouble?: Trouble | undefined;
  /** what was seen and ruled out, where there is no proposal */
  readonly ruledOut?: readonly ColumnVerdict[] | undefined;
  readonly baud?: BaudTrouble | undefined;
};

export const LEAST_LINES = 5;
export const MOST_LINES = 200;
/** Files are read further, so that a warm-up shows how the numbers move; in bounded pieces. */
const FILE_LINES = 600;
const PREVIEW_LINES = 8;

/** Long lines of a wide table show with fewer of them what they are: so many characters in all, though never fewer than `LEAST_LONG` lines. */
const MOST_CHARACTERS = 200_000;
const LEAST_LONG = 60;

/** The first lines, and two later stretches of a long stream; of long lines the first and the last. */
function choose(lines: readonly StampedLine[]): readonly StampedLine[] {
  const characters = lines.reduce((sum, { bytes }) => sum + bytes.length, 0);
  const most = Math.max(LEAST_LONG, Math.floor((lines.length * MOST_CHARACTERS) / Math.max(1, characters)));
  if (most < Math.min(lines.length, FILE_LINES)) {
    const last = Math.floor(most / 3);
    return [...lines.slice(0, most - last), ...lines.slice(-last)];
  }
  if (lines.length <= FILE_LINES) return lines;
  const head = lines.slice(0, 300);
  const middle = Math.floor(lines.length / 2);
  return [...head, ...lines.slice(middle, middle + 150), ...lines.slice(-150)];
}

type Encoding = 'latin1' | 'utf8' | 'cp437';
function findEncoding(lines: readonly StampedLine[]): Encoding {
  let high = 0;
  let valid = 0;
  let oldPc = 0;
  for (const { bytes } of lines) {
    if (!/[\u0080-\u00ff]/.test(bytes)) continue;
    high += 1;
    if (!decodeUtf8(bytes).includes('\ufffd')) valid += 1;
    if (/[\u00f8\u00fd\u00e6\u00f1]/.test(bytes)) oldPc += 1;
  }
  if (high === 0) return 'latin1';
  return valid >= high * 0.6 ? 'utf8' : oldPc >= high * 0.6 ? 'cp437' : 'latin1';
}

/** Lines that came after a silence, where lines come in bursts. */
function gapsIn(lines: readonly { readonly timeMs: number }[]): Set<number> {
  const steps = lines.slice(1).map((line, at) => line.timeMs - (lines[at]?.timeMs ?? 0));
  const sorted = [...steps].sort((a, b) => a - b);
  const typical = sorted[Math.floor(sorted.length / 2)] ?? 0;
  const long = sorted[Math.floor(sorted.length * 0.95)] ?? 0;
  const gaps = new Set<number>();
  if (long < 3 * typical + 40) return gaps;
  const limit = (typical + long) / 2;
  for (const [at, step] of steps.entries()) if (step > limit) gaps.add(at + 1);
  return gaps;
}

/** Lines that are always the same and that no table needs: echoes and banners. */
function fixedLines(texts: readonly string[]): string[] {
  const counts = new Map<string, number>();
  for (const text of texts) counts.set(text, (counts.get(text) ?? 0) + 1);
  return [...counts].filter(([text, count]) => count >= 2 && /[A-Za-z*?]/.test(text)).map(([text]) => text);
}

/** Further choices that change no channel: the order of a date, the sign of a draft. */
function choicesFor(table: Table, clock: FoundClock, recipe: LineRecipe): Choice[] {
  const choices: Choice[] = [];
  if (clock.isDateUnclear && recipe.time.kind === 'field')
    choices.push({ key: 'date-order', recipe: { ...recipe, time: { ...recipe.time, date: 'month-day-year' } } });
  const field = recipe.fields.find(({ channel }) => channel === 'draft');
  const column = table.columns.find(({ at }) => field !== undefined && at === field.at);
  if (field !== undefined && (column?.statistics?.median ?? 0) > 0) {
    const fields = recipe.fields.map((one) => (one.channel === 'draft' ? { ...one, scale: -1 } : one));
    choices.push({ key: 'draft-sign', recipe: { ...recipe, fields } });
  }
  return choices;
}

function reasonsFor(table: Table, clock: FoundClock, checkCount: number): LineReason[] {
  const reasons = [...table.reasons];
  if (clock.reason !== undefined) reasons.push({ key: 'clock', clock: clock.reason });
  if (table.check.kind !== 'none') reasons.push({ key: 'check', lines: checkCount, isProbable: checkCount < LINES_FOR_A_CHECK });
  return reasons;
}

type Candidate =
  | { readonly kind: 'proposal'; readonly proposal: Proposal; readonly rank: number }
  | { readonly kind: 'refused'; readonly trouble: Trouble; readonly ruledOut: readonly ColumnVerdict[]; readonly rank: number };

/** A clock is no channel; and what is named like a clock ('t', 's') but does not run is none. */
function judgeClock(column: Column, isClock: boolean): Column {
  if (isClock) return { ...column, statistics: undefined, meaning: { roles: { time: 3 } } };
  return column.meaning.roles.time === undefined || column.statistics === undefined
    ? column
    : { ...column, meaning: { roles: {}, unit: column.meaning.unit, isEmpty: column.meaning.isEmpty } };
}

/** A proposal reads at least so much of the rows that it was learned from. */
const LEAST_OF_ITS_ROWS = 0.5;

/** share of the lines that name a gas, from where they have names, though no place for the values */
const SHARE_OF_MESSAGES = 0.3;

/** fewer readings than these show nothing */
const LEAST_ROWS = 4;

type Proposing = {
  lines: readonly StampedLine[];
  encoding: Encoding;
  checkCount: number;
  logPrefix: boolean;
};

function propose(table: Table, { lines, encoding, checkCount, logPrefix }: Proposing): Candidate {
  const clock = findClock(table);
  const open: Table = { ...table, columns: table.columns.map((column, index) => judgeClock(column, clock.columns.includes(index))) };
  const judged = judge(open, clock, lines.length >= 2 * LEAST_LINES);
  const refused = (trouble: Trouble): Candidate => ({
    kind: 'refused',
    trouble,
    ruledOut: judged.verdicts,
    rank: table.share + 0.15 * table.preference,
  });
  if (judged.isEmpty) {
    const isImpossible = judged.verdicts.some(({ evidence }) => evidence.some(({ key }) => key === 'impossible'));
    const isNamed = table.columns.some(({ name }) => name !== '');
    return refused(isImpossible ? 'impossible' : isNamed ? 'no-gas' : 'no-names');
  }
  // Without a name only plain columns are worth a question: enough of them, in most lines, that read as gases and temperatures.
  const isMute = table.columns.every(({ name, meaning }) => name === '' || meaning.isEmpty === true);
  const isPlainShape = table.shape.kind === 'columns' && ![':', '/'].includes(table.shape.delimiter) && table.share >= 0.6;
  const main = Object.keys(judged.identity.main).length;
  if (isMute && judged.isOpen && !(isPlainShape && main >= 3)) return refused('no-names');
  if (table.rows < LEAST_ROWS) return refused('no-shape');
  const build = (ignoreFirstLine = false, ignorePrefixes: readonly string[] = []): LineRecipe =>
    buildRecipe({ table: open, identity: judged.identity, clock, encoding, ignorePrefixes, ignoreFirstLine, logPrefix });

  // The proposal is judged by what its reader makes of the lines.
  const first = build();
  const trial = createLineReader(first);
  const unread: string[] = [];
  let samples = 0;
  let parts = 0;
  let wanted = 0;
  for (const line of lines) {
    const read = trial.read(line);
    if (read.kind === 'sample') samples += 1;
    else if (read.kind === 'part') parts += 1;
    else if (read.kind === 'rejected') unread.push(line.bytes);
    if (read.kind !== 'ignored') wanted += 1;
  }
  if (samples === 0 || samples + parts < table.rows * LEAST_OF_ITS_ROWS) return refused('reads-nothing');
  const echoes = fixedLines(unread)
    .slice(0, 16)
    .map((text) => text.slice(0, 80));
  const echoed = unread.filter((text) => echoes.some((echo) => text.startsWith(echo))).length;
  const share = (samples + parts) / Math.max(1, wanted - echoed);
  const isFirstOdd = isFirstLineOdd(lines, first);
  const recipe = isFirstOdd || echoes.length > 0 ? build(isFirstOdd, echoes) : first;
  const few = lines.length < 2 * LEAST_LINES ? 0.97 : 1;
  // Keys say what they are wherever they come; columns that fit a part of the lines only may be anything.
  const fit = table.shape.kind === 'keyed' || table.shape.kind === 'json' ? Math.min(1, 0.8 + share) : Math.min(1, 0.5 + share);
  const confidence = judged.confidence * fit * few;

  const reader = createLineReader(recipe);
  const preview = lines.slice(0, PREVIEW_LINES).map((line) => ({ bytes: line.bytes, read: reader.readWithSpans(line) }));
  const found = judged.verdicts.filter(({ taken }) => taken !== undefined && taken !== 'time').length;
  return {
    kind: 'proposal',
    proposal: {
      recipe,
      confidence,
      reasons: reasonsFor(open, clock, checkCount),
      columns: judged.verdicts,
      isOpen: judged.isOpen,
      preview,
      choices: choicesFor(open, clock, recipe),
    },
    rank: confidence * share + 0.2 * Math.min(4, found) + 0.15 * table.preference + (judged.isOpen ? -0.4 : 0),
  };
}

/** The first line begins in the middle of a value: its first number is far off, or shorter than any other. */
function isFirstLineOdd(lines: readonly StampedLine[], recipe: LineRecipe): boolean {
  const reader = createLineReader(recipe);
  const firstLine = lines[0];
  if (firstLine === undefined || lines.length < 4) return false;
  const first = reader.read(firstLine);
  if (first.kind !== 'sample') return false;
  const others = lines.slice(1, 12).map((line) => ({ line, read: reader.read(line) }));
  const good = others.flatMap(({ line, read }) => (read.kind === 'sample' ? [{ line, sample: read.sample }] : []));
  if (good.length < 3) return false;
  // Text before the first channel is part of the line too: a time without its hour.
  const lengths = good.map(({ line }) => line.bytes.length);
  const isShort = firstLine.bytes.length < Math.min(...lengths);
  if (!isShort) return false;
  const head = /^[^,;\s|]*/.exec(firstLine.bytes)?.[0] ?? '';
  const heads = good.map(({ line }) => (/^[^,;\s|]*/.exec(line.bytes)?.[0] ?? '').length);
  return head.length < Math.min(...heads);
}

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

  const candidates: Candidate[] = [];
  for (const logPrefix of isLog ? [true, false] : [false]) {
    const some = logPrefix ? peeled : texts;
    const toLearn: LinesToLearn = { texts: some, withDigits: some.filter((text) => /\d/.test(text)).length };
    const longestLine = Math.max(0, ...texts.map(({ length }) => length));
    for (const table of tablesOf(toLearn, gaps)) {
      const candidate = propose({ ...table, check, longestLine }, { lines, encoding, checkCount: found?.count ?? 0, logPrefix });
      candidates.push(candidate);
    }
    if (candidates.some(({ kind }) => kind === 'proposal')) break;
  }
  // What no usual shape reads may still have the same characters between its numbers.
  if (!candidates.some(({ kind }) => kind === 'proposal') && !areFrames(texts)) {
    const toLearn: LinesToLearn = { texts, withDigits: texts.filter((text) => /\d/.test(text)).length };
    for (const table of templateTables(toLearn))
      candidates.push(propose({ ...table, check }, { lines, encoding, checkCount: found?.count ?? 0, logPrefix: false }));
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

/** Learning while lines come in: proposals from the fifth line on, refined up to the two hundredth. */
export type Learner = {
  /** @returns a new result when these lines changed what is known, else undefined */
  push(lines: readonly StampedLine[]): LearnResult | undefined;
  result(): LearnResult | undefined;
};

export function createLearner(): Learner {
  const seen: StampedLine[] = [];
  let latest: LearnResult | undefined;
  let nextAt = LEAST_LINES;
  return {
    push(lines) {
      for (const line of lines) if (seen.length < MOST_LINES) seen.push(line);
      if (seen.length < nextAt) return undefined;
      // Each look costs more than the last; the steps grow with it.
      nextAt = seen.length >= MOST_LINES ? Infinity : Math.min(MOST_LINES, Math.max(seen.length + 5, Math.ceil(seen.length * 1.4)));
      latest = learn(seen);
      return latest;
    },
    result: () => latest,
  };
}
