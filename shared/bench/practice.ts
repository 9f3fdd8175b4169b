/** Gases for practice with simulated instruments: they hold exactly what the simulated bottles hold. */
import { namedGases } from '../burner/parts.ts';
import type { ReferenceGas } from './instrument.ts';
import type { GasSlot } from './plan.ts';

type InletName = keyof typeof namedGases;

const bottle = (name: string, inlet: InletName): ReferenceGas => {
  const { o2Percent, coPpm, h2Ppm } = namedGases[inlet];
  return {
    format: 1,
    name,
    serial: `practice ${inlet}`,
    certificate: 'for practice only',
    balance: 'nitrogen',
    components: [
      { channel: 'o2', value: o2Percent, expanded: o2Percent === 0 ? 0.01 : 0.01 * o2Percent },
      { channel: 'co', value: coPpm, expanded: coPpm === 0 ? 0.5 : 0.01 * coPpm },
    ],
    expires: '2099-12-31',
    pressureBar: 120,
    ...(h2Ppm > 0 ? { hydrogenPpm: h2Ppm } : {}),
  };
};

export const practiceGases: Readonly<Record<Exclude<GasSlot, 'air'>, ReferenceGas>> = {
  zero: bottle('Zero gas', 'nitrogen'),
  low: bottle('CO 100', 'co-100'),
  mid: bottle('CO 400', 'co-400'),
  high: bottle('CO 1000', 'co-1000'),
  interferent: bottle('Hydrogen 400', 'h2-400'),
};

/** @returns the simulated inlet gas that a bottle stands for; undefined when the simulator has none like it */
export function inletFor(gas: ReferenceGas | 'air'): InletName | undefined {
  if (gas === 'air') return 'air';
  const of = (channel: 'o2' | 'co'): number => gas.components.find((one) => one.channel === channel)?.value ?? 0;
  const near = (a: number, b: number, floor: number): boolean => Math.abs(a - b) <= Math.max(floor, 0.03 * b);
  return (Object.keys(namedGases) as InletName[]).find((name) => {
    const { o2Percent, coPpm, h2Ppm } = namedGases[name];
    return near(of('o2'), o2Percent, 0.1) && near(of('co'), coPpm, 2) && near(gas.hydrogenPpm ?? 0, h2Ppm, 2);
  });
}
