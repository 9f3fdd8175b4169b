/** Law 16, on the bench: nothing is said to be saved or signed before it is, and every number is finite before it travels. */
import { describe, expect, it } from 'vitest';
import { DoneStep } from '../../shared/bench/bench-test.ts';
import { wholeStep } from '../../shared/bench/results/whole-step.ts';
import { createRandom } from '../../shared/burner/random.ts';
import { problem } from '../../shared/problem.ts';
import { AIR, HIGH, openBench } from '../main/bench/bench-fixture.ts';
import { runPlan } from '../shared/bench/run-plan.ts';

/** A step with some of its figures broken, at any depth. */
function broken(step: DoneStep, seed: number): DoneStep {
  const random = createRandom(seed, 'law 16');
  const hurt = (value: unknown): unknown => {
    if (typeof value === 'number') return random.uniform() < 0.02 ? [NaN, Infinity, -Infinity][Math.floor(3 * random.uniform())] : value;
    if (Array.isArray(value)) return value.map(hurt);
    if (typeof value !== 'object' || value === null) return value;
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, hurt(one)]));
  };
  return hurt(step) as DoneStep;
}

describe('law 16 on the bench', () => {
  it('a step with a figure that is none can always be saved; what was whole in it stays (2 000 steps)', () => {
    const { steps } = runPlan('bench-healthy', 1).rounds[0]!;
    let hurt = 0;
    for (let seed = 1; seed <= 2000; seed++) {
      const step = broken(steps[seed % steps.length]!, seed);
      const whole = wholeStep(step);
      const onDisk: unknown = JSON.parse(JSON.stringify(whole));
      const read = DoneStep.safeParse(onDisk);
      expect(read.success, `step ${seed}`).toBe(true);
      expect(whole.stepId).toBe(step.stepId);
      expect(whole.end).toBe(step.end);
      if (JSON.stringify(step).includes('null')) hurt++;
    }
    expect(hurt).toBeGreaterThan(500);
    expect(wholeStep(steps[0]!)).toBe(steps[0]);
  });

  it('whatever the disk refuses, and whenever: what a window is told to be saved or signed is what the disk holds (200 rounds)', async () => {
    for (let seed = 1; seed <= 200; seed++) {
      const random = createRandom(seed, 'law 16, disk');
      const bench = await openBench();
      const toss = (): void => bench.refuse(random.uniform() < 0.4 ? problem('disk-full') : undefined);
      toss();
      await bench.press('s1');
      toss();
      await bench.read(seed % 20 === 0 ? 60 : 5, AIR);
      toss();
      await bench.call('bench.skip', { testIds: [...bench.testIds], stepId: 's1', how: 'left-out', why: 'tried' });
      toss();
      await bench.read(3, HIGH);
      await bench.call('bench.skip', { testIds: [...bench.testIds], stepId: 's2', how: 'rest', why: 'tried' });
      toss();
      const answer = await bench.call('bench.sign', { testId: bench.testIds[0]!, name: 'B. Tester' });
      const unsaved = (await bench.state()).some((session) => session.unsaved.length > 0);
      const shown = bench.told.flatMap(({ tests }) => tests).at(-1);
      expect(answer.ok, `round ${seed}`).toBe(bench.stored().signature !== undefined);
      expect(bench.alarms.size > 0, `round ${seed}: an alarm while anything is unsaved`).toBe(unsaved);
      if (!unsaved) expect(shown?.body, `round ${seed}`).toEqual(bench.stored());
      if (shown?.body.signature !== undefined) expect(bench.stored().signature).toEqual(shown.body.signature);
      // the disk is well again: nothing was lost
      bench.refuse(undefined);
      await bench.clock.advance(4000);
      expect(bench.alarms.size).toBe(0);
      expect(bench.stored().rounds[0]!.steps).toHaveLength(2);
    }
  });
});
