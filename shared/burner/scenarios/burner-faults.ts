import type { ScenarioInput } from '../scenario.ts';
import { alreadyWarm, litBefore } from './ordinary.ts';

const format = { format: 'flueside-scenario', version: 1 } as const;

export const burnerFaultScenarios: readonly ScenarioInput[] = [
  {
    ...format,
    ...alreadyWarm,
    name: 'worn-nozzle',
    title: 'Worn nozzle',
    about: 'Too much oil in too coarse drops: smoke although there is plenty of air, CO above its usual valley, now and then an oily spot.',
    teaches: ['High O2 and smoke together point to mixing, not to the air setting'],
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
    title: 'Low oil pressure',
    about: 'The pump gives little more than half its pressure: less oil, poor spray, high O2 with smoke, a cooler stack.',
    teaches: ['Less pressure means less oil and a worse spray: measure it before turning the air'],
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
    title: 'Fluttering flame',
    about: 'The flame pulses with the oil pressure. Means look fine; the spread does not.',
    teaches: ['Look at the spread and its frequency, then at the pressure gauge and the sight tube'],
    instrument: { o2Seconds: { from: 5, to: 6 }, deadTimeS: { from: 2, to: 4 }, thermocoupleSeconds: { from: 3, to: 4 } },
    surroundings: { flutterHz: { from: 0.15, to: 0.32 } },
    events: [litBefore, { atS: { from: 280, to: 330 }, part: 'flutterFraction', value: { from: 0.1, to: 0.14 }, overS: 20 }],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'creeping-co',
    title: 'Creeping CO',
    about: 'CO climbs minute by minute while O2 does not change.',
    teaches: ['Settled is not the same as safe: watch where CO goes', 'Check the room and the flame pattern before adding air'],
    events: [litBefore, { atS: { from: 200, to: 260 }, part: 'creepPpmPerMinute', value: { from: 4, to: 9 } }],
  },
  {
    ...format,
    ...alreadyWarm,
    name: 'after-drip',
    title: 'After-drip',
    about: 'The burner stops and the oil does not: CO and smoke after the flame should be gone. Stops twice, is lit again in between.',
    teaches: ['A CO bump after the stop means oil without enough air: cut-off, air in the line, regulator'],
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
