/** From one way to see the lines as a table to a recipe, or to why there is none. */
import type { StampedLine } from '../../measurement/line.ts';
import { channelIds, type ChannelId } from '../../measurement/channel.ts';
import type { LineRecipe } from '../../measurement/recipe.ts';
import type { Sample } from '../../measurement/sample.ts';
import { createLineReader } from '../reading/read-line.ts';
import { buildRecipe } from './build-recipe.ts';
import type { Encoding } from './choose-lines.ts';
import type { ColumnVerdict, Trouble } from './evidence.ts';
import { LINES_FOR_A_CHECK } from './find-check.ts';
import { findClock, type FoundClock } from './find-clock.ts';
import { judge } from './judging/judge.ts';
import type { LineReason } from './line-reason.ts';
import { LEAST_LINES, type Choice, type Proposal } from './proposal.ts';
import type { Column, Table } from './tables/table.ts';

const PREVIEW_LINES = 8;

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

export type Candidate =
  | { readonly kind: 'proposal'; readonly proposal: Proposal; readonly rank: number }
  | { readonly kind: 'refused'; readonly trouble: Trouble; readonly ruledOut: readonly ColumnVerdict[]; readonly rank: number };

/** A clock is no channel; and what is named like a clock ('t', 's') but does not run is none. */
function judgeClock(column: Column, isClock: boolean): Column {
  if (isClock) return { ...column, statistics: undefined, meaning: { roles: { time: 3 } } };
  return column.meaning.roles.time === undefined || column.statistics === undefined
    ? column
    : // 'min' is no clock here, and still no channel
      {
        ...column,
        meaning: { roles: {}, unit: column.meaning.unit, isEmpty: column.meaning.isEmpty, excludedBy: column.meaning.excludedBy },
      };
}

/** A proposal reads at least so much of the rows that it was learned from. */
const LEAST_OF_ITS_ROWS = 0.5;

/** fewer readings than these show nothing */
const LEAST_ROWS = 4;

type Proposing = {
  lines: readonly StampedLine[];
  encoding: Encoding;
  checkCount: number;
  logPrefix: boolean;
};

export function propose(table: Table, { lines, encoding, checkCount, logPrefix }: Proposing): Candidate {
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
  const first = reader.readWithSpans(firstLine);
  if (first.kind !== 'sample') return false;
  const others = lines.slice(1, 12).map((line) => ({ line, read: reader.read(line) }));
  const good = others.flatMap(({ line, read }) => (read.kind === 'sample' ? [{ line, sample: read.sample }] : []));
  if (good.length < 3) return false;
  const atFront = first.spans?.find(({ start }) => start === 0)?.channel;
  const channel = channelIds.find((one) => one === atFront);
  if (channel !== undefined && isFarOff(channel, [first.sample, ...good.map(({ sample }) => sample)])) return true;
  // Text before the first channel is part of the line too: a time without its hour.
  const lengths = good.map(({ line }) => line.bytes.length);
  const isShort = firstLine.bytes.length < Math.min(...lengths);
  if (!isShort) return false;
  const head = /^[^,;\s|]*/.exec(firstLine.bytes)?.[0] ?? '';
  const heads = good.map(({ line }) => (/^[^,;\s|]*/.exec(line.bytes)?.[0] ?? '').length);
  return head.length < Math.min(...heads);
}

/** '8.5' before 16.6 and 14.9 was 18.5: below the next value, by more than the values after it move. */
function isFarOff(channel: ChannelId, samples: readonly Sample[]): boolean {
  const values = samples.map(({ values: { [channel]: value } }) => value);
  const [first, ...rest] = values;
  const shown = rest.filter((value) => value !== undefined);
  const [second] = shown;
  if (first === undefined || second === undefined) return false;
  const steps = shown.slice(1).map((value, at) => Math.abs(value - (shown[at] ?? value)));
  return second - first > 2 * Math.max(0.05 * Math.abs(second), ...steps);
}
