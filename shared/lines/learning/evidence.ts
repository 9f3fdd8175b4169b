/**
 * The table of evidence: what speaks for and against each column being a channel. The order counts: names and keys, then units, then
 * how columns move together, then ranges. A later kind never overrules an earlier one, and evidence against counts for ever.
 * Texts live in `shared/words/lines/learning.ts`; here are keys and figures.
 */
import type { ChannelId } from '../../measurement/channel.ts';
import type { FieldPlace } from '../../measurement/recipe.ts';
import type { SentUnit } from '../../measurement/sent-unit.ts';

export const evidenceKinds = ['name', 'unit', 'nature', 'movement', 'range'] as const;
export type EvidenceKind = (typeof evidenceKinds)[number];

/** why a column speaks for a channel, against it, or leaves it open */
export const evidenceKeys = [
  // for
  'name-says',
  'name-hints',
  'unit-fits',
  'moves-like',
  'values-fit',
  'from-o2',
  // open
  'unit-missing',
  'unit-assumed',
  'place-unknown',
  'rival',
  'factors-above',
  'factor-in-name',
  'two-values',
  'more-behind',
  'wet-gas',
  'reference-state',
  'co-corrected',
  'unit-contradicts',
  'values-contradict',
  'only-values',
  'names-swapped',
  'by-turns',
  'air-only',
  // against
  'foreign-unit',
  'other-name',
  'unknown-name',
  'clock',
  'counter',
  'constant',
  'text',
  'empty',
  'hexadecimal',
  'impossible',
  'computed',
  'taken-by-another',
] as const;
export type EvidenceKey = (typeof evidenceKeys)[number];

export type Evidence = {
  /** 'all': every gas and temperature */
  readonly channel: ChannelId | 'all';
  readonly side: 'for' | 'open' | 'against';
  readonly kind: EvidenceKind;
  /** 3: it says so, 1: it hints */
  readonly strength: number;
  readonly key: EvidenceKey;
  readonly text?: string | undefined;
  readonly low?: number | undefined;
  readonly high?: number | undefined;
};

/** One column as a person sees it. */
export type ColumnVerdict = {
  readonly at: FieldPlace;
  readonly name: string;
  /** as sent; '' where nothing says it */
  readonly unitText: string;
  /** three values as they came */
  readonly examples: readonly string[];
  /** what it would be used as */
  readonly taken?: ChannelId | 'time' | undefined;
  readonly unit?: SentUnit | undefined;
  /** sure: name or unit says so; look: a person has to; none: not a channel */
  readonly sureness: 'sure' | 'look' | 'none';
  readonly evidence: readonly Evidence[];
};

/** Why lines gave no recipe. */
export const troubles = [
  'too-few-lines',
  'wrong-baud',
  'utf-16',
  'lines-too-long',
  'frames',
  'no-shape',
  'no-gas',
  'no-names',
  'names-in-messages',
  'impossible',
  'reads-nothing',
] as const;
export type Trouble = (typeof troubles)[number];
