/**
 * A second visit to the same appliance: the run of a stream is begun with what the stream of the first visit taught, and with what another appliance
 * taught. The second stream has the plant and the instrument of the first, and a course and a start of its own.
 */
import { createSettling } from '../../shared/settling/settling.ts';
import { knownAtStart } from '../../shared/bench/session/known-response.ts';
import { KNOWLEDGE_FORMAT, KNOWLEDGE_VERSION, type SettlingKnowledge } from '../../shared/measurement/knowledge.ts';
import { newOutcome, row, runDetector, scoreReadings } from './settling-score.ts';
import { makeStream, type Stream } from './settling-streams.ts';
import { createRandom } from './stream-random.ts';

/** Fixed before any tuning; tuning uses other seeds. */
const TAUGHT_FIRST = 910_000;
const TAUGHT_COUNT = 100;
/** Settings by which a run that was taught wrongly should know better. */
const CORRECTED_AFTER = 2;

/** Never used for tuning: what a bench test of the instrument buys. */
const BENCH_FIRST = 970_000;
const BENCH_COUNT = 60;
/** How far a bench test is off: of the time constant as a share, of the dead time in s. What the certificate states is about this. */
const BENCH_SHARE = 0.05;
const BENCH_DEAD_S = 0.5;
const LEAST_SD = 0.1;

/** The cells of a stream as a bench test of its instrument would have found them, on the day of the visit. */
function onBench({ seed, what }: Stream): SettlingKnowledge {
  const random = createRandom(seed ^ 0x5eed);
  const cell = (tauS: unknown, deadS: unknown) => ({
    sensor: { mean: Math.log(Number(tauS)) + BENCH_SHARE * random.normal(), sd: LEAST_SD },
    dead: { mean: Math.max(0, Number(deadS) + BENCH_DEAD_S * random.normal()), sd: BENCH_DEAD_S },
  });
  return {
    format: KNOWLEDGE_FORMAT,
    version: KNOWLEDGE_VERSION,
    appliance: 'pressure-atomizing oil burner',
    learnedWallMs: 0,
    visits: 0,
    channels: { o2: cell(what['sensorO2'], what['deadO2']), co: cell(what['sensorCo'], what['deadCo']) },
  };
}

/** Visits with and without a bench test of the instrument, at a boiler that is not known and at one that is. */
export function scoreBenchPrior(first = BENCH_FIRST, count = BENCH_COUNT): void {
  const kinds = ['nothing known', 'bench test', 'first visit', 'first visit and bench'] as const;
  const full = kinds.map(newOutcome);
  const gas = kinds.map(newOutcome);
  for (let seed = first; seed < first + count; seed++) {
    const taught = teach(makeStream(seed));
    const visit = makeStream(seed, 1);
    const bench = onBench(visit);
    const starts = [undefined, knownAtStart(undefined, bench, 0), taught, knownAtStart(taught, bench, 0)];
    starts.forEach((known, at) => {
      const found = runDetector(visit, false, known === undefined ? {} : { known });
      scoreReadings(full[at]!, visit, found.full, 'full');
      scoreReadings(gas[at]!, visit, found.gas, 'gas');
    });
  }
  console.log(`bench test as a prior, second visits, first generator, seeds ${first}-${first + count - 1}`);
  console.log(`${''.padEnd(26)}false % right %  median   90 % repeats`);
  kinds.forEach((kind, at) => {
    console.log(row(`${kind}, full`, full[at]!));
    console.log(row(`${kind}, gas`, gas[at]!));
  });
}

function teach({ samples }: Stream): SettlingKnowledge | undefined {
  const settling = createSettling();
  for (const sample of samples) settling.push(sample);
  return settling.knowledge();
}

export function scoreTaught(first = TAUGHT_FIRST, count = TAUGHT_COUNT, { name = 'first', verbose = false, make = makeStream } = {}): void {
  const kinds = ['untaught', 'taught', 'taught by another boiler'] as const;
  const whole = kinds.map(newOutcome);
  const early = kinds.map(newOutcome);
  const late = kinds.map(newOutcome);
  let other = teach(make(first + count));
  for (let seed = first; seed < first + count; seed++) {
    const known = teach(make(seed));
    const visit = make(seed, 1);
    [undefined, known, other].forEach((knowledge, at) => {
      const { full } = runDetector(visit, false, knowledge === undefined ? {} : { known: knowledge });
      scoreReadings(whole[at]!, visit, full, 'full');
      scoreReadings(early[at]!, visit, full, 'full', (k) => k < CORRECTED_AFTER);
      scoreReadings(late[at]!, visit, full, 'full', (k) => k >= CORRECTED_AFTER);
    });
    other = known;
  }
  console.log(`second visits, ${name} generator, seeds ${first}-${first + count - 1}`);
  console.log(`${''.padEnd(26)}false % right %  median   90 % repeats`);
  kinds.forEach((kind, at) => {
    console.log(row(kind, whole[at]!));
    console.log(row(`  first ${CORRECTED_AFTER} settings`, early[at]!));
    console.log(row('  later settings', late[at]!));
  });
  if (verbose) kinds.forEach((kind, at) => whole[at]!.notes.forEach((note) => console.log(`${kind}: ${note}`)));
}
