/** Sentences that shared/geometry hands on. */
export const geometryTexts = {
  inventedForTraining: 'comes with Flueside, invented for training',
};
