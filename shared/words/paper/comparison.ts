/** One sheet of several visits. */
export const comparisonWords = {
  title: 'Visits beside each other',
  asLeft: 'as left',
  due: (day: string): string => `next visit ${day}`,
  unsigned: 'not signed',
  training: 'training',
  tape: 'With training visits, which are no service record',
  note: 'Each visit as its first stage was left. ± is the expanded uncertainty, k = 2: figures that lie within each other’s ± are not known to differ.',
} as const;
