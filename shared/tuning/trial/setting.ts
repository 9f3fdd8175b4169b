/** Where the adjusters stand. */
import type { Setting } from '../../measurement/mark.ts';
import type { Adjuster } from './adjuster.ts';

export const positionOf = (setting: Setting, name: string): number | undefined =>
  setting.positions.find((position) => position.name === name)?.value;

/** The nearest position that the hand can set: on the step, inside the scale. Decimals are trimmed to those of the step. */
export function roundToStep(adjuster: Adjuster, value: number): number {
  const origin = adjuster.min ?? 0;
  const onStep = origin + Math.round((value - origin) / adjuster.step) * adjuster.step;
  const inside = Math.min(adjuster.max ?? Infinity, Math.max(adjuster.min ?? -Infinity, onStep));
  return Number(inside.toFixed(6));
}

/** The same setting with one adjuster moved (added when it was not there). Written in other capitals it is the same adjuster, unless both are there. */
export function withPosition(setting: Setting, name: string, value: number): Setting {
  const known =
    setting.positions.find((position) => position.name === name) ??
    setting.positions.find((position) => position.name.toLowerCase() === name.toLowerCase());
  const positions = known
    ? setting.positions.map((position) => (position === known ? { name: known.name, value } : position))
    : [...setting.positions, { name, value }];
  return { ...setting, positions };
}
