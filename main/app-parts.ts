/** What a host hands the app, and what the app gives it. How the services are joined: `app.ts`. */
import type { Clock } from '../shared/clock.ts';
import type { SourceChoice } from '../shared/ipc/run-documents.ts';
import type { HostInfo } from '../shared/ipc/session-commands.ts';
import type { Settings } from '../shared/ipc/settings.ts';
import type { Transport } from '../shared/ipc/transport.ts';
import type { Problem } from '../shared/problem.ts';
import type { Result } from '../shared/result.ts';
import type { Background } from './background/background.ts';
import type { Log } from './log/log.ts';
import type { Secrets } from './office/secrets.ts';
import type { RunServiceParts } from './runs/open-runs.ts';
import type { RunService } from './runs/run-service.ts';
import type { Download } from './runs/stored/downloads.ts';
import type { Member } from './session/roles.ts';
import type { TakenIn } from './session/take-in-file.ts';

export type AppParts = Pick<RunServiceParts, 'listPorts' | 'openPort' | 'windowClock' | 'batchEveryMs'> & {
  readonly clock: Clock;
  readonly dataFolder: string;
  readonly version: string;
  readonly host: HostInfo['host'];
  readonly platform: string;
  /** a run that begins with the first operator's window; 'newcomer': the simulated burner until a real instrument was measured */
  readonly firstRun?: SourceChoice | 'newcomer' | 'none';
  /** a file that a window handed in, once */
  readonly takeUpload?: (token: string) => { readonly path: string } | undefined;
  /** prints a report's page; what a host without it prints with is the report's business */
  readonly printPdf?: (html: string) => Promise<Uint8Array>;
  /** told the settings at the start and whenever they change */
  readonly onSettings?: (settings: Settings) => void;
  /** where the office's password outlives this session, when the host has such a place */
  readonly secrets?: Secrets;
  /** what went wrong goes there */
  readonly log?: Log;
  /** where long work is done; a thread of its own when its program lies beside this one */
  readonly background?: Background;
  /** a test may bring its own */
  readonly createRuns?: (parts: RunServiceParts) => RunService;
};

export interface App {
  /** Serves one window until the returned function is called. */
  attach(transport: Transport, member: Member): () => void;
  /** Windows attached now. */
  windows(): number;
  isCapturing(): boolean;
  takeDownload(token: string): Download | undefined;
  /** the page of a report's preview */
  reportPage(token: string): string | undefined;
  /** Takes in a run or recipe that the person opened through the system. */
  openFile(path: string): Promise<Result<TakenIn, Problem>>;
  /** Told whenever a window comes or goes, or a run starts or ends. @returns a function that stops listening */
  onChange(listener: () => void): () => void;
  /**
   * @param ended by whom: a person who says so ends the runs; a machine that goes down leaves a real instrument's run open, to be gone on with
   */
  close(ended: 'by-person' | 'by-system'): Promise<void>;
}
