import { z } from 'zod';
import { InletGas, noInletGas, partNames } from './parts.ts';

z.config({ jitless: true });

/** A number, or a range from which the seed draws one: no two burners are alike. */
export const Spread = z.union([z.number(), z.strictObject({ from: z.number(), to: z.number() })]);
export type Spread = z.infer<typeof Spread>;

const spread = (from: number, to: number) => Spread.default({ from, to });
const fixed = (value: number) => Spread.default(value);

/** A pressure-atomizing oil burner with two air adjusters, each on its own scale 0-10. */
const BurnerParameters = z.strictObject({
  /** positions as found */
  shutter: spread(5.8, 7.4),
  band: fixed(3),
  /** air ratio at shutter 5, band 3, nominal pressure and -5 Pa over the fire */
  airRatioAtMiddle: spread(1.28, 1.4),
  fanPressurePa: spread(220, 300),
  oilKgPerHour: spread(1.9, 2.9),
  nominalPumpPa: fixed(690_000),
  /** O2 in the flue, %vol dry, at which the smoke number reaches 0.5 when warm */
  smokeOnsetO2: spread(2.2, 3.6),
  /** smoke numbers per %vol O2 well below the onset */
  smokeSlope: spread(2.6, 4),
  /** air-free CO in the valley, ppm */
  valleyCoPpm: spread(5, 14),
  /** air-free CO at the onset of smoke, ppm */
  onsetCoPpm: spread(30, 60),
  /** O2 at which the lean arm has added 40 ppm air-free */
  leanO2: spread(8.6, 9.8),
  startCoPpm: spread(500, 1300),
  stopCoPpm: spread(40, 120),
  /** more oil while it is cold, share */
  coldOilShare: spread(0.01, 0.04),
  /** swing of the air ratio in an ordinary flame, share */
  flutterFraction: spread(0.003, 0.01),
});

const ApplianceParameters = z.strictObject({
  waterC: spread(60, 70),
  /** heat transfer units of the clean exchanger at the middle setting */
  transferUnits: spread(2.4, 2.65),
  /** time constant of the metal, s, and the share of the stack temperature that waits for it when started from cold */
  slowSeconds: spread(75, 105),
  slowShare: spread(0.3, 0.5),
  /** how much of a small change of the stack temperature goes through the metal, against a start from cold */
  metalFollows: spread(0.6, 1),
  chimneySeconds: spread(70, 110),
  chimneyHeightM: spread(5.5, 8),
  regulatorPa: spread(11, 14),
  /** pressure drop of the clean exchanger at the middle setting, Pa */
  dropPa: spread(6, 9),
});

const Surroundings = z.strictObject({
  roomC: spread(16, 22),
  roomWarmsK: spread(0.5, 1.4),
  roomWarmSeconds: spread(120, 240),
  outdoorC: spread(-4, 10),
  draftWanderPa: spread(0.2, 0.5),
  draftWanderSeconds: fixed(40),
  flutterHz: spread(0.15, 0.6),
});

const perChannel = (o2: Spread, co: Spread, stack: Spread, air: Spread, draft: Spread) =>
  z
    .strictObject({
      o2: Spread.default(o2),
      co: Spread.default(co),
      stackTemperature: Spread.default(stack),
      airTemperature: Spread.default(air),
      draft: Spread.default(draft),
    })
    .prefault({});

export const lineShapes = ['columns', 'semicolon', 'blanks', 'keyed', 'json', 'nmea', 'cyclic', 'fixed'] as const;
export const LineShape = z.enum(lineShapes);
export type LineShape = z.infer<typeof LineShape>;

export const simulatedChannels = ['o2', 'co', 'stackTemperature', 'airTemperature', 'draft'] as const;
export type SimulatedChannel = (typeof simulatedChannels)[number];

const InstrumentParameters = z.strictObject({
  shape: LineShape.default('columns'),
  ratePerSecond: z.number().min(0.5).max(10).default(1),
  channels: z.array(z.enum(simulatedChannels)).min(1).default(['o2', 'co', 'stackTemperature', 'airTemperature']),
  deadTimeS: spread(2, 7),
  mixingS: fixed(0),
  o2Seconds: spread(5, 10),
  coSeconds: spread(10, 18),
  thermocoupleSeconds: spread(3, 8),
  /** the last digit that is written */
  steps: perChannel(0.1, 1, 0.1, 0.1, 0.1),
  /** standard deviation of the white noise */
  noise: perChannel({ from: 0.01, to: 0.03 }, { from: 0.3, to: 0.8 }, { from: 0.05, to: 0.2 }, 0.05, 0.2),
  zero: perChannel(0, 0, 0, 0, 0),
  zeroDriftPerHour: perChannel(0, 0, 0, 0, 0),
  span: perChannel(1, 1, 1, 1, 1),
  coRangePpm: fixed(4000),
  /** share by which CO is read low at the end of its range (curved between) */
  coCurvature: fixed(0),
  /** ppm CO shown per ppm H2 */
  h2CrossEffect: fixed(0),
  spikesPerHour: fixed(2),
  lostShare: fixed(0),
  /** lines say "warming up" and carry no values for so long */
  warmUpS: fixed(0),
});

/** `overS`: an amount moves there in a straight line. `adjust`: a hand turns shutter or band without telling anybody. */
const Event = z.union([
  z.strictObject({
    atS: Spread,
    part: z.enum(partNames),
    value: z.union([z.boolean(), Spread, InletGas, z.literal(noInletGas)]),
    overS: z.number().min(0).default(0),
  }),
  z.strictObject({ atS: Spread, adjust: z.enum(['shutter', 'band']), value: Spread }),
]);
export type ScenarioEvent = z.infer<typeof Event>;

/** A scenario file: which burner, which instrument, and what happens when. Times in seconds from the first line; before 0 nobody listens. */
export const Scenario = z.strictObject({
  format: z.literal('flueside-scenario'),
  version: z.literal(1),
  name: z.string().regex(/^[a-z0-9][a-z0-9-]{0,59}$/),
  title: z.string().min(1).max(120),
  /** what it shows, in one or two sentences */
  about: z.string().min(1).max(600),
  /** what the trainee should have learnt afterwards */
  teaches: z.array(z.string().max(300)).max(8).default([]),
  burner: BurnerParameters.prefault({}),
  appliance: ApplianceParameters.prefault({}),
  surroundings: Surroundings.prefault({}),
  instrument: InstrumentParameters.prefault({}),
  /** how long the physics has run before the first line */
  beforeS: z.number().min(0).max(7200).default(0),
  events: z
    .array(Event)
    .max(200)
    .default([{ atS: 5, part: 'firing', value: true, overS: 0 }]),
});
export type Scenario = z.infer<typeof Scenario>;
export type ScenarioInput = z.input<typeof Scenario>;
