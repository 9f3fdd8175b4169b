/**
 * Answers quicker than the line rate, with stalled lines: rounds of one instrument through two gases, led by the bench service with a fake
 * clock and a store that takes what a file would take. Used by a unit test (some rounds) and by `npm run soak -- quick` (500).
 */
import { createRandom } from '../../../shared/burner/random.ts';
import { settle } from '../../helpers/host/fake-clock.ts';
import { openBench } from './bench-fixture.ts';

export type QuickFigures = {
  rounds: number;
  /** commands or saves that were refused */
  refused: number;
  /** rounds whose steps are not all in the store */
  lost: number;
  /** stalls of 1 to 4 s */
  stalls: number;
  responses: number;
  /** steps without a response time, because lines were missing on the way */
  linesMissing: number;
  /** figures in the store that are no numbers */
  notFinite: number;
};

const GASES = { s1: { o2: 20.9, co: 0 }, s2: { o2: 4, co: 1000 } } as const;

export async function quickRounds(rounds: number, firstSeed = 1): Promise<QuickFigures> {
  const figures: QuickFigures = { rounds, refused: 0, lost: 0, stalls: 0, responses: 0, linesMissing: 0, notFinite: 0 };
  for (let seed = firstSeed; seed < firstSeed + rounds; seed++) await oneRound(seed, figures);
  return figures;
}

async function oneRound(seed: number, figures: QuickFigures): Promise<void> {
  const random = createRandom(seed, 'quick answers');
  const bench = await openBench();
  const everyMs = [250, 500, 1000][seed % 3]!;
  const tauMs = [1, 50, 100, 200][seed % 4]!;
  const digits = [0.01, 0.1, 1][seed % 3]!;
  const isStill = seed % 2 === 0;
  let from: { o2: number; co: number } = GASES.s1;
  for (const stepId of ['s1', 's2'] as const) {
    const to = GASES[stepId];
    for (let t = 0; t < 8000; t += everyMs) line(from, from, 0);
    if (!(await bench.press(stepId)).ok) figures.refused++;
    const pressedMs = bench.now();
    const deadMs = random.between(0, 1500);
    const before = bench.stored().rounds[0]!.steps.length;
    for (let guard = 0; guard < 600 && bench.stored().rounds[0]!.steps.length === before; guard++) {
      if (random.uniform() < 0.01) {
        bench.at(bench.now() + Math.round(random.between(1000, 4000)));
        figures.stalls++;
      }
      line(from, to, Math.max(0, bench.now() + everyMs - pressedMs - deadMs));
      if (guard % 8 === 0) await settle();
    }
    from = to;
  }
  await settle();
  figures.refused += bench.alarms.size;
  const { steps } = bench.stored().rounds[0]!;
  if (steps.length !== 2 || steps.some(({ end }) => end !== 'reached')) figures.lost++;
  figures.notFinite += JSON.stringify(steps).split('null').length - 1;
  for (const { application, linesMissing } of steps) {
    if (Object.values(application?.channels ?? {}).some(({ response }) => response !== undefined)) figures.responses++;
    if (linesMissing !== undefined) figures.linesMissing++;
  }
  if (!(await bench.call('bench.sign', { testId: bench.testIds[0]!, name: 'B. Tester' })).ok) figures.refused++;
  if (bench.stored().signature === undefined) figures.lost++;

  function line(a: { o2: number; co: number }, b: { o2: number; co: number }, sinceMs: number): void {
    const timeMs = bench.now() + everyMs;
    bench.at(timeMs);
    const part = sinceMs === 0 ? 0 : 1 - Math.exp(-sinceMs / tauMs);
    const value = (low: number, high: number, step: number): number =>
      Math.round((low + part * (high - low) + (isStill ? 0 : step * random.normal())) / step) * step;
    bench.send('run-1', { samples: [{ timeMs, values: { o2: value(a.o2, b.o2, 0.01), co: value(a.co, b.co, digits) } }] });
  }
}
