import type { ScenarioInput } from '../scenario.ts';
import { scenarioTexts } from '../../words/core/scenarios.ts';

const format = { format: 'flueside-scenario', version: 1 } as const;

/** A round of reference gases with fresh air between them, 3 min each. */
const gasRound = (startS: number, gases: readonly string[], holdS = 180): NonNullable<ScenarioInput['events']> =>
  gases.flatMap((gas, index) => [
    { atS: startS + index * 2 * holdS, part: 'inlet' as const, value: gasOf(gas) },
    { atS: startS + (index * 2 + 1) * holdS, part: 'inlet' as const, value: gasOf('air') },
  ]);
function gasOf(name: string): { o2Percent: number; coPpm?: number; h2Ppm?: number } {
  const co = /^co-(\d+)$/.exec(name);
  if (co) return { o2Percent: 4, coPpm: Number(co[1]) };
  if (name === 'h2-400') return { o2Percent: 4, h2Ppm: 400 };
  return name === 'nitrogen' ? { o2Percent: 0 } : { o2Percent: 20.946 };
}
const eventsWith = (holdS: number) =>
  [
    { atS: 0, part: 'probeIn', value: false },
    { atS: 0, part: 'inlet', value: gasOf('air') },
    ...gasRound(180, ['nitrogen', 'co-100', 'co-400', 'co-1000', 'co-200', 'h2-400', 'co-100', 'co-400'], holdS),
  ] satisfies ScenarioInput['events'];
const bench = { surroundings: { roomC: { from: 20, to: 23 }, roomWarmsK: 0 }, events: eventsWith(180) } as const;
/** Cells of an instrument in good order scatter a little, within what a pass allows. */
const goodOrder = {
  span: { o2: { from: 0.995, to: 1.005 }, co: { from: 0.99, to: 1.01 } },
  zero: { co: { from: -0.8, to: 0.8 }, o2: { from: -0.03, to: 0.03 } },
} as const;

export const instrumentFaultScenarios: readonly ScenarioInput[] = [
  {
    ...format,
    ...bench,
    name: 'bench-healthy',
    ...scenarioTexts['bench-healthy'],
    instrument: goodOrder,
  },
  {
    ...format,
    ...bench,
    name: 'drifting-zero',
    ...scenarioTexts['drifting-zero'],
    instrument: { ...goodOrder, zeroDriftPerHour: { co: { from: 20, to: 40 } } },
  },
  {
    ...format,
    ...bench,
    name: 'low-span',
    ...scenarioTexts['low-span'],
    instrument: { ...goodOrder, span: { o2: { from: 0.995, to: 1.005 }, co: { from: 0.78, to: 0.88 } } },
  },
  {
    ...format,
    ...bench,
    name: 'clogged-filter',
    ...scenarioTexts['clogged-filter'],
    instrument: goodOrder,
    events: [{ atS: 0, part: 'filterClog', value: { from: 0.7, to: 1 } }, ...bench.events],
  },
  {
    ...format,
    ...bench,
    name: 'slow-co-cell',
    ...scenarioTexts['slow-co-cell'],
    instrument: { ...goodOrder, coSeconds: { from: 36, to: 46 } },
    // its last tenth takes minutes
    events: eventsWith(330),
  },
  {
    ...format,
    ...bench,
    name: 'cross-sensitive-co',
    ...scenarioTexts['cross-sensitive-co'],
    instrument: { ...goodOrder, h2CrossEffect: { from: 0.25, to: 0.5 } },
  },
  {
    ...format,
    ...bench,
    name: 'non-linear-co',
    ...scenarioTexts['non-linear-co'],
    instrument: { ...goodOrder, coRangePpm: 2000, coCurvature: { from: 0.2, to: 0.35 } },
  },
];
