import { z } from 'zod';
import { burnerTexts } from '../words/core/burner.ts';
import { plainRefusal } from '../plain-refusal.ts';

/**
 * What may be changed while the simulated burner runs: by a scenario's events, by an instructor, or by the bench.
 * The first block holds amounts (they may move over a time), the second switches.
 */
export const amounts = {
  pumpPressurePa: { low: 100_000, high: 2_000_000, about: burnerTexts.pumpPressure },
  chimneyDraftFactor: { low: 0, high: 2, about: burnerTexts.chimneyDraft },
  roomDepressionPa: { low: 0, high: 40, about: burnerTexts.roomDepression },
  roomCoPpm: { low: 0, high: 500, about: burnerTexts.roomCo },
  leakFraction: { low: 0, high: 0.9, about: burnerTexts.leak },
  fouling: { low: 1, high: 1.6, about: burnerTexts.fouling },
  nozzleFault: { low: 0, high: 1, about: burnerTexts.nozzleFault },
  inletBlockage: { low: 0, high: 0.8, about: burnerTexts.inletBlockage },
  flutterFraction: { low: 0, high: 0.2, about: burnerTexts.flutter },
  creepPpmPerMinute: { low: 0, high: 60, about: 'rise of the air-free CO' },
  afterDripSeconds: { low: 0.1, high: 60, about: burnerTexts.afterDrip },
  filterClog: { low: 0, high: 1, about: burnerTexts.filterClog },
} as const satisfies Record<string, { low: number; high: number; about: string }>;

export const switches = {
  firing: 'the burner burns',
  secondStage: burnerTexts.secondStage,
  probeIn: burnerTexts.probeIn,
  purge: burnerTexts.purge,
  plugged: 'the instrument is connected',
} as const;

export type AmountName = keyof typeof amounts;
export type SwitchName = keyof typeof switches;
export const amountNames = Object.keys(amounts) as [AmountName, ...AmountName[]];
export const switchNames = Object.keys(switches) as [SwitchName, ...SwitchName[]];
export const partNames = [...amountNames, ...switchNames, 'inlet'] as const;
export type PartName = (typeof partNames)[number];

/** What stands at the instrument's inlet instead of the flue gas. Dry: %vol and ppm. */
export const InletGas = z.strictObject({
  o2Percent: z.number().min(0).max(100),
  coPpm: z.number().min(0).max(100_000).default(0),
  h2Ppm: z.number().min(0).max(100_000).default(0),
});
export type InletGas = z.infer<typeof InletGas>;

/** Gases that can be named in one word where a text is all there is (an instructor's list, the wire). */
export const namedGases = {
  air: { o2Percent: 20.9, coPpm: 0, h2Ppm: 0 },
  nitrogen: { o2Percent: 0, coPpm: 0, h2Ppm: 0 },
  'co-100': { o2Percent: 4, coPpm: 100, h2Ppm: 0 },
  'co-200': { o2Percent: 4, coPpm: 200, h2Ppm: 0 },
  'co-400': { o2Percent: 4, coPpm: 400, h2Ppm: 0 },
  'co-1000': { o2Percent: 4, coPpm: 1000, h2Ppm: 0 },
  'h2-400': { o2Percent: 4, coPpm: 0, h2Ppm: 400 },
} as const satisfies Record<string, InletGas>;
/** The word that takes the reference gas away again. */
export const noInletGas = 'probe';

/** @returns the name of what stands at the inlet; 'other' for a gas that has none */
export function inletName(gas: InletGas | undefined): string {
  if (gas === undefined) return noInletGas;
  const same = ([, named]: [string, InletGas]): boolean =>
    named.o2Percent === gas.o2Percent && named.coPpm === gas.coPpm && named.h2Ppm === gas.h2Ppm;
  return Object.entries<InletGas>(namedGases).find(same)?.[0] ?? 'other';
}

export type PartValue = number | boolean | string | z.input<typeof InletGas>;

/** A checked change. `inlet` undefined: the probe's own sample. */
export type PartChange =
  | { readonly kind: 'amount'; readonly name: AmountName; readonly value: number }
  | { readonly kind: 'switch'; readonly name: SwitchName; readonly on: boolean }
  | { readonly kind: 'inlet'; readonly gas: InletGas | undefined };

const isAmount = (name: string): name is AmountName => Object.hasOwn(amounts, name);
const isSwitch = (name: string): name is SwitchName => Object.hasOwn(switches, name);
const isNamedGas = (name: string): name is keyof typeof namedGases => Object.hasOwn(namedGases, name);

/** @returns the change, or in words why there is none; amounts are kept within what the model can bear */
export function readPartChange(name: string, value: PartValue): PartChange | { readonly kind: 'refused'; readonly why: string } {
  if (isAmount(name)) {
    if (typeof value !== 'number' || !Number.isFinite(value)) return { kind: 'refused', why: burnerTexts.needsNumber(name) };
    const { low, high } = amounts[name];
    return { kind: 'amount', name, value: Math.min(high, Math.max(low, value)) };
  }
  if (isSwitch(name)) {
    return typeof value === 'boolean' ? { kind: 'switch', name, on: value } : { kind: 'refused', why: burnerTexts.onOrOff(name) };
  }
  if (name !== 'inlet') return { kind: 'refused', why: burnerTexts.noPart(name) };
  if (value === noInletGas) return { kind: 'inlet', gas: undefined };
  if (typeof value === 'string') {
    return isNamedGas(value) ? { kind: 'inlet', gas: namedGases[value] } : { kind: 'refused', why: burnerTexts.noGas(value) };
  }
  const gas = InletGas.safeParse(value);
  return gas.success ? { kind: 'inlet', gas: gas.data } : { kind: 'refused', why: plainRefusal(gas.error) };
}
