import { visitHash } from '../../../main/store/visits.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { signVisit } from '../../../shared/tuning/visit/sign-visit.ts';

const YEAR_MS = 365 * 86_400_000;
const timeKeys = new Set(['wallMs', 'startWallMs', 'startedWallMs', 'endedWallMs', 'takenWallMs', 'openedWallMs', 'closedWallMs']);

/** The same visit so many years earlier, under another id and number, with the stack so much cooler: a history to look at. */
export function yearsBefore(visit: Visit, years: number, { stackK = 0, o2 = 0 }: { stackK?: number; o2?: number } = {}): Visit {
  const moved = JSON.parse(JSON.stringify(visit), (key, value: unknown) =>
    timeKeys.has(key) && typeof value === 'number' ? value - years * YEAR_MS : value,
  ) as Visit;
  const trials = moved.trials.map((trial) => {
    const { reading } = trial;
    if (reading === undefined) return trial;
    const shifted = { ...reading.channels };
    if (shifted.stackTemperature) shifted.stackTemperature = { ...shifted.stackTemperature, mean: shifted.stackTemperature.mean + stackK };
    if (shifted.o2) shifted.o2 = { ...shifted.o2, mean: shifted.o2.mean + o2 };
    return { ...trial, reading: { ...reading, channels: shifted } };
  });
  const rest = { ...moved };
  delete rest.signature;
  const earlier: Visit = { ...rest, id: `${visit.id}-${years}`, number: Math.max(1, visit.number - 7 * years), trials, runs: [] };
  const signed = signVisit(earlier, { name: 'A. Sample', wallMs: earlier.endedWallMs ?? earlier.startedWallMs, hash: visitHash(earlier) });
  return signed.ok ? signed.value : earlier;
}
