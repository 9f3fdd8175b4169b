/** A run's facts as the command line's JSON says them: inner names and milliseconds become its names and seconds. */
import { shortNames, type ChannelId } from '../../../shared/measurement/channel.ts';
import type { DerivedKey } from '../../../shared/measurement/derived.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import type { ChannelState, Reading } from '../../../shared/measurement/state.ts';
import type { ComputedWith, RunFold } from '../../../shared/pipeline/run-fold.ts';
import type { LoggedLine } from '../../../shared/pipeline/line-log.ts';
import { deriveReading } from '../../../shared/pipeline/derive-now.ts';
import type { UsedRecipe } from '../read-run.ts';
import { defined } from '../../../shared/defined.ts';

const jsonNames: Record<ChannelId, string> = {
  o2: 'o2_pct',
  co: 'co_ppm',
  co2: 'co2_pct',
  stackTemperature: 'stack_c',
  airTemperature: 'air_c',
  no: 'no_ppm',
  no2: 'no2_ppm',
  so2: 'so2_ppm',
  draft: 'draft_pa',
  pumpPressure: 'pump_pressure_pa',
  ambientCo: 'ambient_co_ppm',
  aux1: 'aux1',
  aux2: 'aux2',
  aux3: 'aux3',
  aux4: 'aux4',
};

const derivedNames: Partial<Record<DerivedKey, string>> = {
  netStackC: 'net_stack_c',
  co2Percent: 'co2_computed_pct',
  excessAirPercent: 'excess_air_pct',
  lambda: 'lambda',
  coAirFreePpm: 'co_air_free_ppm',
  coAt3PercentO2Ppm: 'co_at_3pct_o2_ppm',
  stackLossPercent: 'stack_loss_pct',
  efficiencyHhvPercent: 'efficiency_hhv_pct',
  efficiencyLhvPercent: 'efficiency_lhv_pct',
};

/** Ten digits are more than any instrument has; more are only the dust of binary arithmetic. */
const clean = (value: number): number => Number(value.toPrecision(10));
const seconds = (timeMs: number): number => clean(timeMs / 1000);

/** @param originMs run time that the command line calls 0 */
export const createRunJson = (originMs: () => number) => {
  const at = (timeMs: number): number => seconds(timeMs - originMs());
  const channels = (values: Partial<Record<ChannelId, number>>): Record<string, number> =>
    Object.fromEntries(Object.entries(values).map(([channel, value]) => [jsonNames[channel as ChannelId], clean(value)]));
  return {
    sample: (sample: Sample) => ({
      type: 'sample',
      t_s: at(sample.timeMs),
      ...channels(sample.values),
      ...(sample.absent === undefined
        ? {}
        : {
            ...Object.fromEntries(Object.keys(sample.absent).map((channel) => [jsonNames[channel as ChannelId], null])),
            absent: Object.fromEntries(Object.entries(sample.absent).map(([channel, why]) => [jsonNames[channel as ChannelId], why])),
          }),
      ...defined({ instrument: sample.state }),
    }),
    state: (state: ChannelState) => ({
      type: 'state',
      channel: shortNames[state.channel],
      state: state.state,
      t_s: at(state.timeMs),
      ...defined({ value: state.value === undefined ? undefined : clean(state.value) }),
      heading_for: state.headingFor === undefined ? null : clean(state.headingFor.value),
      ...defined({
        heading_for_low: state.headingFor === undefined ? undefined : clean(state.headingFor.low),
        heading_for_high: state.headingFor === undefined ? undefined : clean(state.headingFor.high),
        per_min: state.perMinute === undefined ? undefined : clean(state.perMinute),
        swing_low: state.swing === undefined ? undefined : clean(state.swing.low),
        swing_high: state.swing === undefined ? undefined : clean(state.swing.high),
        period_s: state.swing === undefined ? undefined : state.swing.periodS === undefined ? null : clean(state.swing.periodS),
      }),
      seconds_left: state.secondsLeft === undefined ? null : clean(state.secondsLeft.value),
      ...defined({ reason: state.reason }),
    }),
    /** the means of the moment when it was first offered; `from_s` and `to_s` span the whole stretch */
    reading: (reading: Reading, computedWith: ComputedWith) => {
      const derived = deriveReading({ reading, ...computedWith, atFirst: true });
      const means = Object.fromEntries(
        Object.entries(reading.channels).map(([channel, { mean }]) => [channel, reading.first?.[channel as ChannelId] ?? mean]),
      );
      const figures = Object.entries(derivedNames).map(([key, name]) => {
        const value = derived.values[key as DerivedKey];
        return [name, value === undefined ? null : clean(value)];
      });
      const spread = Object.fromEntries(
        Object.entries(reading.channels).map(([channel, { u }]) => [jsonNames[channel as ChannelId], clean(u)]),
      );
      const { efficiencyHhvPercent } = derived.expanded;
      return {
        type: 'reading',
        scope: reading.scope,
        id: reading.id,
        settled: reading.settled,
        from_s: at(reading.fromMs),
        to_s: at(reading.toMs),
        taken_s: at(reading.takenMs),
        ...channels(means),
        ...(Object.fromEntries(figures) as Record<string, number | null>),
        efficiency_u_pct: efficiencyHhvPercent === undefined ? null : clean(efficiencyHhvPercent),
        u: spread,
      };
    },
    rejected: ({ number, line, read }: LoggedLine) => ({
      type: 'rejected',
      line: number,
      t_s: at(line.timeMs),
      ...(read?.kind === 'rejected' ? { reason: read.reason, detail: read.detail } : {}),
      text: line.bytes.slice(0, 200),
    }),
    recipe: ({ recipe, assumed, confidence, reasons, alternatives }: UsedRecipe, isSimulated: boolean) => ({
      type: 'recipe',
      name: recipe.name,
      assumed,
      ...defined({ confidence, reasons }),
      ...(assumed
        ? {
            alternatives: (alternatives ?? []).map((other) => ({
              name: other.recipe.name,
              confidence: other.confidence,
              recipe: other.recipe,
            })),
          }
        : {}),
      ...(isSimulated ? { simulated: true } : {}),
      recipe,
    }),
    clockSet: (atMs: number, byMs: number) => ({ type: 'clock-set', t_s: at(atMs), back_s: byMs / 1000 }),
    summary: (fold: RunFold, { firstMs, damagedLines, isSimulated }: SummaryFacts) => {
      const { lines, understood, rejected, ignored, bytes } = fold.counters;
      const readings = fold.readings();
      return {
        type: 'summary',
        lines,
        samples: understood,
        rejected,
        ignored,
        bytes,
        duration_s: lines === 0 ? 0 : seconds(fold.timeMs - firstMs),
        readings: readings.filter(({ scope }) => scope === 'full').length,
        gas_readings: readings.filter(({ scope }) => scope === 'gas').length,
        gaps: fold.gaps.all.length,
        marks: fold.marks.length,
        fuel: fold.fuel.id,
        damaged_entries: damagedLines,
        ...(isSimulated ? { simulated: true } : {}),
      };
    },
  };
};

export type SummaryFacts = { firstMs: number; damagedLines: number; isSimulated: boolean };
