/** A technician at the simulated burner: waits, reads, takes smoke and drafts, and turns what is advised. Knows nothing of the truth. */
import { createBurner } from '../../shared/burner/burner.ts';
import type { Burner } from '../../shared/burner/burner-interface.ts';
import { findScenario } from '../../shared/burner/scenarios/catalogue.ts';
import { fromHalfWidth } from '../../shared/combustion/figures/uncertainty.ts';
import type { ChannelId } from '../../shared/measurement/channel.ts';
import { defaultTolerances, toleranceAt } from '../../shared/measurement/limits.ts';
import type { Setting } from '../../shared/measurement/mark.ts';
import type { Sample } from '../../shared/measurement/sample.ts';
import type { ChannelStatistics } from '../../shared/measurement/state.ts';
import type { Adjuster } from '../../shared/tuning/trial/adjuster.ts';
import type { Trial } from '../../shared/tuning/trial/trial.ts';

/** What the sensors may be off by: the tolerances in force where nobody typed others, rectangular. */
const sensorU = (channel: ChannelId, value: number): number => fromHalfWidth(toleranceAt(defaultTolerances, channel, value) ?? 0);
const AVERAGED_S = 30;

export type Bench = { burner: Burner; samples: Sample[]; nowMs: number; trials: Trial[]; adjustmentsMs: number[] };

export function setUpBurner(scenarioName: string, seed: number): Bench {
  const scenario = findScenario(scenarioName);
  if (!scenario.ok) throw new Error(`no scenario ${scenarioName}`);
  return { burner: createBurner({ scenario: scenario.value, seed }), samples: [], nowMs: 0, trials: [], adjustmentsMs: [] };
}

export const adjusters: readonly Adjuster[] = [
  { name: 'shutter', unit: '', min: 0, max: 10, step: 0.1, role: 'fine', kind: 'air' },
  { name: 'band', unit: '', min: 0, max: 10, step: 0.5, role: 'coarse', kind: 'air' },
];

/** Comma columns, time first; a word in a column is an absent value. */
export function wait(bench: Bench, seconds: number): void {
  bench.nowMs += seconds * 1000;
  for (const { timeMs, text } of bench.burner.advanceTo(bench.nowMs)) {
    const fields = text.split(',');
    const values: Sample['values'] = {};
    bench.burner.channels.forEach((channel, index) => {
      const field = fields[index + 1]?.trim();
      const value = field === undefined || field === '' ? NaN : Number(field);
      if (Number.isFinite(value)) values[channel] = value;
    });
    if (Object.keys(values).length > 0) bench.samples.push({ timeMs, values });
  }
}

export const presentSetting = (bench: Bench): Setting => ({
  stage: '1',
  positions: bench.burner.adjusters().map(({ name, value }) => ({ name, value })),
});

export function turn(bench: Bench, setting: Setting): void {
  for (const { name, value } of setting.positions) bench.burner.setAdjuster(name, value, bench.nowMs);
  bench.adjustmentsMs.push(bench.nowMs);
  wait(bench, 1);
}

/** One trial at what is set: waits, averages 30 s, takes spots until `spots` are usable, reads both drafts. */
export function takeTrial(bench: Bench, { waitS, spots }: { waitS: number; spots: number }): Trial {
  const startMs = bench.nowMs;
  wait(bench, waitS + AVERAGED_S);
  const window = bench.samples.filter((sample) => sample.timeMs > bench.nowMs - AVERAGED_S * 1000);
  const channels: Record<string, ChannelStatistics> = {};
  for (const channel of ['o2', 'co', 'stackTemperature', 'airTemperature'] as const) {
    const values = window.flatMap((sample) => sample.values[channel] ?? []);
    if (values.length > 0) channels[channel] = statistics(values, (mean) => sensorU(channel, mean));
  }
  const taken: { number: number; flaw?: 'wet' | 'uneven'; oilTrace?: boolean }[] = [];
  for (let tries = 0; tries < 6 && taken.filter((spot) => spot.flaw === undefined).length < spots; tries++) {
    taken.push(bench.burner.smokeSpot(bench.nowMs));
    wait(bench, 25);
  }
  const gauges = bench.burner.gauges(bench.nowMs);
  const id = `trial-${bench.trials.length + 1}`;
  const trial: Trial = {
    id,
    runId: 'run',
    fromMs: startMs,
    toMs: bench.nowMs,
    takenWallMs: bench.nowMs,
    setting: presentSetting(bench),
    reading: {
      id,
      scope: 'full',
      settled: true,
      fromMs: bench.nowMs - AVERAGED_S * 1000,
      toMs: bench.nowMs,
      takenMs: bench.nowMs,
      final: true,
      channels,
    },
    smoke: { spots: taken },
    draft: { overFirePa: gauges.overFirePa, breechPa: gauges.breechPa },
    pumpPa: gauges.pumpPressurePa,
    notes: [],
  };
  bench.trials.push(trial);
  return trial;
}

function statistics(values: readonly number[], sensorAt: (mean: number) => number): ChannelStatistics {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / Math.max(1, values.length - 1));
  // flutter and draft wander are correlated over many seconds: a third of the samples count, a plain assumption
  const nEff = Math.max(1, values.length / 3);
  return { mean, sd, n: values.length, nEff, u: Math.hypot(sensorAt(mean), sd / Math.sqrt(nEff)) };
}
