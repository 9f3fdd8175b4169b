/**
 * Every command and event of the app, declared once: name -> schemas. Both sides derive their types from here and check on arrival.
 * Commands are `topic.verb`, events `topic.fact`; payloads are plain data.
 */
import type { z } from 'zod';
import type { Result } from '../result.ts';
import type { Problem } from '../problem.ts';
import { benchCommands, benchEvents } from './bench-commands.ts';
import { officeCommands, officeEvents } from './office-commands.ts';
import { photoCommands } from './photo-commands.ts';
import { reportCommands } from './report-commands.ts';
import { runCommands, runEvents } from './run-commands.ts';
import { storeCommands, storeEvents } from './store-commands.ts';
import { visitCommands, visitEvents } from './visit-commands.ts';
import { sessionCommands, sessionEvents, type Role } from './session-commands.ts';

export const commands = {
  ...sessionCommands,
  ...runCommands,
  ...storeCommands,
  ...visitCommands,
  ...photoCommands,
  ...reportCommands,
  ...benchCommands,
  ...officeCommands,
} as const;
export const events = { ...sessionEvents, ...runEvents, ...storeEvents, ...visitEvents, ...benchEvents, ...officeEvents } as const;

export type CommandName = keyof typeof commands;
export type EventName = keyof typeof events;
/** what the caller passes (defaults may be left out) */
export type CallInput<K extends CommandName> = z.input<(typeof commands)[K]['input']>;
/** what the handler gets (defaults filled in) */
export type Input<K extends CommandName> = z.output<(typeof commands)[K]['input']>;
export type Output<K extends CommandName> = z.output<(typeof commands)[K]['output']>;
export type Payload<K extends EventName> = z.output<(typeof events)[K]>;

/** Who is calling: a handler may look at the role, and nothing else, of the window. */
export type Caller = { readonly clientId: string; readonly role: Role };
export type Handlers = { [K in CommandName]: (input: Input<K>, caller: Caller) => Promise<Result<Output<K>, Problem>> };

/** Commands that a viewer may send; all others need the operator (or, for `simulator.` and `replay.`, the instructor). */
export const viewerCommands: ReadonlySet<CommandName> = new Set<CommandName>([
  'session.hello',
  'session.takeOver',
  'session.windowFailed',
  'source.list',
  'run.history',
  'run.lines',
  'run.recipe',
  'run.export',
  'run.stopExport',
  'recipe.list',
  'recipe.propose',
  'recipe.preview',
  'appliance.list',
  'appliance.get',
  'visit.list',
  'copies.list',
  'visit.get',
  'visit.now',
  'visit.ventTrace',
  'photo.get',
  'document.list',
  'document.get',
  'bench.state',
  'office.state',
  'office.search',
  'office.conflicts',
  'report.preview',
  'report.readAhead',
  'report.make',
  'certificate.preview',
  'certificate.make',
]);
export const instructorCommands: ReadonlySet<CommandName> = new Set<CommandName>([
  'simulator.adjust',
  'simulator.part',
  'simulator.look',
  'simulator.parts',
  'replay.control',
  'run.start',
  'run.end',
]);
