import { joined } from './page-one.ts';

/** Letters that no font of the printing computer has. */
export const missingLetters = {
  scripts: {
    greek: 'Greek',
    cyrillic: 'Cyrillic',
    eastAsian: 'Chinese or Japanese',
    korean: 'Korean',
    arabic: 'Arabic',
    hebrew: 'Hebrew',
    thai: 'Thai',
    indic: 'Indic',
  },
  note: (names: readonly string[]): string =>
    `Empty boxes are ${names.length === 0 ? '' : `${joined(names)} `}letters: the printing computer has no font for them.`,
} as const;
