/** Why something that was typed or pressed is not taken. */
import type { LimitRefusal } from '../../tuning/advice/cautions.ts';
import type { LengthRefusal } from '../../units/length.ts';
import type { PositionRefusal } from '../../tuning/trial/adjuster.ts';
import type { SmokeRefusal } from '../../tuning/trial/smoke.ts';
import { leftOffWords } from '../tune/advice.ts';
import type { Formats } from '../tune/tune-formats.ts';
import type { SignRefusal } from '../../tuning/visit/sign-visit.ts';

export const limitRefusal = (refusal: LimitRefusal, f: Formats): string => {
  switch (refusal.key) {
    case 'limit-needs-reason':
      return `Type a reason: it goes into the report with the alarm at ${f.ppm(refusal.alarmPpm)}.`;
    case 'limit-order':
      return 'The notice cannot be above the alarm.';
    case 'limit-not-positive':
      return 'Type a limit above zero.';
    case 'floor-needs-reason':
      return `Type a reason: it goes into the report with the lowest O2 of ${f.o2(refusal.floorPercent)}.`;
    case 'floor-not-possible':
      return 'The lowest O2 lies between 0.5 and 10 %.';
  }
};

export const smokeRefusal = (refusal: SmokeRefusal, f: Formats): string => {
  switch (refusal.key) {
    case 'smoke-above-scale':
      return `The scale ends at 9; ${f.figure(refusal.typed)} is not on it. Nothing was changed.`;
    case 'smoke-below-scale':
      return 'Smoke starts at 0. Nothing was changed.';
    case 'smoke-not-half':
      return `Smoke is read in halves. Nearest is ${f.smoke(refusal.nearest)}.`;
    case 'smoke-unclear':
      return 'Type a smoke number from 0 to 9, for example 1 or 1½.';
  }
};
export const positionRefusal = (refusal: PositionRefusal, f: Formats): string => {
  switch (refusal.key) {
    case 'position-not-a-number':
      return `Type a number for ${refusal.adjuster}.`;
    case 'position-below-scale':
      return `The scale of ${refusal.adjuster} starts at ${f.figure(refusal.min)}; ${f.figure(refusal.typed)} is below it. Correct the figure, or the scale.`;
    case 'position-above-scale':
      return `The scale of ${refusal.adjuster} ends at ${f.figure(refusal.max)}; ${f.figure(refusal.typed)} is beyond it. Correct the figure, or the scale.`;
  }
};
export const lengthRefusal = (refusal: LengthRefusal): string =>
  refusal.key === 'length-empty'
    ? 'Type a length, for example 4.5 or 5/32.'
    : refusal.key === 'length-fraction-mm'
      ? `"${refusal.text}" is a fraction in mm. Fractions are inches: write in behind it, or type the mm as a decimal.`
      : `"${refusal.text}" is not a length. Type it like 4.5 mm, 5/32 or 1 1/16.`;
export const signRefusal = (refusal: SignRefusal): string => {
  switch (refusal.key) {
    case 'training':
      return 'A training visit is closed, not signed.';
    case 'simulated':
      return 'This visit holds simulated or replayed data. It can be closed as training, never signed.';
    case 'signed':
      return 'This visit is signed already. Add a correction with a reason instead.';
    case 'bypass-open':
      return `Remove the bypass first: ${refusal.what}.`;
    case 'not-safe':
      return leftOffWords.missing;
  }
};
