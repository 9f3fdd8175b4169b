/** Delimiters as the names of recipes and the reasons call them; apart from the learner, so that a window does not load that. */
export const delimiterWords = (delimiter: string): string => {
  const words: Record<string, string> = {
    ',': 'commas',
    ';': 'semicolons',
    '\t': 'tabs',
    '|': 'bars',
    blanks: 'blanks',
    'comma-or-semicolon': 'commas and semicolons',
  };
  return words[delimiter] ?? `'${delimiter}'`;
};
