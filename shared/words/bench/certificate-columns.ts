/** Column heads of the certificate as a table. `[unit]` is the unit that stands in the row's own column. */
export const certificateColumns = [
  'round',
  'channel',
  'unit',
  'gas',
  'reference [unit]',
  'reading [unit]',
  'error [unit]',
  'limit [unit]',
  'expanded uncertainty k=2 [unit]',
  'decision',
  'repeats',
  'result',
  'value [unit]',
  'decision rule',
  'gas before',
  'dead time [s]',
  'T90 [s]',
  'T10 to T90 [s]',
  'after [h]',
  'change per hour [unit/h]',
  'averaging time [s]',
] as const;

export const certificateResults = {
  error: 'error',
  linearity: 'linearity, worst point',
  repeatability: 'repeatability',
  drift: 'drift',
  cross: 'cross-effect',
  response: 'response time',
  noise: 'quietest noise',
  warmUp: 'after warm-up',
} as const;
export const spanUnit = '% of span gas';
export const decisionRules = {
  simple: 'simple acceptance',
  'guarded-acceptance': 'guarded acceptance',
  'guarded-rejection': 'guarded rejection',
} as const;
