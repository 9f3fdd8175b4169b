import { describe, expect, it } from 'vitest';
import { createRecogniser } from '../../../shared/bench/session/recognise.ts';
import { createBurner } from '../../../shared/burner/burner.ts';
import { findScenario } from '../../../shared/burner/scenarios/catalogue.ts';
import type { Level } from '../../../shared/bench/session/nearest-level.ts';

const levels: Level[] = [
  { key: 'fresh air', values: { o2: 20.9, co: 0 } },
  { key: 'zero', values: { o2: 0, co: 0 } },
  { key: 'co 100', values: { o2: 4, co: 100 } },
  { key: 'co 400', values: { o2: 4, co: 400 } },
];

/** Applies each gas for a time to the simulated instrument and lets the recogniser look on. */
function bench(scenarioName: string, seed: number, gases: readonly (readonly [string, number])[], marked: boolean) {
  const scenario = findScenario(scenarioName);
  if (!scenario.ok) throw new Error(scenario.error.detail);
  const burner = createBurner({ scenario: { ...scenario.value, events: [] }, seed, shape: 'columns' });
  const recogniser = createRecogniser({ channels: ['o2', 'co'], levels });
  let atMs = 0;
  for (const [gas, seconds] of gases) {
    const set = burner.setPart('inlet', gas, atMs);
    if (!set.ok) throw new Error(set.error.detail);
    if (marked) recogniser.mark(atMs);
    atMs += seconds * 1000;
    for (const { timeMs, text } of burner.advanceTo(atMs)) {
      const [, o2, co] = text.split(',');
      const values = {
        ...(Number.isFinite(Number(o2)) && o2 !== '' ? { o2: Number(o2) } : {}),
        ...(Number.isFinite(Number(co)) && co !== '' ? { co: Number(co) } : {}),
      };
      if (Object.keys(values).length > 0) recogniser.push({ timeMs, values });
    }
  }
  return recogniser;
}

const plan = [
  ['air', 200],
  ['nitrogen', 240],
  ['co-100', 240],
  ['co-400', 240],
  ['air', 240],
] as const;

describe('recognising the gas at the inlet', () => {
  it.each([1, 2, 3, 4, 5])('finds every gas of the plan in order, seed %i', (seed) => {
    const applications = bench('bench-healthy', seed, plan, true).applications();
    expect(applications.map(({ level }) => level)).toEqual(['fresh air', 'zero', 'co 100', 'co 400', 'fresh air']);
    const span = applications[3]?.channels.co;
    expect(span?.plateau.mean).toBeGreaterThan(380);
    expect(span?.plateau.mean).toBeLessThan(420);
    expect(applications[1]?.channels.o2?.response?.t90.value).toBeGreaterThan(5);
    expect(applications[1]?.channels.o2?.response?.t90.value).toBeLessThan(60);
  });
  it('still knows the gas of a weak cell', () => {
    const applications = bench('low-span', 1, plan, true).applications();
    expect(applications.map(({ level }) => level)).toEqual(['fresh air', 'zero', 'co 100', 'co 400', 'fresh air']);
  });
  it('is not upset by a channel that says nothing at first, nor takes its first word for a change of gas', () => {
    const recogniser = createRecogniser({ channels: ['o2', 'co'], levels });
    for (let s = 0; s < 200; s++) {
      const values = { o2: 20.9 + (s % 3) * 0.01, ...(s < 120 ? {} : { co: s % 2 }) };
      recogniser.push({ timeMs: s * 1000, values });
    }
    expect(recogniser.applications().map(({ level }) => level)).toEqual(['fresh air']);
  });
  it('needs no marks', () => {
    const applications = bench('bench-healthy', 2, plan, false).applications();
    expect(applications.map(({ level }) => level)).toEqual(['fresh air', 'zero', 'co 100', 'co 400', 'fresh air']);
  });
  it('names no gas that the plan does not have', () => {
    const applications = bench(
      'bench-healthy',
      3,
      [
        ['air', 120],
        ['co-1000', 240],
        ['air', 200],
      ],
      true,
    ).applications();
    expect(applications.map(({ level }) => level)).toEqual(['fresh air', undefined, 'fresh air']);
  });
});
