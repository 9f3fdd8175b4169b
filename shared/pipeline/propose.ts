/** What learning found, in the form in which it is shown, asked and adopted. */
import { learn } from '../lines/learn.ts';
import { MOST_LINES, type LearnResult, type Proposal } from '../lines/learning/proposal.ts';
import type { ColumnVerdict, Trouble } from '../lines/learning/evidence.ts';
import type { StampedLine } from '../measurement/line.ts';
import type { ChannelId } from '../measurement/channel.ts';
import type { FieldPlace, LineRecipe } from '../measurement/recipe.ts';
import { checkRecipe } from '../measurement/check-recipe.ts';
import { unitsFor, type SentUnit } from '../measurement/sent-unit.ts';
import { defined } from '../defined.ts';

/** from here on a proposal may be used without asking, and is said to be assumed */
export const CONFIDENT = 0.8;

/** What is to be done with lines that nobody has described. */
export type Judgement =
  | { readonly kind: 'adopt'; readonly proposal: Proposal; readonly others: readonly Proposal[] }
  /** one look at all columns; `proposal` is the best guess, and what stands behind "use these" */
  | { readonly kind: 'ask'; readonly proposal: Proposal; readonly others: readonly Proposal[] }
  | { readonly kind: 'refuse'; readonly trouble: Trouble; readonly ruledOut: readonly ColumnVerdict[]; readonly lineCount: number };

function judgeResult({ proposals, trouble, ruledOut, lineCount }: LearnResult, least = CONFIDENT): Judgement {
  const [proposal, ...others] = proposals;
  if (proposal === undefined) return { kind: 'refuse', trouble: trouble ?? 'no-shape', ruledOut: ruledOut ?? [], lineCount };
  return { kind: proposal.isOpen || proposal.confidence < least ? 'ask' : 'adopt', proposal, others };
}

/** @param lines as many as there are of a file; live, the first two hundred */
export const judgeLines = (lines: readonly StampedLine[], least = CONFIDENT): Judgement => judgeResult(learn(lines), least);

/** so many columns are shown; of a plant's table the others are named by their number */
const MOST_SHOWN = 60;

/** Columns for the eye: all that matter, then others as far as they fit, in the order of the line. */
export function shownColumns(columns: readonly ColumnVerdict[]): { columns: ColumnVerdict[]; hidden: number } {
  if (columns.length <= MOST_SHOWN) return { columns: [...columns], hidden: 0 };
  const matters = ({ sureness, taken, evidence }: ColumnVerdict): number =>
    sureness !== 'none' || taken !== undefined ? 0 : evidence.some(({ kind, key }) => kind === 'name' && key === 'unknown-name') ? 2 : 1;
  const chosen = new Set([...columns].sort((a, b) => matters(a) - matters(b)).slice(0, MOST_SHOWN));
  return { columns: columns.filter((one) => chosen.has(one)), hidden: columns.length - chosen.size };
}

/** The columns of a recipe that a person chose: what it says, without evidence. */
export const columnsOfRecipe = ({ fields }: LineRecipe): ColumnVerdict[] =>
  fields.map(({ channel, at, unit, name = '' }) => ({
    at,
    name,
    unitText: unit === 'none' ? '' : unit,
    examples: [],
    taken: channel,
    unit,
    sureness: 'sure',
    evidence: [],
  }));

/** What a person says about one column. */
export type ColumnAnswer = { readonly at: FieldPlace; readonly channel: ChannelId | 'none'; readonly unit?: SentUnit | undefined };

const samePlace = (a: FieldPlace, b: FieldPlace): boolean => JSON.stringify(a) === JSON.stringify(b);

/**
 * The recipe with a person's answers. An answer changes its own column: what another column was taken for stays, save that a channel
 * comes from one column only.
 * @param isCoAsked the question was what CO is: an answer that leaves it as it stands says that it is measured
 * @returns undefined when no channel is left
 */
export function withAnswers(recipe: LineRecipe, answers: readonly ColumnAnswer[], isCoAsked = false): LineRecipe | undefined {
  let fields = [...recipe.fields];
  for (const { at, channel, unit } of answers) {
    const before = fields.find((field) => samePlace(field.at, at));
    fields = fields.filter((field) => !samePlace(field.at, at) && field.channel !== channel);
    if (channel === 'none') continue;
    const fitting = [unit, before?.unit, ...unitsFor(channel)].find((one) => one !== undefined && unitsFor(channel).includes(one));
    const isSame = before?.channel === channel && (unit === undefined || unit === before.unit);
    fields.push(isSame ? before : { channel, at, unit: fitting ?? 'none', ...defined({ name: before?.name }), scale: 1, offset: 0 });
  }
  const sentinels = recipe.sentinels.filter(({ channel }) => channel === undefined || fields.some((field) => field.channel === channel));
  const isCoSaid = isCoAsked || recipe.coBasisKnown === true || answers.some(({ channel }) => channel === 'co');
  const coBasisKnown = isCoSaid && fields.some(({ channel }) => channel === 'co') ? true : undefined;
  const checked = checkRecipe({ ...recipe, fields, sentinels, ...defined({ coBasisKnown }) });
  return checked.ok ? checked.value : undefined;
}

/**
 * Looks at lines, at once or later (in another thread): learning takes some tenths of a second, and lines that come meanwhile keep their true times.
 * `judged` is told undefined when the look failed.
 */
export type LookAtLines = (ask: LinesToJudge, judged: (judgement: Judgement | undefined) => void) => void;
export type LinesToJudge = { readonly lines: readonly StampedLine[]; readonly least: number };

export const judgeAtOnce: LookAtLines = ({ lines, least }, judged) => judged(judgeLines(lines, least));

/** Decides, while lines come in, when to look. */
export interface LiveLearner {
  push(line: StampedLine): void;
}

/** looks at these counts of lines, then at every further two hundred */
const looks: ReadonlySet<number> = new Set([5, 10, 15, 20, 30, 50, 80, 120, 200]);
/** a first glance must be surer than a longer look */
const SURE_AT_ONCE = 0.93;
const SURE_AFTER = 15;
const HEAD_LINES = 60;

/** @param told what is to be done with the lines; an `adopt` can be used from now on (and for the lines so far) without asking */
export function createLiveLearner(told: (judgement: Judgement) => void, look: LookAtLines = judgeAtOnce): LiveLearner {
  let seen: StampedLine[] = [];
  let count = 0;
  let isLooking = false;
  let isDueAgain = false;
  const lookNow = (): void => {
    isLooking = true;
    isDueAgain = false;
    look({ lines: seen, least: count < SURE_AFTER ? SURE_AT_ONCE : CONFIDENT }, (judgement) => {
      isLooking = false;
      if (judgement !== undefined) told(judgement);
      if (isDueAgain) lookNow();
    });
  };
  return {
    push(line) {
      count++;
      // The first lines stay: they are the head that names the columns. A list that is being looked at stays as it is.
      seen = seen.length < MOST_LINES ? [...seen, line] : [...seen.slice(0, HEAD_LINES), ...seen.slice(HEAD_LINES + 1), line];
      if (!looks.has(count) && count % MOST_LINES !== 0) return;
      if (isLooking) isDueAgain = true;
      else lookNow();
    },
  };
}
