import type { ScenarioInput } from '../scenario.ts';
import { alreadyWarm, litBefore } from './ordinary.ts';
import { scenarioTexts } from '../../words/core/scenarios.ts';

const format = { format: 'flueside-scenario', version: 1 } as const;
const withDraft = { channels: ['o2', 'co', 'stackTemperature', 'airTemperature', 'draft'] } as const satisfies {
  channels: NonNullable<NonNullable<ScenarioInput['instrument']>['channels']>;
};

export const surroundingsFaultScenarios: readonly ScenarioInput[] = [
  {
    ...format,
    ...alreadyWarm,
    name: 'air-leak',
    ...scenarioTexts['air-leak'],
    burner: { shutter: { from: 4.2, to: 5.2 }, valleyCoPpm: { from: 30, to: 45 } },
    events: [litBefore, { atS: { from: 280, to: 330 }, part: 'leakFraction', value: { from: 0.1, to: 0.2 }, overS: 4 }],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'sooted-exchanger',
    ...scenarioTexts['sooted-exchanger'],
    instrument: withDraft,
    events: [{ atS: -1500, part: 'fouling', value: { from: 1.12, to: 1.17 } }, litBefore],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'falling-draft',
    ...scenarioTexts['falling-draft'],
    burner: { fanPressurePa: { from: 80, to: 110 }, shutter: { from: 4.6, to: 5.4 } },
    appliance: { chimneyHeightM: { from: 5, to: 6 } },
    surroundings: { outdoorC: { from: 8, to: 14 } },
    instrument: withDraft,
    events: [litBefore, { atS: { from: 240, to: 300 }, part: 'chimneyDraftFactor', value: { from: 0.08, to: 0.2 }, overS: 800 }],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'depressurised-room',
    ...scenarioTexts['depressurised-room'],
    burner: { fanPressurePa: { from: 80, to: 110 }, shutter: { from: 4.6, to: 5.4 } },
    appliance: { chimneyHeightM: { from: 5, to: 6 } },
    surroundings: { outdoorC: { from: 8, to: 14 } },
    instrument: withDraft,
    events: [
      litBefore,
      { atS: { from: 280, to: 330 }, part: 'roomDepressionPa', value: { from: 10, to: 14 }, overS: 15 },
      { atS: 400, part: 'roomCoPpm', value: { from: 12, to: 30 }, overS: 300 },
      { atS: { from: 880, to: 920 }, part: 'roomDepressionPa', value: 0, overS: 15 },
      { atS: 930, part: 'roomCoPpm', value: 0, overS: 240 },
    ],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'house-fans',
    ...scenarioTexts['house-fans'],
    burner: { fanPressurePa: { from: 80, to: 110 }, shutter: { from: 4.6, to: 5.4 } },
    appliance: { chimneyHeightM: { from: 5, to: 6 } },
    surroundings: { outdoorC: { from: 8, to: 14 } },
    instrument: withDraft,
    events: [litBefore],
  },
  {
    ...format,
    name: 'zeroed-in-bad-air',
    ...scenarioTexts['zeroed-in-bad-air'],
    instrument: { zero: { co: { from: -28, to: -12 } } },
    events: [
      { atS: 0, part: 'probeIn', value: false },
      { atS: 60, part: 'probeIn', value: true },
      { atS: 90, part: 'firing', value: true },
    ],
  },
];
