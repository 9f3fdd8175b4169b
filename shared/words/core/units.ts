/** Sentences that shared/units hands on. */
export const unitsTexts = {
  fieldEmpty: 'The field is empty.',
};
