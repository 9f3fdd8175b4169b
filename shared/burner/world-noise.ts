import { createRandom } from './random.ts';

/** The unsteady part of the world: the draft wanders (correlated over `seconds`), the flame flutters about one frequency. */
export function createWorldNoise(options: { seed: number; draftPa: number; draftSeconds: number; flutterHz: number }): {
  step(seconds: number): void;
  draftPa(): number;
  /** -1..1 */
  flutter(): number;
} {
  const gusts = createRandom(options.seed, 'gusts');
  const phases = createRandom(options.seed, 'flutter');
  let wander = options.draftPa * gusts.normal();
  let phase = phases.between(0, 2 * Math.PI);
  const step = (seconds: number): void => {
    const kept = Math.exp(-seconds / options.draftSeconds);
    wander = wander * kept + options.draftPa * Math.sqrt(1 - kept * kept) * gusts.normal();
    phase += 2 * Math.PI * options.flutterHz * seconds + 0.1 * Math.sqrt(seconds) * phases.normal();
  };
  return { step, draftPa: () => wander, flutter: () => Math.sin(phase) };
}
