/** What a bench test says of how an instrument answers, as a prior for the runs of its visits: a run that contradicts it wins. */
import {
  KNOWLEDGE_FORMAT,
  KNOWLEDGE_VERSION,
  type ApplianceKnowledge,
  type Known,
  type KnownChannel,
  type SettlingKnowledge,
} from '../../measurement/knowledge.ts';
import { lastRound, type BenchTest } from '../bench-test.ts';
import { defined } from '../../defined.ts';

/** A hose is changed, a filter clogs: standard deviation that each year since the test adds, of the logarithm of a time. Common practice as to size. */
const PER_YEAR = 0.15;
/** The bench feeds the gas without a probe in a hot flue: no time is known better than this there. */
const LEAST_SD = 0.1;
const LEAST_DEAD_SD_S = 0.5;
const YEAR_MS = 365.25 * 86_400_000;

/** @returns undefined where the test gave no times, or is no test of a real instrument */
export function knownResponse(testId: string, test: BenchTest): ApplianceKnowledge | undefined {
  if (test.watermark !== undefined) return undefined;
  const channels: SettlingKnowledge['channels'] = {};
  for (const channel of ['o2', 'co'] as const) {
    const answers = lastRound(test).steps.flatMap(({ application, linesMissing }) => {
      const answer = application?.channels[channel]?.response;
      return answer === undefined || answer.tau.value <= 0 || linesMissing?.includes(channel) === true ? [] : [answer];
    });
    if (answers.length === 0) continue;
    const sensor = together(
      answers.map(({ tau }) => ({ mean: Math.log(tau.value), sd: tau.expanded / (2 * tau.value) })),
      LEAST_SD,
    );
    const dead = together(
      answers.map((answer) => ({ mean: Math.max(0, answer.dead.value), sd: answer.dead.expanded / 2 })),
      LEAST_DEAD_SD_S,
    );
    channels[channel] = { sensor, dead };
  }
  if (Object.keys(channels).length === 0) return undefined;
  const knowledge: SettlingKnowledge = {
    format: KNOWLEDGE_FORMAT,
    version: KNOWLEDGE_VERSION,
    appliance: 'pressure-atomizing oil burner',
    learnedWallMs: test.startedWallMs,
    visits: 0,
    channels,
  };
  return { visitIds: [testId], knowledge };
}

function together(answers: readonly Known[], least: number): Known {
  const mean = answers.reduce((sum, one) => sum + one.mean, 0) / answers.length;
  const between = answers.reduce((sum, one) => sum + (one.mean - mean) ** 2, 0) / Math.max(1, answers.length - 1);
  const within = answers.reduce((sum, one) => sum + one.sd ** 2, 0) / answers.length;
  const rounded = (value: number): number => Math.round(1e4 * value) / 1e4;
  return { mean: rounded(mean), sd: rounded(Math.max(least, Math.sqrt(between + within))) };
}

/**
 * What a run begins with: the metal as the appliance's visits taught it, the cells as the bench found them, the less surely the longer ago.
 * @param bench what the newest bench test of the visit's instrument gave
 */
export function knownAtStart(
  appliance: SettlingKnowledge | undefined,
  bench: SettlingKnowledge | undefined,
  wallMs: number,
): SettlingKnowledge | undefined {
  if (bench?.learnedWallMs === undefined) return appliance;
  const years = Math.max(0, wallMs - bench.learnedWallMs) / YEAR_MS;
  const aged = ({ sensor, dead }: KnownChannel): KnownChannel => ({
    sensor: { mean: sensor.mean, sd: Math.hypot(sensor.sd, PER_YEAR * years) },
    ...defined({ dead: dead !== undefined ? { mean: dead.mean, sd: Math.hypot(dead.sd, PER_YEAR * years * dead.mean) } : undefined }),
  });
  const { learnedWallMs: benchWallMs, ...nothingLearned } = bench;
  const { o2, co } = bench.channels;
  return {
    ...(appliance ?? nothingLearned),
    benchWallMs,
    channels: {
      ...appliance?.channels,
      ...defined({ o2: o2 !== undefined ? aged(o2) : undefined, co: co !== undefined ? aged(co) : undefined }),
    },
  };
}
