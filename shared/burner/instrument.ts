import { createRandom } from './random.ts';
import type { CellValues, InstrumentDrawn } from './sampling.ts';
import type { SimulatedChannel } from './scenario.ts';

/** A value, or the word for what stands in its place. */
export type Shown = number | 'over-range';
export type ShownValues = Readonly<Record<SimulatedChannel, Shown>>;

/**
 * What a perfect display of this faulty instrument would show: zero, span, curvature and cross effect applied, no noise, no rounding.
 * CO bends as  shown = x (1 - curvature x / range)  before zero and span.
 */
export function withErrors(cells: CellValues, instrument: InstrumentDrawn, hours: number): Readonly<Record<SimulatedChannel, number>> {
  const { zero, zeroDriftPerHour, span } = instrument;
  const coSeen = Math.max(0, cells.coPpm + instrument.h2CrossEffect * cells.h2Ppm);
  const bent = coSeen * (1 - (instrument.coCurvature * Math.min(coSeen, instrument.coRangePpm)) / instrument.coRangePpm);
  const shown = (channel: SimulatedChannel, value: number): number =>
    value * span[channel] + zero[channel] + zeroDriftPerHour[channel] * hours;
  return {
    o2: shown('o2', cells.o2Percent),
    co: shown('co', bent),
    stackTemperature: shown('stackTemperature', cells.stackC),
    airTemperature: shown('airTemperature', cells.airC),
    draft: shown('draft', cells.draftPa),
  };
}

const SPIKE = { o2: 1.5, co: 60, stackTemperature: 25, airTemperature: 6, draft: 5 } as const;

/** The display: noise, single-line spikes, over-range, the last digit. Reads once per line, each channel from its own noise. */
export function createDisplay(
  instrument: InstrumentDrawn,
  seed: number,
): { read(cells: CellValues, hours: number): ShownValues; isLost(): boolean } {
  const noise = {
    o2: createRandom(seed, 'noise o2'),
    co: createRandom(seed, 'noise co'),
    stackTemperature: createRandom(seed, 'noise stackTemperature'),
    airTemperature: createRandom(seed, 'noise airTemperature'),
    draft: createRandom(seed, 'noise draft'),
  };
  const spikes = createRandom(seed, 'spikes');
  const losses = createRandom(seed, 'losses');
  const spikeShare = instrument.spikesPerHour / (3600 * instrument.ratePerSecond);
  const read = (cells: CellValues, hours: number): ShownValues => {
    const calm = withErrors(cells, instrument, hours);
    const spiked =
      spikes.uniform() < spikeShare ? instrument.channels[Math.floor(spikes.uniform() * instrument.channels.length)] : undefined;
    const spikeSign = spiked !== undefined && spikes.uniform() < 0.5 ? -1 : 1;
    const show = (channel: SimulatedChannel): Shown => {
      const value =
        calm[channel] + instrument.noise[channel] * noise[channel].normal() + (spiked === channel ? spikeSign * SPIKE[channel] : 0);
      const step = instrument.steps[channel];
      const rounded = Math.round(value / step) * step;
      return channel === 'co' && rounded > instrument.coRangePpm ? 'over-range' : rounded;
    };
    return {
      o2: show('o2'),
      co: show('co'),
      stackTemperature: show('stackTemperature'),
      airTemperature: show('airTemperature'),
      draft: show('draft'),
    };
  };
  return { read, isLost: () => instrument.lostShare > 0 && losses.uniform() < instrument.lostShare };
}
