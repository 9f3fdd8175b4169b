/** Where smoke begins, and the window of settings that follows from it. */
import type { SmokeApproach, TargetWindow } from '../../tuning/curve/air-curve.ts';
import type { SmokeOnset } from '../../tuning/curve/smoke-onset.ts';
import type { SmokeResult } from '../../tuning/trial/smoke.ts';
import { oilStops } from '../tune/advice.ts';
import type { Formats } from '../tune/tune-formats.ts';

export const smokeRuleWords = {
  'mean-of-three-whole': 'mean of three spots, rounded to whole',
  'mean-to-half': 'mean, rounded to halves',
  'single-spot': 'last spot',
  'worst-spot': 'darkest spot',
} as const;
export function smokeAdvice(result: SmokeResult): string | undefined {
  if (result.oilTrace) return oilStops;
  if (result.toRepeat > 0 && result.stillNeeded > 0)
    return `${result.toRepeat === 1 ? 'One spot' : `${result.toRepeat} spots`} wet or uneven: repeat.`;
  if (result.stillNeeded > 0) return `${result.stillNeeded === 1 ? 'One more spot' : `${result.stillNeeded} more spots`} under this rule.`;
  return undefined;
}

export function onsetWords(onset: SmokeOnset, f: Formats): string {
  if (onset.state === 'found') return `Smoke begins at O2 ${f.o2(onset.o2)} (between ${f.o2(onset.low)} and ${f.o2(onset.high)}).`;
  if (onset.missing === 'smoky-side')
    return 'Not enough points: no trial with definite smoke yet. A smoke number of ½ can still be clean paper.';
  if (onset.missing === 'clean-side') return 'Not enough points: no trial without smoke yet.';
  return `Not enough points: ${onset.have === 0 ? 'no trial with smoke number' : `${onset.have} of 3 trials`} so far.`;
}

export function windowWords(window: TargetWindow, f: Formats): string {
  const reserve = `a reserve of ${f.points(window.reserveCo2Points)} points of CO2 (${f.points(window.reserveO2Points)} points of O2) above the point where smoke begins`;
  if (window.conflict) {
    const end =
      window.upperEnd === 'co-rises'
        ? 'CO rises again'
        : window.upperEnd === 'target-card'
          ? 'the target card ends'
          : 'too much air begins';
    return `Look for leaks, and check nozzle, pressure and head, before choosing less reserve. Reserve and upper limit conflict: with the reserve O2 is ${f.o2(window.fromO2)}, but ${end} at ${f.o2(window.toO2)}.`;
  }
  const why = {
    'reserve-limit': 'more air only wastes fuel',
    'co-rises': 'CO rises',
    'target-card': 'the target card allows no more',
  }[window.upperEnd];
  return `Aim for O2 ${f.o2(window.fromO2)} to ${f.o2(window.toO2)}: ${reserve}. Above that, ${why}.`;
}

export const approachWords: Readonly<Record<SmokeApproach, string>> = {
  'from-smoke': 'Set by opening the air after smoke was seen.',
  'closed-from-lean': 'Close the air until smoke shows, open it again and read once more: smoke was seen only after this setting was read.',
  'no-smoky-trial': 'Close the air until smoke shows, then open it again: no smoke was seen with less air, so the reserve is not known.',
  'not-known': 'This trial is not on the curve.',
};
