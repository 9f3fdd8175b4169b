import type { Sample } from '../../measurement/sample.ts';
import { dilutionHint } from './dilution.ts';
import { flutterHint } from './flutter.ts';
import { afterDripHint, purgeHints } from './fresh-air.ts';
import { gapHint, impossibleO2Hint, negativeCoHint, slowCellHint, stuckHint } from './instrument.ts';
import { lightOffHint } from './light-off.ts';
import type { Hint, PatternKey } from './patterns.ts';
import { prepareStream, type Stream } from './stream.ts';
import { creepingCoHint, draftFallingHint, draftStepHint, o2FallingHint, slowWarmUpHint } from './trends.ts';
import { trialHints, type TrialFacts } from './trial-patterns.ts';

export type DiagnosisInput = TrialFacts & {
  /** the last half hour or so of one run, in order of time */
  samples: readonly Sample[];
  /** times of marked changes in that run */
  adjustmentsMs: readonly number[];
};

const streamPatterns: readonly ((stream: Stream) => Hint[])[] = [
  dilutionHint,
  flutterHint,
  creepingCoHint,
  draftStepHint,
  draftFallingHint,
  o2FallingHint,
  afterDripHint,
  purgeHints,
  negativeCoHint,
  impossibleO2Hint,
  stuckHint,
  slowCellHint,
  slowWarmUpHint,
  gapHint,
  lightOffHint,
];

/** A pattern that another one already tells, and better. */
const saidBy: Partial<Record<PatternKey, readonly PatternKey[]>> = {
  'o2-falling': ['draft-falling', 'draft-step'],
  'draft-falling': ['draft-step'],
  'late-onset': ['smoke-with-air'],
  'hot-stack': ['hot-stack-high-drop', 'hot-stack-no-drop'],
  'slow-warm-up': ['slow-cell'],
  'smoke-with-air': ['one-sided-flame', 'chilled-and-smoky'],
  flutter: ['lifting-flame'],
  'co-with-air': ['lifting-flame'],
  'oily-spot': ['late-and-oily'],
};

/**
 * Patterns in the data, clearest first. A healthy burner gives none. Each says what was seen and where; what may cause it and what to check
 * next is looked up by its key, and no pattern is a cause.
 */
export function diagnose(input: DiagnosisInput): Hint[] {
  const stream = prepareStream(input.samples, input.adjustmentsMs);
  const hints = together([...(stream ? streamPatterns.flatMap((pattern) => pattern(stream)) : []), ...trialHints(input)]);
  const seen = new Set(hints.map((hint) => hint.pattern));
  return hints.filter(({ pattern }) => !saidBy[pattern]?.some((other) => seen.has(other))).sort((a, b) => b.strength - a.strength);
}

const lights: readonly PatternKey[] = ['late-light', 'light-off-puff', 'later-each-start', 'late-when-warm'];

/** Two patterns that tell more together than each alone. */
function together(hints: readonly Hint[]): readonly Hint[] {
  const one = (...patterns: PatternKey[]): Hint | undefined => hints.find(({ pattern }) => patterns.includes(pattern));
  const late = one(...lights);
  const oil = one('oily-spot');
  const smoke = one('smoke-with-air');
  const flutter = one('flutter');
  const co = one('co-with-air');
  const both = (pattern: PatternKey, first: Hint, second: Hint): Hint => ({
    pattern,
    strength: Math.max(first.strength, second.strength),
    figures: { ...second.figures, ...first.figures },
    stretch: first.stretch,
    trialIds: second.trialIds,
  });
  const made = [
    ...(late && oil ? [both('late-and-oily', late, oil)] : []),
    ...(late && smoke && !oil ? [both('late-and-smoky', late, smoke)] : []),
    ...(flutter && co ? [both('lifting-flame', flutter, co)] : []),
  ];
  return made.some(({ pattern }) => pattern.startsWith('late-and'))
    ? [...made, ...hints.filter((hint) => hint !== late)]
    : [...made, ...hints];
}
