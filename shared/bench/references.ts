/** Fresh air and bottles -> what the instrument should read. The certified value counts, never the nominal one. */
import type { Reference } from './results/evaluate.ts';
import { DRY_AIR_O2_PERCENT, freshAirO2Percent } from './fresh-air.ts';
import { benchChannels, type BenchChannel, type Cell, type ReferenceGas } from './instrument.ts';
import type { Level } from './session/nearest-level.ts';
import type { BenchTest, GasUse, Room } from './bench-test.ts';
import type { GasSlot } from './plan.ts';
import { defined } from '../defined.ts';

/** half-widths of a room thermometer and hygrometer (common practice) */
const AIR_K = 1;
const HUMIDITY_PERCENT = 5;
/** CO of clean outdoor air stays below this, ppm (common practice) */
const CLEAN_AIR_CO_PPM = 1;
/** spread of O2 in dry clean air, %vol (from memory) */
const DRY_AIR_U = 0.01;

/**
 * O2 of the fresh air at the cells with its expanded uncertainty, %vol.
 * Not dried and no humidity typed: the middle of what 0 to 100 % relative humidity at 20 °C gives, and the doubt is as wide.
 */
export function freshAirReference({ airC, relativeHumidityPercent, pressurePa, dried }: Room): { value: number; expanded: number } {
  if (dried) return { value: DRY_AIR_O2_PERCENT, expanded: 2 * DRY_AIR_U };
  const at = (c: number, rh: number): number =>
    freshAirO2Percent({
      airC: c,
      relativeHumidityPercent: Math.min(100, Math.max(0, rh)),
      ...defined({ pressurePa }),
    });
  const c = airC ?? 20;
  const halfWidth =
    relativeHumidityPercent === undefined
      ? (at(c, 0) - at(c, 100)) / 2
      : Math.hypot(
          (at(c, relativeHumidityPercent - HUMIDITY_PERCENT) - at(c, relativeHumidityPercent + HUMIDITY_PERCENT)) / 2,
          (at(c - AIR_K, relativeHumidityPercent) - at(c + AIR_K, relativeHumidityPercent)) / 2,
        );
  return { value: at(c, relativeHumidityPercent ?? 50), expanded: 2 * Math.hypot(halfWidth / Math.sqrt(3), DRY_AIR_U) };
}

const within = ({ rangeLow, rangeHigh }: Cell, value: number): boolean => value >= rangeLow && value <= rangeHigh * 1.0001;

/** Components that a cell cannot read at all, so that they are not judged. */
export function outsideRange(cells: readonly Cell[], gas: ReferenceGas): BenchChannel[] {
  return gas.components
    .filter(({ channel, value }) => {
      const cell = cells.find((one) => one.channel === channel);
      return cell !== undefined && !within(cell, value);
    })
    .map(({ channel }) => channel);
}

/** The key of a reference is the slot of the plan. */
export function referencesOf({ gases, room, instrument }: Pick<BenchTest, 'gases' | 'room' | 'instrument'>): Reference[] {
  const air: Reference = {
    key: 'air',
    freshAir: true,
    components: { o2: freshAirReference(room), co: { value: 0, expanded: CLEAN_AIR_CO_PPM } },
  };
  const bottles = gases.map(({ slot, gas }): Reference => {
    const left = outsideRange(instrument.cells, gas);
    const listed = gas.components.filter(({ channel }) => !left.includes(channel));
    return {
      key: slot,
      components: Object.fromEntries(listed.map(({ channel, value, expanded }) => [channel, { value, expanded }])),
      hydrogenPpm: gas.hydrogenPpm,
    };
  });
  return [air, ...bottles];
}

/** What each gas looks like in the stream; what the certificate does not list follows from the balance gas. */
export function levelsOf({ gases, room }: Pick<BenchTest, 'gases' | 'room'>): Level[] {
  const air: Level = { key: 'air', values: { o2: freshAirReference(room).value, ...noneOfTheRest } };
  return [air, ...gases.map(({ slot, gas }) => ({ key: slot, values: valuesOf(gas) }))];
}

const noneOfTheRest: Level['values'] = { co: 0, no: 0, no2: 0, so2: 0, co2: 0 };
function valuesOf(gas: ReferenceGas): Level['values'] {
  const known = Object.fromEntries(gas.components.map(({ channel, value }) => [channel, value])) as Level['values'];
  return { o2: gas.balance === 'air' ? DRY_AIR_O2_PERCENT : 0, ...noneOfTheRest, ...known };
}

export const gasOf = (gases: readonly GasUse[], slot: GasSlot): ReferenceGas | undefined => gases.find((use) => use.slot === slot)?.gas;

/** What a gas gives on a channel; fresh air as the room has it. */
export const targetOf = ({ gases, room }: Pick<BenchTest, 'gases' | 'room'>, slot: GasSlot, channel: BenchChannel): number | undefined =>
  slot === 'air'
    ? channel === 'o2'
      ? freshAirReference(room).value
      : 0
    : gasOf(gases, slot)?.components.find((one) => one.channel === channel)?.value;

/** Channels that this instrument has a cell for. */
export const channelsOf = (cells: readonly Cell[]): BenchChannel[] =>
  benchChannels.filter((channel) => cells.some((cell) => cell.channel === channel));
