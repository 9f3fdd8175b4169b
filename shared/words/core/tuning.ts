/** Sentences that shared/tuning hands on. */
export const tuningTexts = {
  sameName: 'adjusters: two have the same name',
  scaleEmpty: (name: string | number) => `adjusters: the scale of ${name} ends below where it begins`,
  noSuchFuel: (fuel: string | number, fuelIds: string | number) => `fuel: ${fuel} is not one of ${fuelIds}`,
  againstRoom: 'against the room, suction negative',
  overOnset: 'O2 over the onset of smoke',
  needsLimit: 'a line needs a lower or an upper limit',
  lowAboveHigh: 'the lower limit is above the upper one',
  flueLimits: {
    'limit-needs-reason': 'Type a reason for the higher limit: it goes into the report.',
    'limit-order': 'The notice cannot be above the alarm.',
    'limit-not-positive': 'Type a limit above zero.',
    'floor-needs-reason': 'Type a reason for the lower O2: it goes into the report.',
    'floor-not-possible': 'The lowest O2 lies between 0.5 and 10 %.',
  },
  noSuchField: 'There is no such field.',
  nothingToChange: (path: string | number) => `There is no ${path} to change.`,
};
