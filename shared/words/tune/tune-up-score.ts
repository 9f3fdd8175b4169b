/** How a practice tune-up went. */
import type { ScoreItem, Scored } from '../../tuning/training/tune-up-score.ts';

export const scoreWords = {
  title: 'How it went',
  items: {
    'smoke-before-probe': 'Smoke spot before the probe',
    'draft-first': 'Draft before the air',
    'readings-waited': 'Waited until readings settled',
    'smoke-found': 'Smoke found, then the air opened again',
    reserve: 'Reserve above the smoke',
    locked: 'Screws tight, read again',
    'co-under-alarm': 'CO never over the alarm',
    'safety-proven': 'Safety tests done',
  } satisfies Record<ScoreItem, string>,
  misses: {
    'smoke-before-probe': 'The first reading came before a spot: oil and soot ruin the cells.',
    'draft-first': 'The air was turned before the draft was set: setting the draft changes O2 again.',
    'readings-waited': 'A reading was taken before it had settled.',
    'smoke-found': 'No smoke was seen, so the least air without smoke is not known.',
    reserve: 'Less than half a point of CO2 above the O2 where smoke begins.',
    locked: 'Nothing was read after tightening: tightening the screws can shift the air.',
    'co-under-alarm': 'CO was at the alarm or above.',
    'safety-proven': 'Some safety tests were not done.',
  } satisfies Record<ScoreItem, string>,
  trials: (numbers: readonly number[]): string => (numbers.length === 1 ? `Trial ${numbers[0]}.` : `Trials ${numbers.join(', ')}.`),
  count: (passed: number, judged: number): string => `${passed} of ${judged}`,
  verdicts: { pass: 'done', miss: 'missed', 'not-judged': 'not judged' } satisfies Record<Scored['verdict'], string>,
} as const;
