/** The computed figures: of the moment, and of a reading. Both call the same formulas; only the inputs differ. */
import { derive } from '../combustion/figures/derive.ts';
import type { Fuel } from '../combustion/fuel.ts';
import { halfWidthsAt } from '../combustion/figures/uncertainty.ts';
import type { ChannelId, SettlingChannel } from '../measurement/channel.ts';
import type { Tolerances } from '../measurement/limits.ts';
import type { BlankReason, Derived } from '../measurement/derived.ts';
import type { Sample } from '../measurement/sample.ts';
import type { ChannelState, ChannelStatistics, Reading } from '../measurement/state.ts';
import { hasNotSpoken } from '../measurement/first-block.ts';
import type { DeriveInput } from '../combustion/figures/figures.ts';

export type MomentInput = {
  readonly timeMs: number;
  readonly fuel: Fuel;
  readonly states: readonly ChannelState[];
  /** the newest sample: used for what is not filtered, and before the filter has a value */
  readonly sample: Sample | undefined;
  readonly typedAirC: number | undefined;
  readonly tolerances: Tolerances | undefined;
};

/** @returns the figures that the screen shows now, from the filtered values; blank where a channel is absent, suspect or silent */
export const deriveMoment = (input: MomentInput): Derived => derive(momentNumbers(input));

/** What goes into the figures of the moment; 'how is this computed' shows the same numbers. */
export function momentNumbers({ timeMs, fuel, states, sample, typedAirC, tolerances }: MomentInput): DeriveInput {
  const stateOf = (channel: SettlingChannel): ChannelState | undefined => states.find((state) => state.channel === channel);
  const isSilent = states.some(({ state }) => state === 'silent');
  const valueOf = (channel: SettlingChannel): number | undefined => {
    const state = stateOf(channel);
    if (state === undefined) return undefined;
    // the detector has no block of values yet: the newest line is all there is
    if (hasNotSpoken(state)) return sample?.absent?.[channel] === undefined ? sample?.values[channel] : undefined;
    if (state.state === 'absent' || state.state === 'suspect' || state.state === 'silent') return undefined;
    return state.value ?? sample?.values[channel];
  };
  const whyNot = (channel: SettlingChannel, usual: BlankReason): BlankReason => {
    const state = stateOf(channel);
    if (state?.state === 'silent') return 'silent';
    if (state?.state === 'suspect') return 'suspect';
    if (channel === 'co' && state?.reason === 'over-range') return 'co-over-range';
    return usual;
  };
  const coPpm = valueOf('co');
  return {
    timeMs,
    fuel,
    o2PercentDry: valueOf('o2'),
    co2PercentDry: isSilent ? undefined : sample?.values.co2,
    coPpmDry: coPpm,
    stackC: valueOf('stackTemperature'),
    airC: valueOf('airTemperature') ?? typedAirC,
    tolerances: tolerances && halfWidthsAt(tolerances, coPpm),
    missing: {
      o2: whyNot('o2', 'no-o2'),
      co: whyNot('co', 'no-co'),
      stack: whyNot('stackTemperature', 'no-stack-temperature'),
      air: whyNot('airTemperature', 'no-air-temperature'),
    },
  };
}

export type ReadingInput = {
  readonly reading: Reading;
  readonly fuel: Fuel;
  readonly typedAirC?: number | undefined;
  readonly tolerances?: Tolerances | undefined;
  /** of the combustion air, kg/kg dry */
  readonly humidityKgPerKg?: number | undefined;
  /** barometric */
  readonly pressurePa?: number | undefined;
  readonly sulfurPpm?: number | undefined;
  /** true: the means of the moment when it was offered instead of those of the whole stretch */
  readonly atFirst?: boolean | undefined;
};

/**
 * A reading's own figures with their uncertainty: the tolerance of the instrument plus the spread of the means over their effective
 * sample size. A gas reading has no temperatures, so it has no efficiency.
 */
export function deriveReading(input: ReadingInput): Derived {
  const { reading, fuel, typedAirC, tolerances, humidityKgPerKg, pressurePa, sulfurPpm, atFirst = false } = input;
  const statistics = (channel: ChannelId): ChannelStatistics | undefined => reading.channels[channel];
  const mean = (channel: ChannelId): number | undefined => (atFirst ? reading.first?.[channel] : undefined) ?? statistics(channel)?.mean;
  const spread = (channel: ChannelId): number => {
    const found = statistics(channel);
    return found === undefined || found.nEff <= 0 ? 0 : found.sd / Math.sqrt(found.nEff);
  };
  const coPpm = mean('co');
  return derive({
    timeMs: reading.takenMs,
    fuel,
    o2PercentDry: mean('o2'),
    co2PercentDry: mean('co2'),
    coPpmDry: coPpm,
    stackC: mean('stackTemperature'),
    airC: mean('airTemperature') ?? (reading.scope === 'full' ? typedAirC : undefined),
    humidityKgPerKg,
    pressurePa,
    sulfurPpm,
    tolerances: tolerances && halfWidthsAt(tolerances, coPpm),
    spreads: {
      o2: spread('o2'),
      co2: spread('co2'),
      coPpm: spread('co'),
      stackK: spread('stackTemperature'),
      airK: spread('airTemperature'),
    },
  });
}
