import { z } from 'zod';
import { GeometryLeft } from '../measurement/geometry-left.ts';
import { InletGas, noInletGas, partNames, readPartChange } from './parts.ts';
import { burnerTexts } from '../words/core/burner.ts';

/** A number, or a range from which the seed draws one: no two burners are alike. */
export const Spread = z.union([z.number(), z.strictObject({ from: z.number(), to: z.number() })]);
export type Spread = z.infer<typeof Spread>;

/** A number or range between two bounds; outside them the model means nothing. */
const within = (low: number, high: number, usual: Spread) =>
  Spread.refine(
    (value) =>
      typeof value === 'number' ? value >= low && value <= high : value.from >= low && value.from <= value.to && value.to <= high,
    {
      error: burnerTexts.between(low, high),
    },
  ).default(usual);
const range = (from: number, to: number): Spread => ({ from, to });
const seconds = (usual: Spread) => within(0.1, 7200, usual);
const share = (usual: Spread) => within(0, 1, usual);

/** A pressure-atomizing oil burner with two air adjusters, each on its own scale 0-10. */
const BurnerParameters = z.strictObject({
  /** positions as found */
  shutter: within(0, 10, range(5.8, 7.4)),
  band: within(0, 10, 3),
  /** air ratio at shutter 5, band 3, nominal pressure and -5 Pa over the fire */
  airRatioAtMiddle: within(0.5, 4, range(1.28, 1.4)),
  fanPressurePa: within(20, 2000, range(220, 300)),
  nominalPumpPa: within(100_000, 2_000_000, 690_000),
  /** O2 in the flue, %vol dry, at which the smoke number reaches 0.5 when warm */
  smokeOnsetO2: within(0.5, 15, range(2.2, 3.6)),
  /** smoke numbers per %vol O2 well below the onset */
  smokeSlope: within(0.3, 20, range(2.6, 4)),
  /** air-free CO in the valley, ppm */
  valleyCoPpm: within(0, 2000, range(5, 14)),
  /** air-free CO that the rich arm adds at the onset of smoke, ppm */
  onsetCoPpm: within(0, 5000, range(30, 60)),
  /** O2 at which the lean arm has added 40 ppm air-free */
  leanO2: within(3, 18, range(8.6, 9.8)),
  startCoPpm: within(0, 20_000, range(500, 1300)),
  stopCoPpm: within(0, 20_000, range(40, 120)),
  /** more oil while it is cold, share */
  coldOilShare: share(range(0.01, 0.04)),
  /** swing of the air ratio in an ordinary flame, share */
  flutterFraction: within(0, 0.2, range(0.005, 0.015)),
});

const ApplianceParameters = z.strictObject({
  waterC: within(5, 110, range(60, 70)),
  /** heat transfer units of the clean exchanger at the middle setting */
  transferUnits: within(0.5, 6, range(2.4, 2.65)),
  /** time constant of the metal, s, and the share of the stack temperature that waits for it when started from cold */
  slowSeconds: seconds(range(75, 105)),
  slowShare: share(range(0.3, 0.5)),
  /** how much of a small change of the stack temperature goes through the metal, against a start from cold */
  metalFollows: share(range(0.6, 1)),
  chimneySeconds: seconds(range(70, 110)),
  chimneyHeightM: within(1, 60, range(5.5, 8)),
  regulatorPa: within(0, 1000, range(11, 14)),
  /** pressure drop of the clean exchanger at the middle setting, Pa */
  dropPa: within(0, 200, range(6, 9)),
});

const Surroundings = z.strictObject({
  roomC: within(-30, 60, range(16, 22)),
  roomWarmsK: within(0, 30, range(0.5, 1.4)),
  roomWarmSeconds: seconds(range(120, 240)),
  outdoorC: within(-40, 50, range(-4, 10)),
  draftWanderPa: within(0, 20, range(0.2, 0.5)),
  draftWanderSeconds: seconds(40),
  flutterHz: within(0.01, 5, range(0.15, 0.6)),
});

const perChannel = (low: number, high: number, o2: Spread, co: Spread, stack: Spread, air: Spread, draft: Spread) =>
  z
    .strictObject({
      o2: within(low, high, o2),
      co: within(low, high, co),
      stackTemperature: within(low, high, stack),
      airTemperature: within(low, high, air),
      draft: within(low, high, draft),
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
  deadTimeS: within(0, 120, range(2, 7)),
  mixingS: within(0, 600, 0),
  o2Seconds: seconds(range(5, 10)),
  coSeconds: seconds(range(10, 18)),
  thermocoupleSeconds: seconds(range(3, 8)),
  /** the last digit that is written */
  steps: perChannel(0.001, 50, 0.1, 1, 0.1, 0.1, 0.1),
  /** standard deviation of the white noise */
  noise: perChannel(0, 100, range(0.01, 0.03), range(0.3, 0.8), range(0.05, 0.2), 0.05, 0.2),
  zero: perChannel(-1000, 1000, 0, 0, 0, 0, 0),
  zeroDriftPerHour: perChannel(-1000, 1000, 0, 0, 0, 0, 0),
  span: perChannel(0, 3, 1, 1, 1, 1, 1),
  coRangePpm: within(50, 100_000, 4000),
  /** share by which CO is read low at the end of its range (curved between) */
  coCurvature: within(-1, 0.5, 0),
  /** ppm CO shown per ppm H2 */
  h2CrossEffect: within(-1, 2, 0),
  spikesPerHour: within(0, 3600, 2),
  lostShare: within(0, 0.95, 0),
  /** lines say "warming up" and carry no values for so long */
  warmUpS: within(0, 3600, 0),
});

/** `overS`: an amount moves there in a straight line. `adjust`: a hand turns shutter or band without telling anybody. */
const Event = z
  .union([
    z.strictObject({
      atS: Spread,
      part: z.enum(partNames),
      value: z.union([z.boolean(), Spread, InletGas, z.literal(noInletGas)]),
      overS: z.number().min(0).default(0),
    }),
    z.strictObject({ atS: Spread, adjust: z.enum(['shutter', 'band']), value: Spread }),
  ])
  .superRefine((event, context) => {
    if ('adjust' in event) return;
    const value = typeof event.value === 'object' && 'from' in event.value ? event.value.from : event.value;
    const change = readPartChange(event.part, value);
    if (change.kind === 'refused') context.addIssue({ code: 'custom', message: change.why });
  });
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
  /** what electrodes, nozzle and head were left at; without it as the burner's card wants it */
  geometry: GeometryLeft.prefault({}),
  /** how long the physics has run before the first line */
  beforeS: z.number().min(0).max(7200).default(0),
  events: z
    .array(Event)
    .max(200)
    .default([{ atS: 5, part: 'firing', value: true, overS: 0 }]),
});
export type Scenario = z.infer<typeof Scenario>;
export type ScenarioInput = z.input<typeof Scenario>;
