import type { LineRecipe } from '../../measurement/recipe.ts';
import type { LineRead } from '../reading/line-read.ts';
import type { BaudTrouble } from '../wrong-baud.ts';
import type { ColumnVerdict, Trouble } from './evidence.ts';
import type { LineReason } from './line-reason.ts';

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
