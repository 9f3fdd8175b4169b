/** Patterns that the data can show. What each may come from and what to check next is in shared/words/tune/tune-hints.ts; never a verdict on the cause. */
export const patternKeys = [
  'dilution',
  'smoke-with-air',
  'late-onset',
  'over-aired',
  'plain-excess-air',
  'too-little-air',
  'oily-spot',
  'pressure-off',
  'hot-stack',
  'hot-stack-no-drop',
  'hot-stack-high-drop',
  'high-draft-drop',
  'cool-stack',
  'creeping-co',
  'o2-falling',
  'flutter',
  'draft-falling',
  'draft-step',
  'draft-drop-grown',
  'after-drip',
  'purge',
  'probe-out',
  'stuck',
  'slow-cell',
  'impossible-o2',
  'negative-co',
  'slow-warm-up',
  'gap',
  // how it lights
  'late-light',
  'light-off-puff',
  'later-each-start',
  'late-when-cold',
  'late-when-warm',
  'lights-now-and-then',
  'late-and-oily',
  'late-and-smoky',
  // how a flame burns whose nozzle or head is out of place
  'one-sided-flame',
  'chilled-and-smoky',
  'co-with-air',
  'lifting-flame',
] as const;
export type PatternKey = (typeof patternKeys)[number];

/** `figures` are what the sentence needs, in inner units; `stretch` is the data that shows it. */
export type Hint = {
  pattern: PatternKey;
  /** 0-1: how clearly the data show it, not how bad it is */
  strength: number;
  figures: Readonly<Record<string, number>>;
  stretch?: { fromMs: number; toMs: number } | undefined;
  trialIds: readonly string[];
};

/** How far past its threshold an effect is: one half at the threshold, near one at three times of it. */
export const strengthOf = (effect: number, threshold: number): number => 1 - Math.pow(0.5, Math.abs(effect) / threshold);
