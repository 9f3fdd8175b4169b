/** Printed keys. A person may change them in the settings file: action -> key. `Ctrl+D` style for chords. */
export const defaultKeys = {
  mark: 'Space',
  main: 'Enter',
  smoke: 'S',
  draft: 'D',
  pressure: 'P',
  note: 'N',
  values: 'R',
  far: 'V',
  trials: 'T',
  table: 'B',
  curve: 'C',
  other: 'A',
  lines: 'L',
  source: 'O',
  settings: 'G',
  keys: '?',
  region: 'F6',
  undo: 'Ctrl+Z',
  theme: 'Ctrl+D',
  panLeft: 'ArrowLeft',
  panRight: 'ArrowRight',
  zoomIn: '+',
  zoomOut: '-',
  follow: 'End',
  marks: 'M',
  pass: '1',
  fail: '2',
  notApplicable: '3',
  startOver: 'Backspace',
  bypass: 'J',
  slower: '[',
  faster: ']',
  step: '.',
  add: 'A',
  exercises: 'E',
  class: 'K',
  together: 'T',
  leave: 'L',
  newNozzle: 'N',
  lookAndTell: 'T',
  turn: 'R',
  skip: 'S',
  fire: 'F',
  unrest: 'W',
  speak: 'H',
  back: 'Escape',
} as const;

export type KeyAction = keyof typeof defaultKeys;
export const keyActions = Object.keys(defaultKeys) as KeyAction[];

const shownNames: Readonly<Record<string, string>> = { ArrowLeft: '←', ArrowRight: '→', Escape: 'Esc' };
/** How a key is printed on a button: 'Ctrl D', 'Esc'. */
export const printed = (key: string): string =>
  key
    .split('+')
    .filter((part) => part !== '')
    .map((part) => shownNames[part] ?? part)
    .join(' ') || key;
