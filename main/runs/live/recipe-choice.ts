/**
 * Which recipe reads the lines of a run: learned from them, shown beside the instrument's display before it counts, asked about, or chosen by a person.
 * Nothing is used here; `use` is told.
 */
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import type { ColumnVerdict } from '../../../shared/lines/learning/evidence.ts';
import { saysCoBasis } from '../../../shared/lines/learning/names/co-basis.ts';
import { createLineReader, type LineReader } from '../../../shared/lines/reading/read-line.ts';
import type { Proposal } from '../../../shared/lines/learning/proposal.ts';
import type { StampedLine } from '../../../shared/measurement/line.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import { createLateChannels, type LateChannels } from '../../../shared/pipeline/late-channel.ts';
import type { RunFold } from '../../../shared/pipeline/run-fold.ts';
import {
  columnsOfRecipe,
  createLiveLearner,
  shownColumns,
  withAnswers,
  type ColumnAnswer,
  type Judgement,
  type LiveLearner,
  type LookAtLines,
} from '../../../shared/pipeline/propose.ts';
import { defined } from '../../../shared/defined.ts';

export type RecipeChoiceParts = {
  readonly fold: () => RunFold;
  readonly timeMs: () => number;
  /** a replay learns nothing: its file says how it was read */
  readonly learns: boolean;
  /** has a person compared these columns of this instrument with its display? absent: nothing to compare with */
  readonly isDisplayKnown: ((recipe: LineRecipe) => boolean) | undefined;
  /** the lines are read with it from now on */
  readonly use: (recipe: LineRecipe) => void;
  /** lines end as this recipe says, though it does not count yet */
  readonly frameAs: (recipe: LineRecipe) => void;
  readonly onChange: () => void;
  /** looks at lines that no recipe describes; absent: at once, in this thread */
  readonly lookAtLines: LookAtLines | undefined;
  /** what a look that comes back later cannot take must not end other runs */
  readonly guarded: (work: () => void) => void;
  readonly isEnded: () => boolean;
};

/** lines before the trial that show the first figures at once */
const TRIAL_LINES = 20;
/** the figures to compare change no faster than a person can read */
const TRIAL_EVERY_MS = 1000;
/** lines before a person chose a recipe whose keys were left out on purpose */
const LINES_CHOSEN_BY = 200;

/** A recipe whose figures are shown and not used yet. */
type Trial = {
  recipe: LineRecipe;
  confidence: number;
  columns: readonly ColumnVerdict[];
  reader: LineReader;
  values: Sample['values'];
  line: string;
  toldMs: number;
};

export type RecipeChoice = ReturnType<typeof createRecipeChoice>;

export function createRecipeChoice(parts: RecipeChoiceParts) {
  const { fold, timeMs, onChange } = parts;
  /** goes on where a person said no to its figures: it may have a question to ask */
  let learner: LiveLearner | undefined;
  let trial: Trial | undefined;
  let judged: Judgement | undefined;
  /** a person said that the figures are not those of the display: nothing is used any more without a person */
  let hasDiffered = false;
  let inUse: { columns?: ReturnType<typeof shown>; confidence?: number } = {};
  let confirmed: { roomAir: boolean; probe: boolean } | undefined;
  const earlier: LineRecipe[] = [];
  let late: LateChannels | undefined;
  /** what a banner says of CO */
  let basis: string | undefined;
  /** the keys that were decided about when the recipe came into use */
  let decided: { recipe: LineRecipe; keys: readonly string[] } | undefined;

  const use = (recipe: LineRecipe, confidence?: number, columns?: readonly ColumnVerdict[]): void => {
    const before = fold().recipe;
    if (before !== undefined) earlier.push(before);
    confirmed = undefined;
    learner = undefined;
    trial = undefined;
    judged = undefined;
    inUse = defined({ confidence, columns: columns !== undefined ? shown(columns) : undefined });
    parts.use(recipe);
  };
  const tryLine = (one: Trial, line: StampedLine): void => {
    const read = one.reader.read(line);
    if (read.kind !== 'sample') return;
    one.values = read.sample.values;
    one.line = line.bytes;
    if (timeMs() - one.toldMs < TRIAL_EVERY_MS) return;
    one.toldMs = timeMs();
    onChange();
  };
  /** The first figures of an instrument count after a look at its display; until then they are shown, and the lines wait. */
  const adopt = (recipe: LineRecipe, confidence: number, columns: readonly ColumnVerdict[]): void => {
    if (parts.isDisplayKnown?.(recipe) !== false) return use(recipe, confidence, columns);
    trial = { recipe, confidence, columns, reader: createLineReader(recipe), values: {}, line: '', toldMs: -Infinity };
    for (const { line } of fold().lastLines(TRIAL_LINES)) tryLine(trial, line);
    onChange();
  };
  const decide = ({ recipe, confidence, columns }: Pick<Proposal, 'recipe' | 'confidence' | 'columns'>, keys: readonly string[]): void => {
    decided = { recipe, keys };
    adopt(recipe, confidence, columns);
  };
  /** A banner says that CO is corrected: the reader leaves CO out until a person has said what it is. */
  const basisQuestion = (): { recipe: LineRecipe; columns: readonly ColumnVerdict[] } | undefined => {
    const { recipe } = fold();
    if (basis === undefined || recipe === undefined || !isCoOpen(recipe)) return undefined;
    const text = basis;
    const columns = (inUse.columns ?? columnsOfRecipe(recipe)).map((column): ColumnVerdict =>
      column.taken !== 'co'
        ? column
        : {
            ...column,
            sureness: 'look',
            evidence: [...column.evidence, { channel: 'co', side: 'open', kind: 'name', strength: 3, key: 'co-corrected', text }],
          },
    );
    return { recipe, columns };
  };
  const keysOf = (columns: readonly ColumnVerdict[]): string[] => columns.flatMap(({ at }) => (typeof at === 'string' ? [at] : []));
  /** Channels whose names come only now are read from now on, or asked about. */
  const lateFor = (recipe: LineRecipe): LateChannels => {
    const known = decided?.recipe === recipe ? decided.keys : undefined;
    const mine: LateChannels = createLateChannels({
      recipe,
      known,
      linesBefore:
        known !== undefined
          ? []
          : fold()
              .lastLines(LINES_CHOSEN_BY + 1)
              .slice(0, -1)
              .map(({ line }) => line),
      look: parts.lookAtLines,
      told: (judgement) =>
        parts.guarded(() => {
          if (late !== mine || parts.isEnded()) return;
          judged = judgement;
          // a person chose this recipe, and may have left the key out: that is asked, not undone
          if (known === undefined && judgement.kind === 'adopt') judged = { ...judgement, kind: 'ask' };
          if (judged.kind !== 'adopt' || hasDiffered) return onChange();
          const confidence = trial?.confidence ?? inUse.confidence ?? judgement.proposal.confidence;
          // what else comes late is still to be looked at
          const keys = [...(known ?? []), ...judgement.proposal.recipe.fields.flatMap(({ at }) => (typeof at === 'string' ? [at] : []))];
          decide({ ...judgement.proposal, confidence }, keys);
        }),
    });
    return mine;
  };
  const learn = (): void => {
    if (!parts.learns || !fold().isLearning) return;
    const mine = createLiveLearner(
      (judgement) =>
        parts.guarded(() => {
          // a recipe came into use meanwhile, or learning began anew
          if (learner !== mine || parts.isEnded() || !fold().isLearning) return;
          judged = judgement;
          // what did not agree with the display is not used without a person
          if (judgement.kind !== 'adopt' || hasDiffered || trial !== undefined) return onChange();
          decide(judgement.proposal, keysOf(judgement.proposal.columns));
        }),
      parts.lookAtLines,
    );
    learner = mine;
  };
  learn();

  return {
    line(line: StampedLine): void {
      if (trial !== undefined) tryLine(trial, line);
      // a run that goes on after a restart has its recipe from the file, though learning had begun without it
      else if (fold().isLearning) learner?.push(line);
      const recipe = trial?.recipe ?? fold().recipe;
      if (!parts.learns) return;
      if ((recipe === undefined || isCoOpen(recipe)) && saysCoBasis(line.bytes)) {
        basis = line.bytes.trim().slice(0, 40);
        onChange();
      }
      if (recipe === undefined) return;
      if (late?.recipe !== recipe) late = lateFor(recipe);
      late.push(line);
    },
    /** A person chose it: the first figures of this instrument still wait for a look at its display. */
    choose(chosen: LineRecipe): void {
      // with the banner before their eyes; one that came before any recipe is asked about when this one is in use
      const recipe = basis !== undefined && fold().recipe !== undefined && isCoOpen(chosen) ? { ...chosen, coBasisKnown: true } : chosen;
      // where figures count already, a person corrects them with the lines before their eyes
      // (an instrument that has to be asked sends nothing before its recipe is in use)
      if (fold().recipe !== undefined || recipe.polling !== undefined || parts.isDisplayKnown?.(recipe) !== false) return use(recipe);
      // it says how lines end and how long they are, as it will when it is in use
      parts.frameAs(recipe);
      adopt(recipe, 1, columnsOfRecipe(recipe));
    },
    /** A person's answers to the question about the columns. @returns false when they leave no channel */
    answer(answers: readonly ColumnAnswer[]): boolean {
      const doubted = judged === undefined || judged.kind === 'adopt' ? basisQuestion() : undefined;
      const asked = doubted ?? (judged?.kind === 'refuse' ? undefined : judged?.proposal);
      if (asked === undefined) return false;
      const { recipe, columns } = asked;
      const isCoAsked = doubted !== undefined || columns.some(({ taken, sureness }) => taken === 'co' && sureness !== 'sure');
      const answered = withAnswers(recipe, answers, isCoAsked);
      if (answered === undefined) return false;
      decide({ recipe: answered, confidence: 1, columns }, keysOf(columns));
      return true;
    },
    /** Yes: the lines count from their first one; no: nothing is used, the columns are asked about. */
    compare(agrees: boolean): void {
      if (trial === undefined) return;
      const { recipe, confidence, columns } = trial;
      trial = undefined;
      hasDiffered = !agrees;
      if (agrees) use(recipe, confidence, columns);
      else onChange();
    },
    /** What came at the wrong speeds teaches nothing. */
    learnAnew: learn,
    confirm(found: { roomAir: boolean; probe: boolean }): void {
      confirmed = found;
    },
    /** the recipe that waits for a look at the display */
    /** The port is there again, maybe with another instrument: what the one before sent is not shown beside the display of this one. */
    reopened(): void {
      if (trial !== undefined) trial = { ...trial, reader: createLineReader(trial.recipe), values: {}, line: '', toldMs: -Infinity };
    },
    get trial(): LineRecipe | undefined {
      return trial?.recipe;
    },
    get confidence() {
      return inUse.confidence;
    },
    /** The one in use, those before it, and what was confirmed of it. */
    recipes: () => ({
      ...defined({ recipe: fold().recipe, columns: inUse.columns }),
      earlier: [...earlier],
      ...defined({ confirmed }),
    }),
    /** What is open about the lines: the columns, the display, or why there is nothing. */
    about(): Pick<RunInfo, 'question' | 'refusal' | 'display'> {
      if (trial !== undefined) {
        const { line, values, columns } = trial;
        // a recipe that was chosen before the first line waits for it
        return line === '' ? {} : { display: { values: { ...values }, columns: shown(columns), line: line.slice(0, 400) } };
      }
      const doubted = judged === undefined || judged.kind === 'adopt' ? basisQuestion() : undefined;
      if (doubted !== undefined) {
        const { columns, hidden } = shownColumns(doubted.columns);
        return { question: { columns: columns.map(copied), hidden } };
      }
      if (judged === undefined) return {};
      if (judged.kind === 'refuse')
        return { refusal: { trouble: judged.trouble, columns: shown(judged.ruledOut), lines: judged.lineCount } };
      if (judged.kind === 'adopt' && !hasDiffered) return {};
      const { columns, hidden } = shownColumns(judged.proposal.columns);
      return { question: { columns: columns.map(copied), hidden } };
    },
  };
}

const isCoOpen = ({ coBasisKnown, fields }: LineRecipe): boolean => coBasisKnown !== true && fields.some(({ channel }) => channel === 'co');
const copied = (one: ColumnVerdict) => ({ ...one, examples: [...one.examples], evidence: [...one.evidence] });
const shown = (columns: readonly ColumnVerdict[]) => shownColumns(columns).columns.map(copied);
