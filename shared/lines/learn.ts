import type { LineRecipe } from '../measurement/recipe.ts';
import type { StampedLine } from '../measurement/line.ts';
import { cleanLine, decodeUtf8 } from './clean-line.ts';
import { buildRecipe } from './learning/build-recipe.ts';
import { cycleTables } from './learning/cycle-table.ts';
import { columnsTables, placeWords, type LinesToLearn } from './learning/columns-table.ts';
import { LINES_FOR_A_CHECK, findCheck } from './learning/find-check.ts';
import { findClock, type FoundClock } from './learning/find-clock.ts';
import { fixedTables } from './learning/fixed-table.ts';
import { mainRoles, solveIdentity, type Identity, type MainRole, type Solved } from './learning/identity.ts';
import { mergedTables } from './learning/merged-table.ts';
import { jsonTables, registersTables, taggedTables } from './learning/other-tables.ts';
import { pairsTables } from './learning/pairs-table.ts';
import type { Column, Table } from './learning/table.ts';
import { lineForCheck, verifyCheck } from './line-check.ts';
import type { LineRead } from './line-read.ts';
import { createLineReader } from './read-line.ts';
import { unprintableShare, type BaudTrouble } from './wrong-baud.ts';

/** Two plain answers, each of which gives a recipe. */
export type Question = {
  readonly text: string;
  readonly answers: readonly [Answer, Answer];
  /** false: either answer gives the same four channels */
  readonly isNeeded: boolean;
};
export type Answer = { readonly text: string; readonly recipe: LineRecipe };

export type Proposal = {
  readonly recipe: LineRecipe;
  /** 0 to 1: how sure it is that these are the right channels in the right units */
  readonly confidence: number;
  readonly reasons: readonly string[];
  readonly preview: readonly { readonly bytes: string; readonly read: LineRead }[];
  readonly questions: readonly Question[];
};

export type LearnResult = {
  /** best first */
  readonly proposals: readonly Proposal[];
  readonly lineCount: number;
  /** why there is no proposal, or none to trust */
  readonly trouble?: 'too-few-lines' | 'wrong-baud' | 'no-shape' | 'no-channels' | undefined;
  readonly baud?: BaudTrouble | undefined;
};

export const LEAST_LINES = 5;
export const MOST_LINES = 200;
/** Files are read further, so that a warm-up shows how the numbers move; in bounded pieces. */
const FILE_LINES = 600;
const PREVIEW_LINES = 8;

/** The first lines, and two later stretches of a long stream. */
function choose(lines: readonly StampedLine[]): readonly StampedLine[] {
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

const channelWords: Record<MainRole, string> = { o2: 'O2', co: 'CO', stack: 'the stack temperature', air: 'the air temperature' };

function questionsFor(parts: { table: Table; clock: FoundClock; solved: Solved; build: (identity: Identity) => LineRecipe }): Question[] {
  const { table, clock, solved, build } = parts;
  const questions: Question[] = [];
  const { best, second, confidence } = solved;
  if (second !== undefined && confidence < 0.97) {
    const role = mainRoles.find(
      (name) => best.main[name]?.column !== second.main[name]?.column || best.main[name]?.unit !== second.main[name]?.unit,
    );
    if (role !== undefined) {
      const one = best.main[role];
      const other = second.main[role];
      const describe = (reading: typeof one, differ: boolean): string => {
        const column = reading === undefined ? undefined : table.columns[reading.column];
        if (reading === undefined || column === undefined) return 'It is not sent';
        const example = column.texts.find((text) => text !== '') ?? '';
        const named = column.name !== '' && typeof column.at === 'number' ? ` '${column.name}'` : '';
        return `${capital(placeWords(column.at))}${named}, with values like ${example}${differ ? ` in ${reading.unit}` : ''}`;
      };
      const sameColumn = one?.column === other?.column;
      questions.push({
        text: sameColumn ? `In which unit is ${channelWords[role]} sent?` : `Which is ${channelWords[role]}?`,
        answers: [
          { text: describe(one, sameColumn), recipe: build(best) },
          { text: describe(other, sameColumn), recipe: build(second) },
        ],
        isNeeded: true,
      });
    }
  }
  if (clock.isDateUnclear) {
    const recipe = build(best);
    if (recipe.time.kind === 'field') {
      const month: LineRecipe = { ...recipe, time: { ...recipe.time, date: 'month-day-year' } };
      questions.push({
        text: 'Which comes first in the date?',
        answers: [
          { text: 'The day', recipe },
          { text: 'The month', recipe: month },
        ],
        isNeeded: false,
      });
    }
  }
  const draft = best.rest.find(({ role }) => role === 'draft');
  const draftColumn = draft === undefined ? undefined : table.columns[draft.column];
  const recipe = build(best);
  const field = recipe.fields.find(({ channel }) => channel === 'draft');
  if (field !== undefined && (draftColumn?.statistics?.median ?? 0) > 0) {
    const turned: LineRecipe = { ...recipe, fields: recipe.fields.map((one) => (one.channel === 'draft' ? { ...one, scale: -1 } : one)) };
    questions.push({
      text: 'The draft is sent as a positive number. What does that mean?',
      answers: [
        { text: 'Pressure above the room', recipe },
        { text: 'Suction', recipe: turned },
      ],
      isNeeded: false,
    });
  }
  return questions;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function reasonsFor(table: Table, identity: Identity, clock: FoundClock, checkCount: number): string[] {
  const reasons = [...table.reasons];
  for (const role of mainRoles) {
    const reading = identity.main[role];
    const column = reading === undefined ? undefined : table.columns[reading.column];
    if (reading === undefined || column === undefined) {
      reasons.push(`${capital(channelWords[role])} was not found.`);
      continue;
    }
    const s = column.statistics;
    const why =
      (column.meaning.roles[role] ?? 0) >= 2
        ? `by its name '${column.name}'`
        : s === undefined
          ? ''
          : `by its values, ${Number(s.low.toPrecision(5))} to ${Number(s.high.toPrecision(5))}`;
    const unit = column.unit === undefined ? `${reading.unit} assumed` : reading.unit;
    reasons.push(
      `${capital(channelWords[role])}: ${placeWords(column.at)}, ${why}, ${unit}${reading.scale === 1 ? '' : `, times ${reading.scale}`}`,
    );
    if (reading.unit === 'mg/m3') reasons.push('CO in mg/m3 is turned into ppm at 0 °C and 101.325 kPa, without an oxygen reference.');
  }
  const own = identity.rest.filter(({ role }) => ['co2', 'efficiency', 'loss', 'lambda', 'excessAir', 'net', 'coCorrected'].includes(role));
  if (own.length > 0)
    reasons.push(
      `The instrument's own computations are left alone: ${own.map(({ column }) => placeWords(table.columns[column]?.at ?? 0)).join(', ')}`,
    );
  if (clock.reason !== undefined) reasons.push(capital(clock.reason));
  if (table.check.kind !== 'none')
    reasons.push(`The check fits in ${checkCount} lines${checkCount < LINES_FOR_A_CHECK ? ' (probable)' : ''}`);
  return reasons;
}

type Candidate = { proposal: Proposal; rank: number };

/** A clock is no channel; and what is named like a clock ('t', 's') but does not run is none. */
function judgeClock(column: Column, isClock: boolean): Column {
  if (isClock) return { ...column, statistics: undefined, meaning: { roles: { time: 3 } } };
  return column.meaning.roles.time === undefined || column.statistics === undefined
    ? column
    : { ...column, meaning: { roles: {}, unit: column.meaning.unit } };
}

function propose(table: Table, lines: readonly StampedLine[], encoding: Encoding, checkCount: number): Candidate | undefined {
  const clock = findClock(table);
  const open: Table = { ...table, columns: table.columns.map((column, index) => judgeClock(column, clock.columns.includes(index))) };
  const solved = solveIdentity(open);
  if (solved === undefined) return undefined;
  const mainCount = Object.keys(solved.best.main).length;
  if (mainCount === 0) return undefined;
  const build = (identity: Identity, ignoreFirstLine = false, ignorePrefixes: readonly string[] = []): LineRecipe =>
    buildRecipe({ table: open, identity, clock, encoding, ignorePrefixes, ignoreFirstLine });

  // The proposal is judged by what its reader makes of the lines.
  const trial = createLineReader(build(solved.best));
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
  if (samples === 0) return undefined;
  const echoes = fixedLines(unread)
    .slice(0, 16)
    .map((text) => text.slice(0, 80));
  const echoed = unread.filter((text) => echoes.some((echo) => text.startsWith(echo))).length;
  const share = (samples + parts) / Math.max(1, wanted - echoed);
  const recipe = build(solved.best, isFirstLineOdd(lines, build(solved.best)), echoes);
  const few = lines.length < 2 * LEAST_LINES ? 0.97 : 1;
  const confidence = solved.confidence * Math.min(1, 0.5 + share) * few;
  const finish = (identity: Identity): LineRecipe => build(identity, recipe.ignore.firstLine, echoes);

  const reader = createLineReader(recipe);
  const preview = lines.slice(0, PREVIEW_LINES).map((line) => ({ bytes: line.bytes, read: reader.readWithSpans(line) }));
  return {
    proposal: {
      recipe,
      confidence,
      reasons: reasonsFor(open, solved.best, clock, checkCount),
      preview,
      questions: questionsFor({ table: open, clock, solved, build: finish }),
    },
    rank: confidence * share + 0.2 * mainCount + 0.15 * table.preference,
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
  const lines = choose(allLines.filter((line) => line.cutBytes === undefined));
  const lineCount = allLines.length;
  const baud = unprintableShare(allLines);
  if (baud.isWrong) return { proposals: [], lineCount, trouble: 'wrong-baud', baud };
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
  const texts = clean.map(({ text }) => text);
  const toLearn: LinesToLearn = { texts, withDigits: texts.filter((text) => /\d/.test(text)).length };
  const gaps = gapsIn(clean);

  const json = jsonTables(toLearn);
  const tables =
    json.length > 0
      ? json
      : [
          ...registersTables(toLearn),
          ...mergedTables(toLearn),
          ...columnsTables(toLearn),
          ...pairsTables(toLearn, gaps),
          ...taggedTables(toLearn, gaps),
          ...cycleTables(toLearn, gaps),
          ...fixedTables(toLearn),
        ];
  const candidates = tables
    .map((table) => propose({ ...table, check }, lines, encoding, found?.count ?? 0))
    .filter((candidate) => candidate !== undefined)
    .sort((a, b) => b.rank - a.rank);
  if (candidates.length === 0) return { proposals: [], lineCount, trouble: tables.length === 0 ? 'no-shape' : 'no-channels' };
  return { proposals: candidates.slice(0, 4).map(({ proposal }) => proposal), lineCount };
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
