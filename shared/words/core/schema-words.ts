/** Why a value is refused: what is allowed there. */
export const schemaTexts = {
  atMost: (most: string): string => `at most ${most}`,
  lessThan: (most: string): string => `less than ${most}`,
  atLeast: (least: string): string => `at least ${least}`,
  moreThan: (least: string): string => `more than ${least}`,
  letters: (count: string): string => (Number(count) === 1 ? '1 character' : `${count} characters`),
  entries: (count: string): string => (Number(count) === 1 ? '1 entry' : `${count} entries`),
  oneOf: (values: readonly unknown[]): string => `one of ${values.map(String).join(', ')}`,
  number: 'a number',
  whole: 'a whole number',
  text: 'a text',
  missing: 'something is missing, or of another kind',
  unknownField: (names: readonly string[]): string => `no field is called ${names.join(', ')}`,
  wrong: 'this cannot be read',
  line: (field: string, allowed: string): string => (field === '' ? `${allowed}.` : `${field}: ${allowed}.`),
} as const;
