/** Sentences that shared/warm-up hands on. */
export const warmUpTexts = {
  burner: (letter: string): string => `Burner ${letter}`,
  notJson: 'A set of exercises is a JSON file.',
  noExerciseFile: 'It does not begin as a set of exercises of Flueside does.',
};
