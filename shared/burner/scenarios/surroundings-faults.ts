import type { ScenarioInput } from '../scenario.ts';
import { alreadyWarm, litBefore } from './ordinary.ts';

const format = { format: 'flueside-scenario', version: 1 } as const;
const withDraft = { channels: ['o2', 'co', 'stackTemperature', 'airTemperature', 'draft'] } as const satisfies {
  channels: NonNullable<NonNullable<ScenarioInput['instrument']>['channels']>;
};

export const surroundingsFaultScenarios: readonly ScenarioInput[] = [
  {
    ...format,
    ...alreadyWarm,
    name: 'air-leak',
    title: 'Air leak before the probe',
    about: 'The probe cone comes loose: room air thins the sample. O2 up, CO down, and the air-free CO stays where it was.',
    teaches: ['Dilution moves O2 and CO on a straight line to fresh air; combustion changes the air-free CO'],
    burner: { shutter: { from: 4.2, to: 5.2 }, valleyCoPpm: { from: 30, to: 45 } },
    events: [litBefore, { atS: { from: 280, to: 330 }, part: 'leakFraction', value: { from: 0.1, to: 0.2 }, overS: 4 }],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'sooted-exchanger',
    title: 'Sooted exchanger',
    about: 'O2 is fine and the stack is far too hot; the draft is used up inside the appliance.',
    teaches: ['High stack temperature with normal O2: compare the drafts over the fire and at the breech'],
    instrument: withDraft,
    events: [{ atS: -1500, part: 'fouling', value: { from: 1.12, to: 1.17 } }, litBefore],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'falling-draft',
    title: 'Falling draft',
    about: 'The chimney loses its pull within a quarter of an hour; O2 falls slowly with it and the flame comes closer to smoking.',
    teaches: ['A slow fall of O2 with falling suction is not the burner: look at the flue'],
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
    title: 'Room under suction',
    about:
      'An exhaust fan starts: the room pulls against the chimney, air for the flame gets short, CO comes into the room. Later the fan is stopped again.',
    teaches: ['Repeat the draft with every fan in the house on', 'CO in the room ends the job'],
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
    title: 'House with fans',
    about:
      'A warm burner on a modest chimney, draft on the instrument. The fans of the house come on in the worst-case test of a visit, and take draft and O2 with them.',
    teaches: ['Draft, O2 and room CO with every fan off, then with every fan on: one test, one trace'],
    burner: { fanPressurePa: { from: 80, to: 110 }, shutter: { from: 4.6, to: 5.4 } },
    appliance: { chimneyHeightM: { from: 5, to: 6 } },
    surroundings: { outdoorC: { from: 8, to: 14 } },
    instrument: withDraft,
    events: [litBefore],
  },
  {
    ...format,
    name: 'zeroed-in-bad-air',
    title: 'Zeroed in bad air',
    about: 'The instrument took its zero where there was CO. In clean air it shows less than nothing, in the flue too little.',
    teaches: ['CO below zero means a wrong zero: take it again outdoors'],
    instrument: { zero: { co: { from: -28, to: -12 } } },
    events: [
      { atS: 0, part: 'probeIn', value: false },
      { atS: 60, part: 'probeIn', value: true },
      { atS: 90, part: 'firing', value: true },
    ],
  },
];
