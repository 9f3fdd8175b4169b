/** What the commands that compute combustion say. */
export const computeTexts = {
  usage: (fuelUsage: string | number) =>
    `Usage: flueside compute FUEL (--o2 %|--co2 %) [--stack-c T|--stack-f T] [--air-c T|--air-f T] [OPTIONS]

${fuelUsage}
Readings:
  --o2 %, --co2 %            dry, %vol; with both, O2 counts and the two are checked against each other
  --co2-max %                dry, of the fuel, instead of what its analysis gives: turns O2 into CO2 and back
  --co PPM                   dry, as measured; without it combustion is taken as complete
  --stack-c, --stack-f T     flue gas temperature (gross)
  --air-c, --air-f T         combustion air temperature at the intake
  --humidity KG_PER_KG       water in the combustion air, or --rh % for its relative humidity; without either: dry
  --pressure-kpa P           barometer (101.325), or the standard pressure at --altitude-m or --altitude-ft
  --sulfur-ppm S             sulphur of the fuel, instead of the fuel's own
Half-widths of the tolerances (rectangular; JCGM 100):
  --o2-u 0.3 --co2-u 0.3 (%)  --stack-u 2 --air-u 1 (K)  --fuel-u 0.25 (points of efficiency)  --co-u (ppm; 20 or 5 %)
  --json                     one JSON object

Losses and efficiency are on the higher heating value where not said otherwise, referred to the combustion air; steady state,
not condensing, without jacket and cycling losses. Flueside advises; it is no substitute for a calibrated instrument.`,
  summary: 'one set of readings in, the whole combustion result out',
  oneUnit: (name: string | number) => `Give --${name}-c or --${name}-f, not both.`,
  giveO2OrCo2: 'Give --o2 or --co2: without one of them nothing can be computed.',
  humidityOrRh: 'Give --humidity or --rh, not both.',
  rhNeedsAir: '--rh needs the air temperature.',
  humidityNotPossible: 'This relative humidity is not possible at this temperature and pressure.',
  co2MaxLeavesLosses:
    'CO2 is computed from O2 with the CO2max that was given; losses and efficiency are by O2 and the analysis, and do not change.',
  co2MaxGivesO2: 'O2 is computed from CO2 with the CO2max that was given, and all else from that O2.',
  tooMuchCo2: (co2: string | number, name: string | number, co2MaxPercent: string | number) =>
    `${co2} % CO2 is more than ${name} can give (${co2MaxPercent} %).`,
  mostCo2: 'CO2 is at the most this fuel can give: taken as no excess air.',
  airTakenDry: 'No humidity given: the combustion air is taken as dry.',
  onePressure: 'Give only one of --pressure-kpa, --altitude-m and --altitude-ft.',
  tooMuchCo: 'There is more CO than the oxygen accounts for: the flame is starved of air.',
  stackOutsideMethod: 'The method is meant for stacks from 50 to 600 degC.',
  coStop: 'CO is above 400 ppm air-free: stop and correct (common practice).',
  coFindCause: 'CO is at 100 to 400 ppm air-free: find the cause (common practice).',
  belowAcidDewPoint: 'The stack is below the sulphuric acid dew point (known to 5 K).',
};

export const fuelOptionTexts = {
  usage: (fuelIds: string | number) =>
    `Fuel:
  --fuel ID                  ${fuelIds}; b1 to b99 for other biodiesel blends by volume
  --ultimate C,H,O,N,S,W     your own analysis in mass % (sum 100 within 0.5); with decimal commas separate by ';'
    --hhv KJ_PER_KG          its higher heating value
    --density KG_PER_L       at 15 degC, for liquid fuels
  --specific-gravity D       only the specific gravity 60/60 degF is known: composition and heating value by Cragoe's relation`,
  whichFuel: 'Which fuel? Give --fuel, --ultimate or --specific-gravity.',
  oneFuel: 'Give only one of --fuel, --ultimate and --specific-gravity.',
  belongToUltimate: '--hhv and --density belong to --ultimate.',
  gravityGivesBoth: 'The specific gravity already gives heating value and density.',
  estimated: "Composition and heating value are estimates by Cragoe's relation, not an analysis.",
  ultimateNeedsHhv: "--ultimate needs --hhv in kJ/kg. Only the density is known? Use --specific-gravity (Cragoe's relation).",
  sixNumbers: (count: string | number) => `--ultimate takes six numbers, C,H,O,N,S,W; ${count} came.`,
};

export const fuelTexts = {
  usage: (fuelUsage: string | number) =>
    `Usage: flueside fuel ID [--json]
       flueside fuel --ultimate C,H,O,N,S,W --hhv KJ_PER_KG [--density KG_PER_L] [--json]
       flueside fuel --specific-gravity D [--json]

${fuelUsage}

Heating values at 25 degC. Normal cubic metres at 0 degC and 101.325 kPa. F-factors with the coefficients of EPA Method 19.`,
  summary: "a fuel's heating values, air, flue gas, CO2max and F-factors",
  nameFuelOnce: 'Name the fuel once.',
};

export const nozzleTexts = {
  usage: (fuelUsage: string | number) =>
    `Usage: flueside nozzle (--rated-gph G|--rated-l-h V) (--pressure-psi P|--pressure-bar P) FUEL [OPTIONS]

  --rated-gph, --rated-l-h   flow printed on the nozzle, at 100 psi
  --pressure-psi, --pressure-bar   pump pressure on the gauge
  --o2 %                     also the air at this O2 in the flue gas
  --air-c T                  temperature at which that air is drawn in (20)
  --altitude-ft, --altitude-m   height of the place: the same fan moves less air there
  --json                     one JSON object
${fuelUsage}

The flow follows the square root of the pressure. The rating itself is good to a few per cent, and cold oil flows more: a guide, not a measurement.`,
  summary: 'nozzle flow at the pump pressure, heat input, air needed',
  oneAltitude: 'Give --altitude-ft or --altitude-m, not both.',
  ratingTolerance: 'The rating has a tolerance of a few per cent and shifts with the viscosity of the oil.',
  notPossible: (value: string | number, value2: string | number) => `--${value} ${value2} is not possible.`,
};

export const savingTexts = {
  usage: (fuelUsage: string | number) =>
    `Usage: flueside saving --before % --after % [--annual-gal G|--annual-l V] FUEL [--json]

  --before, --after %        efficiency before and after, both on the same heating-value basis
  --annual-gal, --annual-l   fuel burned in a year before the change
  --json                     one JSON object
${fuelUsage}

Saved = 1 - before/after, for the same useful heat: the steady part only, cycling losses may differ.`,
  summary: 'fuel and CO2 saved by an efficiency gain',
  galOrLitres: 'Give --annual-gal or --annual-l, not both.',
  consumptionNotPossible: 'A consumption below zero is not possible.',
  bothEfficienciesMustSameHeating:
    'Both efficiencies must be on the same heating-value basis. Steady state only: cycling losses may differ.',
  wasted: 'The efficiency fell: this is fuel wasted, not saved.',
  onlyShareKnown: 'No annual consumption given: only the share is known.',
  noCo2Factor: 'There is no CO2 factor per gallon for this fuel.',
  partlyBiogenic: '; part of it is biogenic',
};
