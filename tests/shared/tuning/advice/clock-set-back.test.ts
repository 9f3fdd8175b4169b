/** A clock that is set back between two runs of a visit puts the later reading before the earlier one: it still counts as later. */
import { expect, it } from 'vitest';
import { judgeVisit } from '../../../../shared/tuning/advice/safe.ts';
import { smallVisit, START, trial } from '../../report/small-visit.ts';

const HOUR = 3_600_000;
const alarm = { o2: 4, co: 1500, netF: 400, smoke: 0 };

it.each([
  ['no clock was set', 0],
  ['the clock was set back by an hour', HOUR],
])('an alarm read in a second run after as-left is said: %s', (_, back) => {
  const judged = (position: number) => {
    const visit = smallVisit();
    const second = { ...trial('e', 50, { ...alarm, position }), runId: 'run-2', takenWallMs: START + 50 * 60_000 - back };
    return judgeVisit({
      ...visit,
      runs: [...visit.runs, { id: 'run-2', startWallMs: START - back, source: 'port' }],
      trials: [...visit.trials, second].sort((a, b) => a.takenWallMs - b.takenWallMs),
    });
  };
  // as left at 4: read again there it is the burner as left, elsewhere it is not safe for sure
  expect(judged(4)).toMatchObject({ safe: 'no', unsafe: [{ key: 'flue-co' }] });
  expect(judged(2)).toMatchObject({ safe: 'unknown', unknown: [{ key: 'unsafe-since' }] });
});
