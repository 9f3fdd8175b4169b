/** Sentences that shared/measurement hands on. */
export const measurementTexts = {
  knowledgeUnreadable: 'What is known of the appliance cannot be read; it is left aside.',
  noKnowledge: 'This file does not hold what is known of an appliance; it is left aside.',
  knowledgeNewer: 'What is known of the appliance was written by a newer version; it is left aside.',
  knowledgeOfOther: 'What is known is of another kind of appliance; it is left aside.',
  knowledgeDamaged: 'What is known of the appliance is damaged; it is left aside.',
  twiceTheChannel: (channel: string | number) => `Two fields give the channel ${channel}.`,
  placeOfChannel: (channel: string | number, kind: string | number) => `The place of ${channel} does not fit the shape '${kind}'.`,
  otherUnit: (channel: string | number, unit: string | number) => `${channel} cannot be sent in ${unit}.`,
  emptyRange: (channel: string | number) => `The valid range of ${channel} is empty.`,
  placeOfTime: 'The place of the time does not fit the shape.',
  placeOfStatus: 'The place of the status does not fit the shape.',
};
