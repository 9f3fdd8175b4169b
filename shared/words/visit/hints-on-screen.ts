/** Patterns seen in the data, as they stand beside the air curve. */

export const hintWordsOnScreen = {
  title: 'Seen in the data',
  more: (count: number): string => (count === 1 ? 'one more' : `${count} more`),
  open: 'Look',
  never: 'A pattern is no proof. Check before anything is changed.',
  stretch: 'The stretch of data',
} as const;
