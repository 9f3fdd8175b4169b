import { PA_PER_IN_WC, PA_PER_MBAR, celsiusFromFahrenheit, kelvinFromFahrenheitDifference } from '../../units/convert.ts';
import type { TargetCard } from './target-card.ts';

/**
 * Examples to copy and edit. None is a default, none is legal advice: rules change, and which one binds depends on place and plant.
 * Dates are those of the rule where the text names one, else of the copying.
 */
const nora = 'NORA, Oilheat Technicians Manual, p 153';
const noraDraft = 'NORA, Oilheat Technicians Manual, p 141';
const minnesota = 'Minnesota Rules 1346.1605';
const germany = '1st BImSchV of 26 January 2010';
const unitedKingdom = 'UK trade knowledge page on commissioning of kerosene pressure-jet burners';

const overFireDraft = { quantity: 'overFirePa', low: -0.02 * PA_PER_IN_WC, high: -0.01 * PA_PER_IN_WC, source: noraDraft } as const;
const commonTraining = [
  { quantity: 'co2Percent', low: 10, high: 12.5, source: nora },
  { quantity: 'smokeNumber', high: 1, source: nora },
  { quantity: 'coPpm', high: 50, highExcluded: true, source: nora },
  overFireDraft,
] as const;

const germanLoss = (id: string, appliesTo: string, percent: number): TargetCard => ({
  id,
  name: `German statutory measurement, ${appliesTo}`,
  date: '2010-01-26',
  place: 'Germany',
  source: germany,
  kind: 'legal',
  decisionRule: 'guarded-rejection',
  smokeRule: 'mean-of-three-whole',
  example: true,
  lines: [
    {
      quantity: 'smokeNumber',
      high: 1,
      source: `${germany}, section 8`,
      appliesTo: 'atomizing burner; 2 when built before October 1988 and unchanged',
    },
    { quantity: 'oilTrace', high: 0, source: `${germany}, section 8 and Annex 2 no. 3.3` },
    { quantity: 'coMgPerKwh', high: 1300, source: `${germany}, section 8` },
    { quantity: 'siegertLossPercent', high: percent, roundTo: 1, source: `${germany}, section 10`, appliesTo },
  ],
});

export const exampleCards: readonly TargetCard[] = [
  {
    id: 'example-training-retention',
    name: 'Training targets, retention head',
    date: '2026-11',
    place: 'United States',
    source: `${nora} (edition not stated; copied on the date given)`,
    kind: 'training',
    decisionRule: 'simple',
    smokeRule: 'single-spot',
    example: true,
    lines: [
      { quantity: 'o2Percent', low: 3, high: 6, source: nora, appliesTo: 'retention head' },
      ...commonTraining,
      {
        quantity: 'stackC',
        low: celsiusFromFahrenheit(330),
        high: celsiusFromFahrenheit(450),
        source: nora,
        appliesTo: 'appliance of 80 % and more',
      },
    ],
  },
  {
    id: 'example-training-open-head',
    name: 'Training targets, older head',
    date: '2026-11',
    place: 'United States',
    source: `${nora} (edition not stated; copied on the date given)`,
    kind: 'training',
    decisionRule: 'simple',
    smokeRule: 'single-spot',
    example: true,
    lines: [
      { quantity: 'o2Percent', low: 5, high: 9, source: nora, appliesTo: 'older head' },
      ...commonTraining.slice(1),
      {
        quantity: 'stackC',
        low: celsiusFromFahrenheit(400),
        high: celsiusFromFahrenheit(600),
        source: nora,
        appliesTo: 'appliance of 60 to 79 %',
      },
    ],
  },
  {
    id: 'example-minnesota',
    name: 'Minnesota, oil-fired equipment',
    date: '2026-11',
    place: 'Minnesota, United States',
    source: `${minnesota} (as read on the date given)`,
    kind: 'legal',
    decisionRule: 'simple',
    smokeRule: 'single-spot',
    example: true,
    lines: [
      { quantity: 'o2Percent', low: 4, high: 10, source: minnesota },
      { quantity: 'co2Percent', low: 8, high: 13, source: minnesota },
      { quantity: 'smokeNumber', high: 2, source: minnesota, appliesTo: 'light oil' },
      { quantity: 'coPpm', high: 400, source: `${minnesota}; 0.04 %, basis not stated for oil` },
      { quantity: 'netStackK', high: kelvinFromFahrenheitDifference(700), source: `${minnesota}; 700 degF above ambient` },
      { quantity: 'efficiencyHhvPercent', low: 75, source: minnesota },
    ],
  },
  germanLoss('example-germany-25', 'over 4 to 25 kW', 11),
  germanLoss('example-germany-50', 'over 25 to 50 kW', 10),
  germanLoss('example-germany-over-50', 'over 50 kW', 9),
  {
    id: 'example-uk-kerosene',
    name: 'UK trade guidance, kerosene pressure jet',
    date: '2026-11',
    place: 'United Kingdom',
    source: `${unitedKingdom} (secondary source, as read on the date given)`,
    kind: 'guidance',
    decisionRule: 'simple',
    smokeRule: 'single-spot',
    example: true,
    lines: [
      { quantity: 'co2Percent', low: 10, high: 13, source: unitedKingdom },
      { quantity: 'smokeNumber', high: 1, source: unitedKingdom },
      { quantity: 'coPpm', high: 100, highExcluded: true, source: unitedKingdom },
      { quantity: 'netStackK', low: 150, high: 250, source: unitedKingdom, appliesTo: 'not condensing' },
      { quantity: 'breechPa', low: -0.2 * PA_PER_MBAR, high: -0.1 * PA_PER_MBAR, source: unitedKingdom },
    ],
  },
  {
    id: 'example-nyc-commercial',
    name: 'New York City, commercial oil boiler',
    date: '2026-11',
    place: 'New York City, United States',
    source: 'Rules of the City of New York, title 15 chapter 2, as summarised in compliance notes',
    kind: 'legal',
    decisionRule: 'simple',
    smokeRule: 'single-spot',
    example: true,
    lines: [
      {
        quantity: 'efficiencyHhvPercent',
        low: 83,
        source: 'Rules of the City of New York, title 15 chapter 2, as summarised in compliance notes',
      },
    ],
  },
];
