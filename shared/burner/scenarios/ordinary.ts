import type { ScenarioInput } from '../scenario.ts';
import { scenarioTexts } from '../../words/core/scenarios.ts';

const format = { format: 'flueside-scenario', version: 1 } as const;
/** A burner that has been running long enough for everything to be at rest. */
export const alreadyWarm = { beforeS: 1500 } as const;
export const litBefore = { atS: -1500, part: 'firing', value: true } as const;

export const ordinaryScenarios: readonly ScenarioInput[] = [
  {
    ...format,
    name: 'tune-up',
    ...scenarioTexts['tune-up'],
  },
  {
    ...format,
    name: 'cold-start',
    ...scenarioTexts['cold-start'],
    burner: { startCoPpm: { from: 1500, to: 2800 }, coldOilShare: { from: 0.04, to: 0.08 }, fanPressurePa: { from: 130, to: 180 } },
    appliance: { slowSeconds: { from: 240, to: 420 }, slowShare: { from: 0.45, to: 0.65 }, chimneySeconds: { from: 150, to: 260 } },
    surroundings: { roomC: { from: 10, to: 15 }, roomWarmsK: { from: 1.5, to: 3 }, outdoorC: { from: -10, to: 0 } },
    events: [{ atS: 20, part: 'firing', value: true }],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'purge',
    ...scenarioTexts['purge'],
    events: [
      litBefore,
      ...[240, 540, 900].flatMap((startS): ScenarioInput['events'] & object => [
        { atS: { from: startS, to: startS + 10 }, part: 'purge', value: true },
        { atS: { from: startS + 40, to: startS + 45 }, part: 'purge', value: false },
      ]),
    ],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'unplug',
    ...scenarioTexts['unplug'],
    events: [
      litBefore,
      { atS: { from: 180, to: 220 }, part: 'plugged', value: false },
      { atS: { from: 240, to: 255 }, part: 'plugged', value: true },
      { atS: { from: 480, to: 500 }, part: 'plugged', value: false },
      { atS: { from: 600, to: 630 }, part: 'plugged', value: true },
    ],
  },
  {
    ...format,
    name: 'four-starts',
    ...scenarioTexts['four-starts'],
    burner: { shutter: { from: 5.2, to: 6 }, airRatioAtMiddle: { from: 1.33, to: 1.38 }, smokeOnsetO2: { from: 2.4, to: 3.2 } },
    instrument: { o2Seconds: { from: 5, to: 7 } },
    surroundings: { flutterHz: { from: 0.12, to: 0.25 } },
    events: [
      { atS: 20, part: 'firing', value: true },
      ...[720, 900, 1080].flatMap((atS): ScenarioInput['events'] & object => [
        { atS, part: 'firing', value: false },
        { atS: atS + 60, part: 'firing', value: true },
      ]),
    ],
  },
  {
    ...format,
    name: 'slow-cell',
    ...scenarioTexts['slow-cell'],
    instrument: { o2Seconds: { from: 24, to: 34 }, coSeconds: { from: 45, to: 65 }, deadTimeS: { from: 5, to: 9 } },
  },
];
