import { AIR_O2_PERCENT, coAirFreePpm } from '../trial/gas-basis.ts';
import { strengthOf, type Hint } from './patterns.ts';
import { median, valuesOf, within, type Stream } from './stream.ts';

const BEFORE_MS = 60_000;
const SETTLE_MS = 75_000;
const AFTER_MS = 135_000;
const LEAST_RISE_O2 = 0.7;

export type StepKind = 'dilution' | 'combustion' | 'not-clear';
export type GasState = { o2: number; coPpm: number; stackC: number | undefined };

/** CO to which a display and its cell can be trusted from one minute to the next, ppm; own choice. */
const CO_REPEATS_PPM = 1.5;

/**
 * Was air mixed in, or does the flame burn with more air? Mixed-in air moves O2 and CO on the straight line towards air: CO air-free stays,
 * CO as measured falls. A flame with other air changes its CO air-free, or at least its stack temperature.
 *
 * @source mixing balance; procedure of the trade
 */
export function stepKind(before: GasState, after: GasState): StepKind {
  const share = (after.o2 - before.o2) / (AIR_O2_PERCENT - before.o2);
  const expectedCo = before.coPpm * (1 - share);
  const stackMoved = before.stackC === undefined || after.stackC === undefined ? undefined : Math.abs(after.stackC - before.stackC);
  const coFits = Math.abs(after.coPpm - expectedCo) <= 2 * CO_REPEATS_PPM + 0.05 * expectedCo;
  if (!coFits) return 'combustion';
  // a little CO can't tell a step of dilution from a move inside the clean valley: then the stack must
  const coTells = before.coPpm - expectedCo > 3 * CO_REPEATS_PPM;
  const stackStays = stackMoved !== undefined && stackMoved < Math.max(1.5, 2 * (after.o2 - before.o2));
  if (stackStays) return 'dilution';
  return coTells && stackMoved === undefined ? 'dilution' : 'not-clear';
}

/** A rise of O2 that no mark explains and that looks like air in the sample. */
export function dilutionHint(stream: Stream): Hint[] {
  const { o2, co, stackTemperature } = stream.series;
  if (!o2 || !co) return [];
  let best: { t: number; rise: number; before: GasState; after: GasState } | undefined;
  for (let t = stream.fromMs + BEFORE_MS; t + AFTER_MS <= stream.toMs; t += 10_000) {
    const steady = stream.episodes.some(
      (episode) =>
        episode.kind === 'burning' &&
        episode.toMs >= t + AFTER_MS &&
        (episode.fromMs <= stream.fromMs + stream.periodMs || episode.fromMs + 300_000 < t - BEFORE_MS),
    );
    if (!steady || stream.adjustmentsMs.some((ms) => ms > t - BEFORE_MS - 60_000 && ms < t + AFTER_MS)) continue;
    const mid = (points: typeof o2, from: number, to: number): number => median(valuesOf(within(points, from, to)));
    const at = (from: number, to: number): GasState => ({
      o2: mid(o2, from, to),
      coPpm: mid(co, from, to),
      stackC: stackTemperature && mid(stackTemperature, from, to),
    });
    const before = at(t - BEFORE_MS, t - 5000);
    const after = at(t + SETTLE_MS, t + AFTER_MS);
    const rise = after.o2 - before.o2;
    // a leap, not a drift: most of the rise must be there within the settling time
    const early = mid(o2, t - 2 * BEFORE_MS, t - BEFORE_MS);
    const drift = within(o2, t - 2 * BEFORE_MS, t - BEFORE_MS).length > 5 ? before.o2 - early : 0;
    if (rise - drift >= LEAST_RISE_O2 && after.o2 < 15 && (!best || rise > best.rise)) best = { t, rise, before, after };
  }
  if (!best || stepKind(best.before, best.after) !== 'dilution') return [];
  const { before, after } = best;
  return [
    {
      pattern: 'dilution',
      strength: strengthOf(best.rise, LEAST_RISE_O2),
      figures: {
        fromO2: before.o2,
        toO2: after.o2,
        fromCoPpm: before.coPpm,
        toCoPpm: after.coPpm,
        fromAirFreePpm: coAirFreePpm(before.coPpm, before.o2) ?? before.coPpm,
        toAirFreePpm: coAirFreePpm(after.coPpm, after.o2) ?? after.coPpm,
        airShare: (after.o2 - before.o2) / (AIR_O2_PERCENT - before.o2),
      },
      stretch: { fromMs: best.t - BEFORE_MS, toMs: best.t + AFTER_MS },
      trialIds: [],
    },
  ];
}
