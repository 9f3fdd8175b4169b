/**
 * A smoke spot before the probe goes in: at the start of as-found, and again before the curve when something was changed since. Above 2, or oil, and the
 * probe stays out.
 *
 * @source a smoke spot shows first whether the flue gas is safe for the instrument: UK trade advice page (reference UK-S); the limit of 2: common practice
 */
import type { SmokeSpot } from '../../measurement/mark.ts';
import type { StepId } from '../visit/step-names.ts';
import type { Visit } from '../visit/visit.ts';

/** Smoke numbers up to this one let the probe in. */
export const PROBE_SMOKE_MOST = 2;

export type ProbeGate = { state: 'open' } | { state: 'needed' } | { state: 'too-dark'; smoke: number } | { state: 'oil' };

const gated: ReadonlySet<StepId> = new Set<StepId>(['as-found', 'air-curve']);

/** The darkest usable spot counts; a wet or uneven one says nothing but oil. */
export function probeGate(visit: Pick<Visit, 'job' | 'probeSmoke' | 'trials' | 'changes' | 'stages'>, step: StepId): ProbeGate {
  // visits of earlier versions do not say what kind of job they are, and did not ask
  if (!gated.has(step) || visit.job === undefined) return { state: 'open' };
  const sinceMs = Math.max(-Infinity, ...visit.changes.map(({ wallMs }) => wallMs));
  // as-found begins with the spot, also where the instrument was running before; later a settled reading says that the probe is in
  const isPast =
    step === 'as-found'
      ? visit.stages.every(({ asFoundTrialId, asFoundSkippedReason }) => asFoundTrialId !== undefined || asFoundSkippedReason !== undefined)
      : visit.trials.some((trial) => trial.reading?.settled === true && trial.takenWallMs > sinceMs);
  if (isPast) return { state: 'open' };
  const spots = [
    ...(visit.probeSmoke ?? []),
    ...visit.trials.flatMap((trial) =>
      trial.smoke === undefined ? [] : [{ wallMs: trial.takenWallMs, spots: trial.smoke.spots, withoutReason: undefined }],
    ),
  ].filter(({ wallMs }) => wallMs > sinceMs);
  const newest = spots.reduce<(typeof spots)[number] | undefined>(
    (last, one) => (isSaid(one) && (last === undefined || one.wallMs >= last.wallMs) ? one : last),
    undefined,
  );
  if (newest === undefined) return { state: 'needed' };
  if (newest.withoutReason !== undefined) return { state: 'open' };
  if (newest.spots.some(({ oilTrace }) => oilTrace === true)) return { state: 'oil' };
  const smoke = darkest(newest.spots);
  if (smoke === undefined) return { state: 'needed' };
  return smoke > PROBE_SMOKE_MOST ? { state: 'too-dark', smoke } : { state: 'open' };
}

const isSaid = ({ spots, withoutReason }: { spots: readonly SmokeSpot[]; withoutReason?: string | undefined }): boolean =>
  withoutReason !== undefined || spots.some(({ flaw, oilTrace }) => flaw === undefined || oilTrace === true);

export function darkest(spots: readonly SmokeSpot[]): number | undefined {
  const usable = spots.filter(({ flaw }) => flaw === undefined).map(({ number }) => number);
  return usable.length === 0 ? undefined : Math.max(...usable);
}
