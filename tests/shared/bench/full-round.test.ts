import { describe, expect, it } from 'vitest';
import { examplePlans } from '../../../shared/bench/plan.ts';
import { headlineOf, roundResult } from '../../../shared/bench/results/test-result.ts';
import { runPlan } from './run-plan.ts';

/** What OIML R 144-2 asks for (nos. 1.3, 1.4, 1.10, 1.19): drift, twenty readings, interferent alone, readings after warm-up. */
describe('the full round', () => {
  const test = runPlan('cross-sensitive-co', 7500, examplePlans[1]);
  const round = test.rounds[0]!;
  const result = roundResult(test, round);
  const co = result.evaluation.channels.find(({ channel }) => channel === 'co')!;

  it('closes all its steps', () => {
    expect(round.steps).toHaveLength(examplePlans[1]!.steps.length);
    expect(round.steps.every(({ end }) => end === 'reached')).toBe(true);
  });
  it('gives twenty readings, three repeats per gas, responses, drift over half an hour', () => {
    expect(co.repeatability?.n).toBe(20);
    for (const level of ['low', 'mid', 'high'])
      expect(co.errors.filter((row) => row.level === level).length, level).toBeGreaterThanOrEqual(3);
    expect(co.responses.length).toBeGreaterThan(6);
    expect(co.drifts.find(({ level }) => level === 'high')?.hours).toBeGreaterThan(0.5);
    expect(co.linearity).toBeDefined();
  });
  it('reads after warm-up and finds an averaging time', () => {
    expect(co.warmUp?.map(({ afterMin }) => afterMin)).toEqual([0, 2, 5, 15]);
    // in service: the larger of 5 ppm and 10 % of 0 (OIML R 144-1), and this zero is right
    expect(co.warmUp?.map(({ limit, verdict }) => [limit, verdict])).toEqual(Array(4).fill([5, 'pass']));
    expect(result.noise.find(({ channel }) => channel === 'co')?.best?.averagingS).toBeGreaterThan(1);
  });
  it('finds that hydrogen moves the CO figure, and fails it', () => {
    expect(co.crossEffect?.perHydrogenPpm).toBeGreaterThan(0.2);
    expect(result.faults[0]).toMatchObject({ pattern: 'cross-sensitive', channel: 'co' });
    expect(headlineOf(result.evaluation, test.limits)).toMatchObject({ kind: 'not-fit', channel: 'co' });
  });
});
