/** Sentences that shared/report hands on. */
export const reportTexts = {
  co2MaxFrom: { title: 'CO2max from', visit: 'set on this visit', fuel: 'from the fuel' },
  smokeMean: 'Smoke number, mean of usable spots',
  expanded: 'U, k = 2, in the unit of the value; absent when not known',
  geometryValue: 'mm for a length, marks for a position; as left when it was measured again',
  geometryBy: 'how far from the figure, above zero',
  units: 'degC, Pa, mm, L/h, s, %vol dry, ppm dry; draft against the room, suction negative; wall clock in ms since 1970 UTC',
  visitTitle: 'A visit as Flueside exports it',
};
