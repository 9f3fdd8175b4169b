import { z } from 'zod';
import { WallMs } from '../wall-clock.ts';
import { Problem } from '../problem-schema.ts';
import { Alarm } from '../tuning/advice/alarms.ts';
import { RunInfo, RunSummary } from './run-info.ts';
import { Settings, SettingsPatch } from './settings.ts';

export const roles = ['operator', 'viewer', 'instructor'] as const;
export const Role = z.enum(roles);
export type Role = (typeof roles)[number];

const nothing = z.strictObject({});

/** A problem that stands until its cause is gone; the same cause counts up instead of piling up. */
export const StandingProblem = z.object({
  key: z.string(),
  problem: Problem,
  runId: z.string().optional(),
  count: z.number().int(),
  sinceWallMs: WallMs,
});
export type StandingProblem = z.infer<typeof StandingProblem>;

export const HostInfo = z.object({
  host: z.enum(['electron', 'browser', 'memory']),
  version: z.string(),
  platform: z.string(),
  dataFolder: z.string(),
  role: Role,
  otherWindows: z.number().int(),
  settings: Settings,
  runs: z.array(RunInfo),
  /** runs whose end is missing: Flueside was killed or the power went */
  interrupted: z.array(RunSummary),
  problems: z.array(StandingProblem),
  alarms: z.array(Alarm),
  /** the simulated burner began by itself: no real instrument was ever measured here */
  newcomer: z.boolean().optional(),
});
export type HostInfo = z.infer<typeof HostInfo>;

export const sessionCommands = {
  'session.hello': { input: z.strictObject({ wish: Role.optional() }), output: HostInfo },
  'session.takeOver': { input: nothing, output: z.object({ role: Role }) },
  'settings.change': { input: z.strictObject({ patch: SettingsPatch }), output: Settings },
  /** a render or a script of the window failed: for the log */
  'session.windowFailed': {
    input: z.strictObject({ where: z.string().max(60), text: z.string().max(8000) }),
    output: nothing,
  },
  /** versions, settings without names, the log; the newest runs only when the person wants that */
  'session.supportReport': {
    input: z.strictObject({ withReadings: z.boolean() }),
    output: z.object({ fileName: z.string(), download: z.string() }),
  },
  'problem.dismiss': { input: z.strictObject({ key: z.string().max(200) }), output: nothing },
} as const;

export const sessionEvents = {
  'session.changed': z.object({ role: Role, reason: z.enum(['taken-over', 'operator-left', 'granted']), otherWindows: z.number().int() }),
  'settings.changed': Settings,
  /** CO in the flue and in the room: all that hold now */
  'alarms.changed': z.object({ alarms: z.array(Alarm) }),
  'problem.raised': StandingProblem,
  'problem.cleared': z.object({ key: z.string() }),
  /** delivered by the transport adapter itself, last, when the wire is gone */
  'wire.closed': z.object({ reason: z.string() }),
} as const;
