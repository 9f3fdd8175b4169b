/** The card that hangs at the burner. */
export const labelWords = {
  title: 'Burner as left',
  nozzle: 'Nozzle',
  pressure: 'Oil pressure',
  stages: 'At stage',
  due: 'Next visit',
  noDue: 'no date set',
  reset: 'One reset only. Locks out again: leave off, call.',
  licence: (licence: string): string => `licence ${licence}`,
  unsigned: 'not signed',
  training: 'Exercise. These figures are of no real burner.',
  notSafe: 'Not safe to leave running. Do not run it.',
  leftOff: 'Left off and red-tagged. Do not run it.',
} as const;
