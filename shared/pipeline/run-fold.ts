/** What the fold of a run takes, tells and knows. How it works: `fold-run.ts`. */
import type { Fuel } from '../combustion/fuel.ts';
import type { Derived } from '../measurement/derived.ts';
import type { SettlingKnowledge } from '../measurement/knowledge.ts';
import type { Bands, Tolerances } from '../measurement/limits.ts';
import type { Mark, MarkEdit, Setting } from '../measurement/mark.ts';
import type { LineRecipe } from '../measurement/recipe.ts';
import type { GapEntry, RunEntry } from '../measurement/run.ts';
import type { Sample } from '../measurement/sample.ts';
import type { ChannelState, Reading } from '../measurement/state.ts';
import type { SettlingMode } from '../settling/detector.ts';
import type { LoggedLine } from './line-log.ts';
import type { createSpanList } from './spans.ts';

export type FoldSettings = {
  readonly bands?: Partial<Bands> | undefined;
  readonly tolerances?: Tolerances | undefined;
  readonly mode?: SettlingMode | undefined;
};

export type ComputedWith = { fuel: Fuel; typedAirC: number | undefined; tolerances: Tolerances | undefined };

/** Told as things happen, in order. Nothing may throw. */
export type FoldSink = {
  line?(line: LoggedLine): void;
  sample?(sample: Sample): void;
  states?(changed: readonly ChannelState[]): void;
  /** offered, revised or ended; `computedWith` is what its figures are computed with */
  reading?(reading: Reading, computedWith: ComputedWith): void;
  mark?(mark: Mark): void;
  edit?(edit: MarkEdit): void;
  /** points before and after must not be joined: a gap, or a silence, told before the sample that ends it */
  gap?(timeMs: number): void;
};

export type FoldCounters = {
  lines: number;
  understood: number;
  rejected: number;
  ignored: number;
  bytes: number;
  lastGoodMs: number | undefined;
};

export type GapStretch = { fromMs: number; toMs?: number | undefined; reason: GapEntry['reason'] };
export type ExcludedStretch = { fromMs: number; toMs?: number | undefined; reason: string };
export type SettledStretch = { channel: string; fromMs: number; toMs?: number | undefined };

export interface RunFold {
  push(entry: RunEntry): void;
  /** for display only: lets channels turn silent; never changes later readings */
  tick(timeMs: number): void;
  /** true puts the places of the fields into the reads, for the line view */
  watchLines(isWatched: boolean): void;
  readonly counters: FoldCounters;
  linesPerSecond(timeMs: number): number;
  lastLines(count: number): LoggedLine[];
  /** time of the newest entry */
  readonly timeMs: number;
  readonly recipe: LineRecipe | undefined;
  readonly fuel: Fuel;
  readonly typedAirC: number | undefined;
  readonly lastSample: Sample | undefined;
  /** lines wait for a recipe; they are read once it is known */
  readonly isLearning: boolean;
  readonly marks: readonly Mark[];
  setting(): Setting | undefined;
  states(): readonly ChannelState[];
  derived(timeMs: number): Derived;
  /** offered or taken so far, each in its newest revision */
  readings(): Reading[];
  openReading(): Reading | undefined;
  /** what the run has taught of the appliance */
  knowledge(): SettlingKnowledge | undefined;
  /** what it is read with: the header's own, else those handed in */
  readonly settings: FoldSettings;
  /** the reading taken by the newest `take` entry; undefined when there was nothing to take */
  readonly lastTaken: Reading | undefined;
  readonly gaps: ReturnType<typeof createSpanList<GapStretch>>;
  readonly excluded: ReturnType<typeof createSpanList<ExcludedStretch>>;
  readonly settled: ReturnType<typeof createSpanList<SettledStretch>>;
}
