/** Sentences that shared/ipc hands on. */
export const ipcTexts = {
  eventLeftOut: (name: string | number) => `event ${name} was malformed and left out`,
  answerMalformed: (name: string | number) => `The answer to ${name} was malformed.`,
  answerUnchecked: (name: string | number) => `The answer to ${name} could not be checked.`,
  noNumber: (name: string | number) => `${name}: a figure is not a number.`,
  noCommand: (name: string | number) => `There is no command '${name}'.`,
  tooDeep: 'It is too deep, or holds too much.',
  cardContradicts: 'the figures card contradicts itself',
};
