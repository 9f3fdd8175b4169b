import type { BlankReason } from '../../measurement/derived.ts';

/** Why a figure is blank, as it is said to the person. */
export const blankSentences: Readonly<Record<BlankReason, string>> = {
  'no-o2': 'There is no O2 (or CO2) reading.',
  'no-co': 'There is no CO reading: combustion is taken as complete, and the CO figures are left blank.',
  'no-stack-temperature': 'There is no stack temperature: the losses and the efficiency are left blank.',
  'no-air-temperature': 'There is no combustion air temperature: the losses and the efficiency are left blank.',
  'o2-above-18': 'O2 is above 18 %: so much air is no flue gas that can be judged. Nothing is computed from it.',
  'o2-above-15': 'O2 is above 15 %: air-free CO would only multiply the error. It is left blank.',
  'o2-not-possible': 'This O2 is not possible in flue gas of this fuel.',
  condensing:
    'The stack is at or below the water dew point: vapour condenses, which this method does not cover. The losses and the efficiency are left blank.',
  'stack-not-above-air': 'The stack is not warmer than the combustion air: the losses and the efficiency are left blank.',
  'co-over-range': 'CO is over the range of the instrument: its loss is unknown, and so is the efficiency.',
  'outside-correlation':
    'Too little sulphur (SO3 at or below 0.001 Pa) or water for the dew point correlations: the acid dew point is negligible and not computed.',
  'no-constants-for-fuel': 'The statute has no Siegert constants for this fuel.',
  inconsistent: 'The readings contradict each other.',
  silent: 'The instrument is silent.',
  suspect: 'A reading is suspect and was not used.',
  'out-of-range': 'A reading is outside what is physically possible and was not used.',
};
