import { z } from 'zod';
import { bandRanges, defaultBands, defaultTolerances, toleranceRanges } from '../measurement/limits.ts';
import { adjusterKinds } from '../tuning/trial/adjuster.ts';
import { WallMs } from '../wall-clock.ts';
import { OfficeChoice } from './office-commands.ts';

const within = ({ low, high }: { low: number; high: number }, preset: number) => z.number().min(low).max(high).default(preset);

const Bands = z.object({
  o2Percent: within(bandRanges.o2Percent, defaultBands.o2Percent),
  coPpm: within(bandRanges.coPpm, defaultBands.coPpm),
  coShare: within(bandRanges.coShare, defaultBands.coShare),
  stackK: within(bandRanges.stackK, defaultBands.stackK),
  airK: within(bandRanges.airK, defaultBands.airK),
});

const Tolerances = z.object({
  o2Percent: within(toleranceRanges.o2Percent, defaultTolerances.o2Percent),
  coPpm: within(toleranceRanges.coPpm, defaultTolerances.coPpm),
  coShare: within(toleranceRanges.coShare, defaultTolerances.coShare),
  stackK: within(toleranceRanges.stackK, defaultTolerances.stackK),
  airK: within(toleranceRanges.airK, defaultTolerances.airK),
  fuelPoints: within(toleranceRanges.fuelPoints, defaultTolerances.fuelPoints),
});

export const Settings = z.object({
  theme: z.enum(['system', 'dark', 'light']).default('system'),
  units: z.enum(['us', 'metric']).default('us'),
  fuelId: z.string().default('no2'),
  smokeScaleHalves: z.boolean().default(true),
  settlingMode: z.enum(['own', 'field', 'lab']).default('own'),
  bands: Bands.prefault({}),
  tolerances: Tolerances.prefault({}),
  sound: z
    .object({ volume: z.number().min(0).max(1).default(0.6), muted: z.boolean().default(false), off: z.array(z.string()).default([]) })
    .prefault({}),
  /** readings and alarms are spoken with the system's own voice */
  speech: z.boolean().default(false),
  /** a foot switch that sends one key: what that key does then */
  foot: z.object({ key: z.string().max(30).default(''), action: z.string().max(30).default('main') }).prefault({}),
  csv: z.object({ separator: z.enum(['comma', 'semicolon']).default('comma') }).prefault({}),
  /** key names that differ from the printed ones: action -> key */
  keys: z.record(z.string(), z.string()).default({}),
  cautionsReadWallMs: WallMs.optional(),
  /** the tour of the first start was ended */
  tourSeenWallMs: WallMs.optional(),
  technician: z.object({ name: z.string().max(120).default(''), licence: z.string().max(120).default('') }).prefault({}),
  /** where visits are shared with other laptops of the workshop; without it nothing leaves this computer */
  office: OfficeChoice.prefault({}),
  adjusters: z
    .array(
      z.object({
        name: z.string().min(1).max(40),
        coarse: z.boolean(),
        min: z.number().optional(),
        max: z.number().optional(),
        step: z.number().positive(),
        /** what it moves; without it only a shutter and a band count as air */
        kind: z.enum(adjusterKinds).optional(),
        moreAir: z.enum(['up', 'down']).optional(),
      }),
    )
    .max(12)
    .default([
      { name: 'Shutter', coarse: false, min: 0, max: 10, step: 0.25 },
      { name: 'Band', coarse: true, min: 0, max: 10, step: 0.5 },
    ]),
});
export type Settings = z.infer<typeof Settings>;

/** Parts that are changed figure by figure: a patch with one of them leaves the others as they are. */
const groups = ['bands', 'tolerances', 'sound', 'foot', 'csv', 'technician'] as const;
type Group = (typeof groups)[number];
const isGroup = (name: string): name is Group => groups.some((group) => group === name);

/** The keys of a schema as they may stand in a patch: all optional and none filled in. `partial()` alone fills in every default that is left out. */
function withoutDefaults(shape: z.ZodRawShape): z.ZodRawShape {
  const bare = (part: z.core.$ZodType): z.core.$ZodType =>
    part instanceof z.ZodDefault || part instanceof z.ZodPrefault || part instanceof z.ZodOptional ? bare(part.unwrap()) : part;
  return Object.fromEntries(
    Object.entries(shape).map(([name, part]) => {
      const inner = bare(part);
      return [name, z.optional(isGroup(name) && inner instanceof z.ZodObject ? z.strictObject(withoutDefaults(inner.shape)) : inner)];
    }),
  );
}

export type SettingsPatch = {
  [K in keyof Settings]?: (K extends Group ? { [P in keyof Settings[K]]?: Settings[K][P] | undefined } : Settings[K]) | undefined;
};
/** What is not in it stays as it is. */
export const SettingsPatch = z.strictObject(withoutDefaults(Settings.shape)) as unknown as z.ZodType<SettingsPatch, SettingsPatch>;

const known = (part: object): object => Object.fromEntries(Object.entries(part).filter(([, value]) => value !== undefined));

/** @returns `settings` with what the patch names, and nothing else, changed; still to be checked */
export function patched(settings: Settings, patch: SettingsPatch): Settings {
  const next = { ...settings, ...known(patch) };
  return {
    ...next,
    ...Object.fromEntries(groups.map((group) => [group, { ...settings[group], ...known(patch[group] ?? {}) }])),
  };
}
