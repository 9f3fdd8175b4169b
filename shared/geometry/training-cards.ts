/** The two cards that come with the app: invented, for teaching, and told as such wherever they are shown. No burner has these figures. */
import { FiguresCard } from './figures-card.ts';
import { geometryTexts } from '../words/core/geometry.ts';

const cardA = FiguresCard.parse({
  format: 'flueside-figures-card',
  version: 1,
  name: 'Training card A',
  revision: 1,
  source: { document: 'Training sheet A', edition: '1', page: '2', typedBy: geometryTexts.inventedForTraining },
  lengthUnit: 'mm',
  tubeEnds: ['straight'],
  arrangements: ['two'],
  heads: [],
  adjuster: { steps: 'one', zeroMark: '0' },
  figures: [
    { item: 'electrodeGap', figure: { nominal: '3.5', tolerance: '0.5' } },
    { item: 'heightAboveCentreline', figure: { nominal: '11', tolerance: '1' } },
    { item: 'aheadOfNozzle', figure: { nominal: '2.5', tolerance: '0.5' } },
    { item: 'tipToMetal', figure: { low: '6' } },
    { item: 'tipDifference', figure: { high: '1' } },
    { item: 'nozzleToHead', figure: { nominal: '19', tolerance: '1' } },
    { item: 'offCentre', figure: { high: '1' } },
    { item: 'headToTubeEnd', figure: { nominal: '15', tolerance: '0.5' } },
  ],
  byFlow: {
    unit: 'l/h',
    rows: [
      { from: '1.5', to: '1.9', headSetting: '2', shutterStart: '3', bandStart: '1' },
      { from: '2.0', to: '2.6', headSetting: '5', shutterStart: '4.5', bandStart: '2' },
      { from: '2.7', to: '3.4', headSetting: '8', shutterStart: '6', bandStart: '3' },
    ],
    tolerance: { headSetting: '0.5', shutterStart: '0.5', bandStart: '0.5' },
  },
  training: true,
});

const cardB = FiguresCard.parse({
  format: 'flueside-figures-card',
  version: 1,
  name: 'Training card B',
  revision: 2,
  source: { document: 'Training sheet B', edition: '2', page: '4', typedBy: geometryTexts.inventedForTraining },
  lengthUnit: 'inch',
  tubeEnds: ['straight', 'conical'],
  arrangements: ['two', 'one'],
  heads: [],
  adjuster: { steps: 'two', zeroMark: '0', fineNotches: 10 },
  figures: [
    { item: 'electrodeGap', figure: { nominal: '7/64', tolerance: '1/32' } },
    { item: 'heightAboveCentreline', figure: { nominal: '1/2', tolerance: '1/32' }, for: { arrangement: 'two' } },
    { item: 'heightAboveCentreline', figure: { nominal: '7/16', tolerance: '1/32' }, for: { arrangement: 'one' } },
    { item: 'aheadOfNozzle', figure: { nominal: '3/32', tolerance: '1/32' } },
    { item: 'tipToMetal', figure: { low: '1/4' } },
    { item: 'tipDifference', figure: { high: '1/32' } },
    { item: 'nozzleToHead', figure: { nominal: '15/16', tolerance: '1/32' } },
    { item: 'offCentre', figure: { high: '1/32' } },
    { item: 'headToTubeEnd', figure: { nominal: '11/16', tolerance: '1/32' }, for: { tubeEnd: 'straight' } },
    { item: 'headToTubeEnd', figure: { nominal: '1 1/16', tolerance: '1/32' }, for: { tubeEnd: 'conical' } },
  ],
  byFlow: {
    unit: 'gph',
    rows: [
      { from: '0.50', to: '0.60', headSetting: '1.0', shutterStart: '4.0', bandStart: '1' },
      { from: '0.65', to: '0.75', headSetting: '2.0', shutterStart: '5.5', bandStart: '3' },
      { from: '0.80', to: '1.00', headSetting: '3.0', shutterStart: '7.0', bandStart: '4' },
      { from: '1.10', to: '1.25', headSetting: '4.0', shutterStart: '8.5', bandStart: '5' },
    ],
    tolerance: { headSetting: '0.25', shutterStart: '0.5', bandStart: '0.5' },
  },
  training: true,
});

export const trainingCards: readonly FiguresCard[] = [cardA, cardB];
