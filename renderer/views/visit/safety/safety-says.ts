/** The sentence of the safety step, beside the button that goes on or the three verdicts. Pure. */
import { safetyScreen as words, safetyTitle } from '../../../../shared/words/visit/screens/safety.ts';

/** @param ofTest what the test at hand waits for or offers; @param isIdle no watch runs or waits for its verdict */
export function safetySays(facts: {
  needed: readonly string[];
  results: ReadonlyMap<string, { result: string }>;
  isIdle: boolean;
  ofTest: string;
}): {
  says: string;
  isDone: boolean;
} {
  const { needed, results, isIdle, ofTest } = facts;
  const isDone = needed.every((id) => results.has(id));
  if (!isDone || !isIdle) return { says: ofTest, isDone };
  const failed = needed.filter((id) => results.get(id)?.result === 'fail').map(safetyTitle);
  return { says: failed.length === 0 ? words.allDone : words.doneFailed(failed), isDone };
}
