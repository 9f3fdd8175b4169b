import type { ScenarioInput } from '../scenario.ts';
import { alreadyWarm, litBefore } from './ordinary.ts';
import { scenarioTexts } from '../../words/core/scenarios.ts';

const format = { format: 'flueside-scenario', version: 1 } as const;

export const burnerFaultScenarios: readonly ScenarioInput[] = [
  {
    ...format,
    ...alreadyWarm,
    name: 'worn-nozzle',
    ...scenarioTexts['worn-nozzle'],
    burner: {
      airRatioAtMiddle: { from: 1.36, to: 1.4 },
      shutter: { from: 5.8, to: 6.3 },
      smokeOnsetO2: { from: 2.7, to: 3.2 },
      smokeSlope: { from: 3.4, to: 4.2 },
    },
    events: [{ atS: -1500, part: 'nozzleFault', value: { from: 0.85, to: 0.95 } }, litBefore],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'low-pressure',
    ...scenarioTexts['low-pressure'],
    burner: {
      airRatioAtMiddle: { from: 1.34, to: 1.38 },
      shutter: { from: 1.5, to: 1.9 },
      smokeOnsetO2: { from: 2.7, to: 3.2 },
      smokeSlope: { from: 3.4, to: 4.2 },
    },
    events: [{ atS: -1500, part: 'pumpPressurePa', value: { from: 370_000, to: 400_000 } }, litBefore],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'flutter',
    ...scenarioTexts['flutter'],
    instrument: { o2Seconds: { from: 5, to: 6 }, deadTimeS: { from: 2, to: 4 }, thermocoupleSeconds: { from: 3, to: 4 } },
    surroundings: { flutterHz: { from: 0.15, to: 0.32 } },
    events: [litBefore, { atS: { from: 280, to: 330 }, part: 'flutterFraction', value: { from: 0.1, to: 0.14 }, overS: 20 }],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'creeping-co',
    ...scenarioTexts['creeping-co'],
    events: [litBefore, { atS: { from: 200, to: 260 }, part: 'creepPpmPerMinute', value: { from: 4, to: 9 } }],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'after-drip',
    ...scenarioTexts['after-drip'],
    burner: { stopCoPpm: { from: 900, to: 2000 } },
    events: [
      { atS: -1500, part: 'afterDripSeconds', value: { from: 12, to: 25 } },
      litBefore,
      { atS: { from: 200, to: 240 }, part: 'firing', value: false },
      { atS: { from: 420, to: 440 }, part: 'firing', value: true },
      { atS: { from: 900, to: 940 }, part: 'firing', value: false },
    ],
  },
];
