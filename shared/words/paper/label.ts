/** The card that hangs at the burner. */
export const labelWords = {
  title: 'Burner as left',
  nozzle: 'Nozzle',
  pressure: 'Oil pressure',
  stages: 'At stage',
  /** a figure wears its basis */
  figures: {
    o2Percent: 'O2, dry',
    co2Percent: 'CO2, computed',
    coAirFreePpm: 'CO, air-free',
    smokeNumber: 'Smoke number',
    netStackK: 'Stack, net',
    overFirePa: 'Draft over the fire',
    breechPa: 'Draft at the breech',
  },
  due: 'Next visit',
  noDue: 'no date set',
  reset: 'One reset only. Locks out again: leave off, call.',
  licence: (licence: string): string => `licence ${licence}`,
  unsigned: 'not signed',
  training: 'Exercise. These figures are of no real burner.',
  notSafe: 'Not safe to leave running. Do not run it.',
  leftOff: 'Left off and red-tagged. Do not run it.',
} as const;
