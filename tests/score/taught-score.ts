/**
 * A second visit to the same appliance: the run of a stream is begun with what the stream of the first visit taught, and with what another appliance
 * taught. The second stream has the plant and the instrument of the first, and a course and a start of its own.
 */
import { createSettling } from '../../shared/settling/settling.ts';
import type { SettlingKnowledge } from '../../shared/measurement/knowledge.ts';
import { newOutcome, row, runDetector, scoreReadings } from './settling-score.ts';
import { makeStream, type Stream } from './settling-streams.ts';

/** Fixed before any tuning; tuning uses other seeds. */
const TAUGHT_FIRST = 910_000;
const TAUGHT_COUNT = 100;
/** Settings by which a run that was taught wrongly should know better. */
const CORRECTED_AFTER = 2;

function teach({ samples }: Stream): SettlingKnowledge | undefined {
  const settling = createSettling();
  for (const sample of samples) settling.push(sample);
  return settling.knowledge();
}

export function scoreTaught(first = TAUGHT_FIRST, count = TAUGHT_COUNT): void {
  const kinds = ['untaught', 'taught', 'taught by another boiler'] as const;
  const whole = kinds.map(newOutcome);
  const early = kinds.map(newOutcome);
  const late = kinds.map(newOutcome);
  let other = teach(makeStream(first + count));
  for (let seed = first; seed < first + count; seed++) {
    const known = teach(makeStream(seed));
    const visit = makeStream(seed, 1);
    [undefined, known, other].forEach((knowledge, at) => {
      const { full } = runDetector(visit, false, knowledge === undefined ? {} : { known: knowledge });
      scoreReadings(whole[at]!, visit, full, 'full');
      scoreReadings(early[at]!, visit, full, 'full', (k) => k < CORRECTED_AFTER);
      scoreReadings(late[at]!, visit, full, 'full', (k) => k >= CORRECTED_AFTER);
    });
    other = known;
  }
  console.log(`second visits, first generator, seeds ${first}-${first + count - 1}`);
  console.log(`${''.padEnd(26)}false % right %  median   90 % repeats`);
  kinds.forEach((kind, at) => {
    console.log(row(kind, whole[at]!));
    console.log(row(`  first ${CORRECTED_AFTER} settings`, early[at]!));
    console.log(row('  later settings', late[at]!));
  });
}
