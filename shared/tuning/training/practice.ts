/**
 * Questions for practice without a burner: which spot on the smoke paper counts and whether the probe may go in, and what a watch says of a control. The
 * answers come from the very functions that judge a visit. Pure; the random numbers are the caller's.
 */
import type { SmokeSpot } from '../../measurement/mark.ts';
import { PROBE_SMOKE_MOST, darkest, probeGate } from '../trial/probe-gate.ts';
import { HAND_TIMING_EXPANDED_S } from '../safety/safety-plan.ts';
import { judgeTimedTest, type TimedJudgement } from '../safety/timed-test.ts';

export const practiceKinds = ['smoke', 'times'] as const;
export type PracticeKind = (typeof practiceKinds)[number];
export const smokeAnswers = ['probe-in', 'probe-out', 'oil', 'another-spot'] as const;
export type SmokeAnswer = (typeof smokeAnswers)[number];
export const timeAnswers = ['pass', 'fail', 'cannot'] as const;
export type TimeAnswer = (typeof timeAnswers)[number];
export type PracticeAnswer = SmokeAnswer | TimeAnswer;

type Timed = Parameters<typeof judgeTimedTest>[0];
export type PracticeQuestion =
  | { kind: 'smoke'; spots: SmokeSpot[]; right: SmokeAnswer; counts: number | undefined }
  | { kind: 'times'; facts: Timed; right: TimeAnswer; judged: TimedJudgement };

const pick = <T>(list: readonly T[], random: () => number): T => list[Math.min(list.length - 1, Math.floor(random() * list.length))]!;
const tenths = (value: number): number => Math.round(10 * value) / 10;

/** @param randomOf a stream of numbers in [0, 1) for a seed: the same question whenever it is looked at */
export function practiceQuestion(
  { kind, seed, at }: { kind: PracticeKind; seed: number; at: number },
  randomOf: (seed: number) => () => number,
): PracticeQuestion {
  const random = randomOf(seed * 1009 + at);
  return kind === 'smoke' ? smokeQuestion(random) : timeQuestion(random);
}

/** Three spots; each of the four answers comes as often as the others. */
function smokeQuestion(random: () => number): PracticeQuestion {
  const wanted = pick(smokeAnswers, random);
  const half = (low: number, high: number): number => Math.round(2 * (low + (high - low) * random())) / 2;
  const flawed = (): boolean => wanted === 'another-spot' || random() < 0.3;
  const spots = [0, 1, 2].map((): SmokeSpot => {
    const isFlawed = flawed();
    // a wet spot may be as dark as it likes: it does not count
    const number = isFlawed ? half(0, 6) : half(0, PROBE_SMOKE_MOST);
    return { number, ...(isFlawed && { flaw: pick(['wet', 'uneven'] as const, random) }) };
  });
  const which = Math.floor(3 * random());
  if (wanted === 'probe-out') spots[which] = { number: half(PROBE_SMOKE_MOST + 0.5, 6) };
  if (wanted === 'probe-in') spots[which] = { number: half(0, PROBE_SMOKE_MOST) };
  if (wanted === 'oil') spots[which] = { ...spots[which]!, oilTrace: true };
  const { state } = probeGate(
    { job: 'service', probeSmoke: [{ wallMs: 1, spots }], trials: [], changes: [], stages: [{ name: '1' }] },
    'as-found',
  );
  const right = ({ open: 'probe-in', 'too-dark': 'probe-out', oil: 'oil', needed: 'another-spot' } as const)[state];
  return { kind: 'smoke', spots, right, counts: darkest(spots) };
}

/** A delayed valve, a recycling control, or one that locks out; now and then what has to be known for a verdict is missing. */
function timeQuestion(random: () => number): PracticeQuestion {
  const ratedS = pick([15, 30, 45], random);
  // far enough from the rated time that a hand on a watch cannot be the reason
  const isLong = random() < 0.5;
  const counted = isLong ? ratedS + 2 * HAND_TIMING_EXPANDED_S + 12 * random() : ratedS - 2 * HAND_TIMING_EXPANDED_S - 4 * random();
  const delay = pick([4, 7, 10], random);
  const wait = tenths(60 + 30 * random());
  const isKnown = random() < 0.7;
  const how = pick(['delayed valve', 'recycles', 'locks out', 'valve'] as const, random);
  const facts: Timed =
    how === 'delayed valve'
      ? {
          test: 'lockout-no-ignition',
          seconds: tenths(counted + delay),
          ratedS,
          control: isKnown ? { valveOnDelayS: delay } : {},
          startedFrom: 'burner-starts',
        }
      : how === 'recycles'
        ? {
            test: 'flame-failure',
            seconds: tenths(wait + delay + counted),
            ratedS,
            control: { onFlameLoss: 'recycles', valveOnDelayS: delay },
            startedFrom: 'flame-lost',
            ...(isKnown && { restartS: wait }),
          }
        : {
            test: how === 'valve' ? 'lockout-no-ignition' : 'flame-failure',
            seconds: tenths(counted),
            ratedS: isKnown ? ratedS : undefined,
            ...(how === 'locks out' && { control: { onFlameLoss: 'locks-out' as const } }),
            startedFrom: how === 'valve' ? 'valve-opens' : 'flame-lost',
          };
  const judged = judgeTimedTest(facts);
  const right = judged.verdict === 'pass' || judged.verdict === 'fail' ? judged.verdict : 'cannot';
  return { kind: 'times', facts, right, judged };
}
