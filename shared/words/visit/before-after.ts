/** The lock echo, and the gain from as-found to as-left. */
import type { BeforeAfter, NoBeforeAfter } from '../../tuning/visit/before-after.ts';
import type { LockEcho } from '../../tuning/trial/lock-echo.ts';
import type { Formats } from '../tune/tune-formats.ts';

export const echoWords = (echo: LockEcho, f: Formats): string => {
  if (!echo.worst) return 'Held. After tightening the reading repeats within its uncertainty.';
  const { channel, before, after } = echo.worst;
  const write = channel === 'o2' ? f.o2 : channel === 'co' ? f.ppm : f.temperature;
  const name = channel === 'o2' ? 'O2' : channel === 'co' ? 'CO' : 'Stack';
  return `Shifted. Set it again and tighten with less force: ${name} went from ${write(before)} to ${write(after)} when the screws were tightened.`;
};

export function beforeAfterWords(result: BeforeAfter | NoBeforeAfter, f: Formats): string {
  if (typeof result === 'string') {
    return {
      'before-not-full': 'No comparison: as-found lacks O2, stack or air temperature.',
      'after-not-full': 'No comparison: as-left lacks O2, stack or air temperature.',
      'before-not-computable': 'No comparison: the efficiency as found cannot be computed.',
      'after-not-computable': 'No comparison: the efficiency as left cannot be computed.',
    }[result];
  }
  const gain = `${f.points(Math.abs(result.gainPoints))} ±${f.points(result.gainExpanded)} points of efficiency (HHV)`;
  if (!result.clear) return `Efficiency is the same within ±${f.points(result.gainExpanded)} points; no saving is claimed.`;
  if (result.gainPoints < 0) return `${gain} lower than as found.`;
  return `${gain} gained; ${f.points(result.fuelSavedPercent)} ±${f.points(result.fuelSavedExpanded)}\u2009% less fuel for the same heat.`;
}
