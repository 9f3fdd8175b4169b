/** Sentences that shared/geometry hands on. */
export const geometryTexts = {
  inventedForTraining: 'Flueside, invented',
};
