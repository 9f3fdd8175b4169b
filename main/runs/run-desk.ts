/**
 * The desk where every run is started, watched and ended: up to four at once, whoever looks on. A run belongs to the host, not to a
 * window. Hosts (the desktop shell, the loopback server, tests) hand in the world and publish what the desk says.
 */
import type { Clock } from '../../shared/clock.ts';
import type { Handlers, Payload } from '../../shared/ipc/contract.ts';
import type { runCommands, runEvents, PortInfo } from '../../shared/ipc/run-commands.ts';
import type { RunInfo, RunSummary } from '../../shared/ipc/run-info.ts';
import type { sessionEvents, StandingProblem } from '../../shared/ipc/session-commands.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import type { SerialSettings } from '../../shared/measurement/run.ts';
import { err, type Result } from '../../shared/result.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import type { SerialPortHandle } from '../source/serial-port.ts';

export type RunCommandName = keyof typeof runCommands;
export type RunEventName = keyof typeof runEvents | Extract<keyof typeof sessionEvents, 'problem.raised' | 'problem.cleared'>;
export type RunHandlers = Pick<Handlers, RunCommandName>;

export interface RunDeskParts {
  readonly clock: Clock;
  /** run files go to `runs/` below it, recipes to `recipes/` */
  readonly dataFolder: string;
  readonly appVersion: string;
  /** the settings as they are now; asked when a run starts and when something is computed */
  readonly settings: () => Settings;
  readonly listPorts: () => Promise<PortInfo[]>;
  readonly openPort: (path: string, settings: SerialSettings) => Promise<Result<SerialPortHandle, Problem>>;
  /** goes to every window that has said hello; must not throw */
  readonly publish: <K extends RunEventName>(name: K, payload: Payload<K>) => void;
  /** UUIDv7 */
  readonly newId: () => string;
}

/** What a one-use download token stands for; the host serves it once. Exactly one of `text` and `filePath` is set. */
export type Download = { readonly fileName: string; readonly mime: string; readonly text?: string; readonly filePath?: string };

export interface RunDesk {
  readonly handlers: RunHandlers;
  /** runs under way and those that ended since the start */
  runs(): RunInfo[];
  /** true while a run captures: the host stays up and keeps the machine awake */
  isCapturing(): boolean;
  /** runs whose end is missing: killed, or the power went */
  interrupted(): Promise<RunSummary[]>;
  /** problems that stand */
  problems(): StandingProblem[];
  /** for `problem.dismiss` */
  dismissProblem(key: string): void;
  /** @returns undefined when the token is unknown or was used */
  takeDownload(token: string): Download | undefined;
  /** a window has gone: nobody watches lines for it any more */
  clientLeft(clientId: string): void;
  /** somebody is there to see ports come and go; while the count is above zero the list is looked at every 2 s */
  watchPorts(): () => void;
  /** ends nothing: the run files stay open-ended for `run.continue`, unless `endRuns` */
  close(options?: { endRuns?: boolean }): Promise<void>;
}

export function createRunDesk(parts: RunDeskParts): RunDesk {
  void parts;
  const notYet = () => Promise.resolve(err(problem('internal', 'not built yet')));
  return {
    handlers: new Proxy({} as RunHandlers, { get: () => notYet }),
    runs: () => [],
    isCapturing: () => false,
    interrupted: () => Promise.resolve([]),
    problems: () => [],
    dismissProblem: () => undefined,
    takeDownload: () => undefined,
    clientLeft: () => undefined,
    watchPorts: () => () => undefined,
    close: () => Promise.resolve(),
  };
}
