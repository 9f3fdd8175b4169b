/** A whole round of a plan with a simulated instrument and no window: the leader of the plan as a loop. */
import type { BenchTest, DoneStep } from '../../../shared/bench/bench-test.ts';
import { createColumn } from '../../../shared/bench/session/column.ts';
import { exampleLimits } from '../../../shared/bench/limits.ts';
import { examplePlans, keepsGas, type BenchPlan, type GasSlot } from '../../../shared/bench/plan.ts';
import { inletFor, practiceGases } from '../../../shared/bench/practice.ts';
import { channelsOf, gasOf, levelsOf } from '../../../shared/bench/references.ts';
import { createBurner } from '../../../shared/burner/burner.ts';
import { findScenario } from '../../../shared/burner/scenarios/catalogue.ts';

export const twoGases: BenchPlan = {
  format: 1,
  name: 'two gases',
  steps: [
    { id: 's1', purpose: 'fresh-air', slot: 'air', holdS: 30 },
    { id: 's2', purpose: 'span', slot: 'high', holdS: 30 },
  ],
};

export function practiceTest(plan: BenchPlan = examplePlans[0]!): BenchTest {
  const slots = [...new Set(plan.steps.map(({ slot }) => slot))].filter((slot): slot is Exclude<GasSlot, 'air'> => slot !== 'air');
  return {
    format: 1,
    session: 'practice',
    startedWallMs: Date.UTC(2026, 10, 24, 9),
    zoneMinutes: 60,
    status: 'open',
    watermark: 'simulated',
    instrumentId: 'i1',
    instrument: {
      format: 1,
      name: 'Instrument 3',
      serial: '0147',
      cells: [
        { channel: 'o2', rangeLow: 0, rangeHigh: 25, resolution: 0.1, installed: '2024-11-20' },
        { channel: 'co', rangeLow: 0, rangeHigh: 2000, resolution: 1, installed: '2026-02-20' },
      ],
    },
    plan,
    gases: slots.map((slot) => ({ slot, gas: practiceGases[slot] })),
    room: { airC: 21, relativeHumidityPercent: 45, dried: true },
    limits: {
      format: 1,
      name: 'in service',
      date: '2013',
      decisionRule: 'simple',
      lines: [...exampleLimits[1]!.lines, exampleLimits[2]!.lines[0]!],
    },
    rounds: [{ kind: 'as-found', startedMs: 0, steps: [] }],
    runId: 'run-1',
  };
}

/** @throws when a step does not come to its end within a quarter of an hour */
export function runPlan(scenarioName: string, seed: number, plan?: BenchPlan): BenchTest {
  const scenario = findScenario(scenarioName);
  if (!scenario.ok) throw new Error(scenario.error.detail);
  const burner = createBurner({ scenario: scenario.value, seed, shape: 'columns', ratePerSecond: 2 });
  const test = practiceTest(plan);
  const column = createColumn({ channels: channelsOf(test.instrument.cells), levels: levelsOf(test) });
  const steps: DoneStep[] = [];
  let nowMs = 0;
  const advance = (): void => {
    nowMs += 1000;
    for (const { timeMs, text } of burner.advanceTo(nowMs)) {
      const [, o2, co] = text.split(',');
      const values = Object.fromEntries(
        Object.entries({ o2, co }).flatMap(([key, field]) =>
          field !== undefined && field.trim() !== '' && Number.isFinite(Number(field)) ? [[key, Number(field)]] : [],
        ),
      );
      if (Object.keys(values).length > 0) column.push({ timeMs, values });
    }
  };
  test.plan.steps.forEach((step, index) => {
    const same = keepsGas(test.plan.steps, index);
    column.begin(step, nowMs, same);
    if (!same) {
      for (let i = 0; i < 8; i++) advance();
      const gas = step.slot === 'air' ? ('air' as const) : gasOf(test.gases, step.slot);
      burner.setPart('inlet', gas === undefined ? 'air' : (inletFor(gas) ?? 'air'), nowMs);
      column.mark(nowMs);
    }
    const limitMs = nowMs + 900_000 + step.holdS * 1000;
    while (column.state().phase !== 'closed') {
      advance();
      if (nowMs > limitMs) throw new Error(`${scenarioName} ${seed}: ${step.id} ${step.slot} stays ${JSON.stringify(column.state())}`);
    }
    const taken = column.take(0);
    if (taken !== undefined) steps.push({ ...taken, end: 'reached' });
  });
  return { ...test, status: 'done', rounds: [{ kind: 'as-found', startedMs: 0, steps }] };
}
