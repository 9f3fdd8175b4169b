/** Figures cards: choosing, typing, sharing. */
import type { CardFileRefusal } from '../../geometry/card-file.ts';
import { cardProblemWords } from './geometry.ts';

export const cardScreen = {
  field: 'Figures card of the burner',
  none: 'none',
  notSaid: 'not entered',
  asLastTime: (name: string): string => `As last time: ${name}`,
  trainingName: (name: string): string => `${name}, invented`,
  revisionName: (name: string, revision: number): string => `${name}, revision ${revision}`,
  asOnCard: (name: string): string => `${name}, as the card`,
  notOnCard: (name: string): string => `${name}, not on this card`,
  tubeEnd: 'Tube end of this burner',
  tubeEnds: { straight: 'straight', conical: 'conical' },
  tubeEndNames: { straight: 'straight tube end', conical: 'conical tube end' },
  arrangement: 'Electrodes',
  arrangements: { two: 'two', 'two-alternative': 'two, other position', one: 'one' },
  arrangementNames: { two: 'two electrodes', 'two-alternative': 'two electrodes, other position', one: 'one electrode' },
  head: 'Head',
  title: 'Figures cards',
  about: 'The burner maker’s figures, typed once from the maker’s own sheet. Flueside brings only two, invented for training.',
  newCard: 'New card',
  noneOpen: 'Choose a card to read or copy it, or begin a new one.',
  open: 'Open a file',
  copy: 'Copy',
  share: 'Share as a file',
  remove: 'Delete',
  save: 'Save card',
  saveRevision: (revision: number): string => `Save as revision ${revision}`,
  goTo: 'Go to the first one',
  saved: 'Saved.',
  copyName: (name: string): string => `${name}, copy`,
  training: 'Invented for training. Copy it to change it.',
  where: 'Where the figures come from',
  name: 'Name of the card',
  document: 'Document',
  edition: 'Edition',
  page: 'Page',
  date: 'Date',
  typedBy: 'Typed by',
  which: 'For which burner',
  unit: 'Lengths on the sheet in',
  units: { mm: 'mm', inch: 'inches' },
  adjuster: 'Head adjuster',
  adjusters: { '': 'not entered', one: 'one step', two: 'two steps' },
  zeroMark: 'Its zero mark',
  fineNotches: 'Notches of the fine one',
  headsField: 'Head types, one a line',
  figures: 'Figures',
  columns: { item: 'figure', for: 'holds for', nominal: 'value', tolerance: '±', low: 'at least', high: 'at most' },
  everyBurner: 'every burner',
  addFigure: 'Add a figure',
  addRow: 'Add a row',
  removeRow: 'Remove row',
  byFlow: 'Settings by nozzle flow',
  flowUnit: 'Flow, as stamped, in',
  flowColumns: { from: 'from', to: 'to', headSetting: 'head', shutterStart: 'shutter', bandStart: 'band' },
  plusMinus: '±',
  startNote: 'Shutter and band are start positions; the air curve decides. What the sheet lacks is left empty.',
  problems: (count: number): string =>
    count === 1 ? 'One thing left. Then the card can be saved.' : `${count} things left. Then the card can be saved.`,
  ready: 'Nothing contradicts itself. Check it against the sheet once more.',
  noName: 'Type a name and the document that it comes from.',
  readOnly: 'look only',
} as const;

/** Why a file was not taken in; the card that is open stays as it is. */
export function cardFileWords(refusal: CardFileRefusal): string {
  switch (refusal.key) {
    case 'too-big':
      return 'This file is bigger than any figures card. Choose another one.';
    case 'not-json':
    case 'foreign':
      return 'This file is not a figures card. Choose one that Flueside has shared.';
    case 'newer':
      return 'This card comes from a newer Flueside. Update Flueside, then open it again.';
    case 'wrong':
      return `The file was refused: ${refusal.detail}`;
    case 'contradicts':
      return `The file was refused: ${cardProblemWords(refusal.problem)}`;
  }
}
