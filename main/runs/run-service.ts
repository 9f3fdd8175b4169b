/**
 * The service where every run is started, watched and ended: up to four at once, whoever looks on. A run belongs to the host, not to a
 * window. Hosts (the desktop shell, the loopback server, tests) hand in the world and publish what the run service says.
 */
import type { GeometryLeft } from '../../shared/measurement/geometry-left.ts';
import type { PortInfo } from '../../shared/ipc/run-documents.ts';
import type { RunInfo, RunSummary } from '../../shared/ipc/run-info.ts';
import type { StandingProblem } from '../../shared/ipc/session-commands.ts';
import type { Mark } from '../../shared/measurement/mark.ts';
import type { Reading } from '../../shared/measurement/state.ts';
import { createOpenRuns, type RunServiceParts, type RunHandlers } from './open-runs.ts';
import { createDownloads, type Download } from './stored/downloads.ts';
import { createExportJobs } from './stored/export-jobs.ts';
import { handHandlers } from './live/hand-handlers.ts';
import { lookHandlers } from './stored/look-handlers.ts';
import { createPortWatch } from './live/port-watch.ts';
import { recipeHandlers } from './recipe-handlers.ts';
import { startHandlers } from './start-handlers.ts';
import { defined } from '../../shared/defined.ts';

export type RunLook = { readonly info: RunInfo; readonly marks: readonly Mark[]; readonly readings: readonly Reading[] };

export interface RunService {
  readonly handlers: RunHandlers;
  /** runs under way and those that ended since the start */
  runs(): RunInfo[];
  /** one of `runs`, with what its chain says now */
  look(runId: string): RunLook | undefined;
  /** what the gauge of a visit says now; only a simulated burner follows it */
  setGeometry(runId: string, left: GeometryLeft): void;
  /** true while a run captures: the host stays up and keeps the machine awake */
  isCapturing(): boolean;
  /** runs whose end is missing: killed, or the power went */
  interrupted(): Promise<RunSummary[]>;
  /** a window has come: every run says where it stands */
  tellAnew(): void;
  /** problems that stand */
  problems(): StandingProblem[];
  /** for `problem.dismiss` */
  dismissProblem(key: string): void;
  /** @returns undefined when the token is unknown or was used */
  takeDownload(token: string): Download | undefined;
  /** a window has gone: nobody watches lines for it any more */
  clientLeft(clientId: string): void;
  /** other files took the place of the stored runs */
  forgetStored(): void;
  /** somebody is there to see ports come and go; while the count is above zero the list is looked at every 2 s */
  watchPorts(): () => void;
  /** ends nothing: the run files stay open-ended for `run.continue`, unless `endRuns` */
  close(options?: { endRuns?: boolean }): Promise<void>;
}

export function createRunService(parts: RunServiceParts): RunService {
  const core = createOpenRuns(parts);
  const { clock, publish } = parts;
  const { folder, entries, standing, infoOf, underWay } = core;
  const exports = createExportJobs(parts.dataFolder, {
    newId: parts.newId,
    told: (progress) => publish('export.progress', progress),
    ...defined({ background: parts.background }),
  });
  const downloads = createDownloads(({ filePath }) => {
    if (filePath !== undefined) exports.discard(filePath);
  });
  const withUse = async (listing: Promise<PortInfo[]>): Promise<PortInfo[]> => {
    const used = new Map<string, string>();
    for (const { run } of entries.values()) {
      if (!run.isEnded && run.source.info.kind === 'serial') used.set(run.source.info.path, run.runId);
    }
    return (await listing).map((port) => {
      const inUseByRun = used.get(port.path);
      return inUseByRun === undefined ? port : { ...port, inUseByRun };
    });
  };

  const watch = createPortWatch(
    clock,
    () => withUse(parts.listPorts()),
    (ports) => publish('sources.changed', { ports }),
  );
  const handlers: RunHandlers = {
    ...startHandlers(core, withUse),
    ...handHandlers(core),
    ...recipeHandlers(core),
    ...lookHandlers(core, exports, downloads),
  };

  return {
    handlers,
    runs: () => [...entries.values()].map(infoOf),
    setGeometry(runId, left) {
      entries.get(runId)?.special.simulated?.setGeometry(left);
    },
    look(runId) {
      const entry = entries.get(runId);
      return entry === undefined ? undefined : { info: infoOf(entry), marks: entry.run.fold.marks, readings: entry.run.fold.readings() };
    },
    isCapturing: () => underWay().some(({ special }) => special.replay === undefined),
    async interrupted() {
      const under = new Set(underWay().map(({ run }) => run.runId));
      return (await folder.list(under)).filter(({ ended }) => !ended);
    },
    tellAnew() {
      for (const { run } of underWay()) run.tellAnew();
    },
    problems: () => standing.all(),
    dismissProblem: (key) => standing.clear(key),
    takeDownload(token) {
      const found = downloads.take(token);
      if (found?.filePath !== undefined) exports.fetched(found.filePath);
      return found;
    },
    clientLeft(clientId) {
      exports.clientLeft(clientId);
      for (const { run, watchers } of entries.values()) {
        if (watchers.delete(clientId)) run.watchLines(watchers.size > 0);
      }
    },
    forgetStored() {
      core.stored.forgetAll();
      for (const [runId, { run }] of entries) if (run.isEnded) entries.delete(runId);
    },
    watchPorts: () => watch.watch(),
    async close({ endRuns = false } = {}) {
      watch.stop();
      await Promise.all(
        underWay().map(async ({ run, special }) => {
          special.poll?.stop();
          await run.end(!endRuns);
          // a run that stays open is learned from when it ends
          if (endRuns) await parts.learned?.(run.header, run.fold.knowledge());
        }),
      );
      downloads.forgetAll();
      await exports.close();
    },
  };
}
