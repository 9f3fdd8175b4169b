/** Sentences that shared/combustion hands on. */
export const combustionTexts = {
  notANumber: 'A value is not a number.',
  negativePart: 'A part is negative.',
  partsAddUp: (value: string | number) => `The parts add up to ${value} %.`,
  densityOfNoOil: (densityKgPerL: string | number) => `A density of ${densityKgPerL} kg/L is no liquid fuel's.`,
  doesNotBurn: 'This does not burn: it needs no oxygen.',
  heatingValueNotPossible: (hhvKjPerKg: string | number) => `A heating value of ${hhvKjPerKg} kJ/kg is not possible.`,
  heatingValueForeign: (hhvKjPerKg: string | number, expected: string | number, hint: string | number) =>
    `${hhvKjPerKg} kJ/kg does not belong to this composition: about ${expected} kJ/kg is expected.${hint}`,
  tooMuchWater: 'So much water leaves no lower heating value.',
  looksLikeLower: ' It looks like the lower heating value; the higher one is needed.',
  heatingValueOff: (percent: string | number, mayBeLower: string | number) =>
    `The heating value is ${percent} % off what this composition suggests.${mayBeLower}`,
  looksLikeMjKg: ' It looks like MJ/kg.',
  looksLikeBtuLb: ' It looks like Btu/lb.',
  looksLikeKcalKg: ' It looks like kcal/kg.',
  outsideCragoe: (d: string | number) => `Specific gravity ${d}: the relation holds for petroleum oils from 0.75 to 1.0.`,
  foFigures: (
    fo: string | number,
    name: string | number,
    low: string | number,
    high: string | number,
    impliedCo2MaxPercent: string | number,
    co2MaxPercent: string | number,
  ) =>
    `Fo ${fo}, for ${name} it is ${low} to ${high}; the CO2max they imply is ${impliedCo2MaxPercent} %, the fuel's is ${co2MaxPercent} %.`,
  co2MaxRefused: (name: string | number, own: string | number, low: string | number, high: string | number) =>
    `The analysis of ${name} gives a CO2max of ${own} %; from ${low} to ${high} % can be set. Check the fuel.`,
  co2MaxUnusual: (set: string | number, low: string | number, high: string | number) =>
    `A CO2max of ${set} % is outside the usual ${low} to ${high} % of this fuel. Check the fuel.`,
  /** @param own what the analysis would give */
  co2MaxSet: (own: string | number) => `set (the analysis: ${own})`,
  co2MaxNeedsFuel: 'Choose the fuel first: CO2max belongs to it.',
  fits: (figures: string | number) => `O2 and CO2 fit each other and the fuel (${figures}).`,
  oneTooHigh: 'one of them reads too high, or the fuel holds more carbon',
  oneTooLow: 'one of them reads too low, air leaked into one of them, or the fuel holds less carbon',
  contradicts: (figures: string | number, cause: string | number) =>
    `O2 and CO2 do not fit together: inconsistent analysis. ${figures} Either ${cause}.`,
  foRangeSource: 'Fo range: EPA Method 3B (from memory)',
  efficiencyNotPossible: (name: string | number, value: string | number) => `An efficiency ${name} of ${value} % is not possible.`,
  sameInstrument:
    'Same instrument, same oil: constant sensor offsets and the unknown composition of the oil act on both readings and largely cancel in the difference.',
};
