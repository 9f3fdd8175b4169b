/**
 * The composition root: run service, settings and (with them) records behind one set of handlers, served to any number of windows.
 * It does not know which host it runs in.
 */
import { v7 as newId } from 'uuid';
import type { Clock } from '../shared/clock.ts';
import type { Caller, EventName, Handlers, Payload } from '../shared/ipc/contract.ts';
import type { Settings } from '../shared/ipc/settings.ts';
import type { SourceChoice } from '../shared/ipc/run-commands.ts';
import type { HostInfo } from '../shared/ipc/session-commands.ts';
import { publish, serve } from '../shared/ipc/server.ts';
import type { LineRecipe } from '../shared/measurement/recipe.ts';
import type { Transport } from '../shared/ipc/transport.ts';
import { problem, type Problem } from '../shared/problem.ts';
import type { Result } from '../shared/result.ts';
import type { Visit } from '../shared/tuning/visit.ts';
import { isFinished } from '../shared/tuning/visit-marks.ts';
import { createAlarmService } from './alarms/alarm-service.ts';
import { createBackground, type Background } from './background/background.ts';
import { createBenchService } from './bench/bench-service.ts';
import { createDownloads, type Download } from './runs/stored/downloads.ts';
import { createRunService, type RunService } from './runs/run-service.ts';
import { isCopiedElsewhere } from './paths.ts';
import { createOfficeService } from './office/office-service.ts';
import { noSecrets, type Secrets } from './office/secrets.ts';
import { createReportService } from './report/report-service.ts';
import { noLog, type Log } from './log/log.ts';
import { createRecords } from './store/records.ts';
import { recoverRestore } from './store/backup/restore.ts';
import { isWorkPath, removeQuietly } from './store/work-folder.ts';
import { hashRunFile } from './store/run-hash.ts';
import { takeInFile, type TakenIn } from './session/take-in-file.ts';
import { withGate } from './session/restore-gate.ts';
import { createRoles, type Member } from './session/roles.ts';
import { createSessionService, type Client } from './session/session-service.ts';
import { createStandingProblems } from './session/standing-problems.ts';
import { openSettings } from './settings/settings-file.ts';
import { createKnownAppliances } from './visits/known-appliance.ts';
import { createVisitService, type VisitService } from './visits/visit-service.ts';
import type { RunServiceParts } from './runs/open-runs.ts';

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

/** open visits whose rooms are known at the start; there is seldom more than one */
const OPEN_VISITS = 40;

export function createApp({
  clock,
  dataFolder,
  version,
  host,
  platform,
  firstRun = 'none',
  takeUpload = () => undefined,
  createRuns = createRunService,
  log = noLog,
  printPdf,
  secrets = noSecrets,
  background = createBackground(),
  windowClock = clock,
  onSettings = () => undefined,
  ...ports
}: AppParts): App {
  background.listen?.((text) => log.said(text));
  const clients = new Map<string, Client>();
  const roles = createRoles();
  const changeListeners = new Set<() => void>();
  let stopWatchingPorts: (() => void) | undefined;

  const tellAll = <K extends EventName>(name: K, payload: Payload<K>): void => {
    for (const { transport, greeted } of clients.values()) if (greeted) publish(transport, name, payload);
    if (name === 'run.changed') changed();
    if (name === 'visit.changed') alarms.visitStored((payload as Payload<'visit.changed'>).visit);
    if (name === 'records.changed') office.recordsChanged();
    if (name === 'visit.front') chosenIn((payload as Payload<'visit.front'>).stored?.visit);
    if (name === 'visit.changed') chosenIn((payload as Payload<'visit.changed'>).visit);
    if (name === 'records.changed' && (payload as Payload<'records.changed'>).what !== 'documents') void lookAtRooms();
  };
  /** what the office knows of it comes while the technician goes to the burner */
  const chosenIn = (visit: Visit | undefined): void => {
    if (visit?.applianceId !== undefined && !isFinished(visit)) office.applianceChosen(visit.applianceId);
  };
  const changed = (): void => changeListeners.forEach((listener) => listener());
  const standing = createStandingProblems({
    wallMs: () => clock.wallMs(),
    raised: (one) => tellAll('problem.raised', one),
    cleared: (key) => tellAll('problem.cleared', { key }),
  });
  const { raise, stand, clear } = standing;

  // before anything in the folder is read
  recoverRestore(dataFolder);
  const settings = openSettings(dataFolder, clock);
  onSettings(settings.current());
  if (settings.atStart !== undefined) raise('settings', settings.atStart);
  if (isCopiedElsewhere(dataFolder)) raise('folder-copied', problem('folder-copied', dataFolder));
  const runService = createRuns({
    clock,
    dataFolder,
    appVersion: version,
    settings: () => settings.current(),
    publish(name, payload) {
      // sessions of the host hear of a run before the windows do
      if (name === 'live.batch') bench.hear(payload as Payload<'live.batch'>);
      tellAll(name, payload);
    },
    told(runId, news) {
      alarms.told(runId, news);
      visits.told(runId, news);
    },
    async known(visitId) {
      const found = await knownAppliances.of(visitId);
      if (found.ok) return found.value;
      // a run begins all the same
      if (found.error.code === 'file-damaged') raise('knowledge', found.error);
      return undefined;
    },
    async learned(header, knowledge) {
      const done = await knownAppliances.learn(header, knowledge);
      if (!done.ok && done.error.code !== 'not-found') raise('knowledge', done.error);
    },
    newId: () => newId(),
    background,
    windowClock,
    ...ports,
  });
  const alarms = createAlarmService({
    runInfo: (id) => runService.runs().find(({ runId }) => runId === id),
    isOnBench: (runId) => bench.uses(runId),
    publish: tellAll,
  });

  const forget = (filePath: string | undefined): void => {
    if (filePath !== undefined && isWorkPath(dataFolder, filePath)) removeQuietly(filePath);
  };
  const recordDownloads = createDownloads(({ filePath }) => forget(filePath));
  const records = createRecords({
    clock,
    dataFolder,
    appVersion: version,
    settings: () => settings.current(),
    newId: () => newId(),
    publish(name, payload) {
      const isExchanged = name === 'records.changed' && (payload as Payload<'records.changed'>).what === 'all';
      if (isExchanged) void bench.recordsChanged();
      tellAll(name, payload);
      if (name === 'visit.changed') visits.stored(payload as Payload<'visit.changed'>);
      if (isExchanged) void visits.recordsExchanged();
    },
    hashRun: (runId) => hashRunFile(dataFolder, runId),
    takeUpload,
    offerDownload: (download) => recordDownloads.offer(download),
    isCapturing: () => runService.isCapturing(),
    background,
    replaced() {
      const damaged = settings.reload();
      if (damaged !== undefined) raise('settings', damaged);
      runService.forgetStored();
      onSettings(settings.current());
      tellAll('settings.changed', settings.current());
    },
  });
  const knownAppliances = createKnownAppliances(records, {
    wallMs: () => clock.wallMs(),
    changed: () => tellAll('records.changed', { what: 'documents' }),
  });
  const bench = createBenchService({
    clock,
    newId: () => newId(),
    runs: () => runService.runs(),
    runHandlers: runService.handlers,
    records,
    publish: (payload) => tellAll('bench.changed', payload),
    raise,
    clear,
    windowClock,
  });
  const visits: VisitService = createVisitService({
    clock,
    settings: () => settings.current(),
    records,
    runs: runService,
    publish: tellAll,
    raise: stand,
    clear,
    windowClock,
  });
  const office = createOfficeService({
    clock,
    settings: () => settings.current(),
    records,
    publish: (state) => tellAll('office.changed', state),
    recordsChanged: (what) => tellAll('records.changed', { what }),
    visitsCame() {
      visits.earlierCame();
      tellAll('records.changed', { what: 'all' });
    },
    secrets,
  });
  const reports = createReportService({
    clock,
    dataFolder,
    appVersion: version,
    settings: () => settings.current(),
    newId: () => newId(),
    records,
    offerDownload: (download) => recordDownloads.offer(download),
    takeUpload,
    print: printPdf,
    background,
    recordsChanged: () => tellAll('records.changed', { what: 'all' }),
    runsUnderWay: () => runService.runs().flatMap(({ runId, phase }) => (phase === 'ended' ? [] : [runId])),
  });
  /** What is known of a room outlives a restart of the host; of a visit that was removed or exchanged nothing stays. */
  const lookAtRooms = async (): Promise<void> => {
    for (const id of alarms.visits()) {
      const got = await records.use(({ visits }) => visits.get(id));
      if (got.ok) alarms.visitStored(got.value.visit);
      else if (got.error.code === 'not-found') alarms.visitRemoved(id);
    }
  };
  const readRooms = async (): Promise<void> => {
    const listed = await records.use(({ visits }) => visits.list({ limit: OPEN_VISITS }));
    if (!listed.ok) return;
    for (const { id, status } of listed.value.visits) {
      const got = status === 'open' ? await records.use(({ visits }) => visits.get(id)) : undefined;
      if (got?.ok === true) alarms.visitStored(got.value.visit);
    }
  };
  void readRooms();
  void records.problems().then((found) => found.forEach((what) => raise(`records-${what.code}`, what)));

  const session = createSessionService({
    clock,
    dataFolder,
    version,
    host,
    platform,
    firstRun,
    log,
    clients,
    roles,
    settings,
    runs: runService,
    alarms,
    standing,
    offerDownload: (download) => recordDownloads.offer(download),
    settingsChanged(before) {
      tellAll('settings.changed', settings.current());
      onSettings(settings.current());
      void visits.settingsChanged(before);
      office.settingsChanged();
    },
  });

  let closing: Promise<void> | undefined;
  const commandHandlers = {
    ...runService.handlers,
    ...records.handlers,
    ...reports.handlers,
    ...visits.handlers,
    ...bench.handlers,
    ...office.handlers,
    ...session.handlers,
  };
  const handlers: Handlers = withGate(commandHandlers, () => records.isRestoring());

  const byHost: Caller = { clientId: 'host', role: 'operator' };
  const ownRecipes = {
    async list() {
      const listed = await handlers['recipe.list']({}, byHost);
      return listed.ok ? listed.value.recipes : [];
    },
    save: (recipe: LineRecipe) => handlers['recipe.save']({ recipe }, byHost),
  };

  return {
    attach(transport, member) {
      const { clientId } = member;
      clients.set(clientId, { transport, greeted: false });
      session.tell(roles.join(member));
      const stop = serve(
        transport,
        handlers,
        () => ({ clientId, role: roles.roleOf(clientId) }),
        (command, failure) => log.failed(command, failure),
      );
      stopWatchingPorts ??= runService.watchPorts();
      changed();
      return () => {
        if (!clients.delete(clientId)) return;
        stop();
        session.tell(roles.leave(clientId));
        runService.clientLeft(clientId);
        if (clients.size === 0) {
          stopWatchingPorts?.();
          stopWatchingPorts = undefined;
        }
        changed();
      };
    },
    windows: () => clients.size,
    isCapturing: () => runService.isCapturing(),
    takeDownload(token) {
      const found = recordDownloads.take(token);
      // long enough for a slow disk and a browser that asks where to
      if (found !== undefined) clock.after(10 * 60_000, () => forget(found.filePath));
      return found ?? runService.takeDownload(token);
    },
    reportPage: (token) => reports.page(token),
    openFile: (path) => takeInFile(path, dataFolder, ownRecipes),
    onChange(listener) {
      changeListeners.add(listener);
      return () => changeListeners.delete(listener);
    },
    close: (ended) => (closing ??= closeOnce(ended)),
  };

  async function closeOnce(ended: Parameters<App['close']>[0]): Promise<void> {
    stopWatchingPorts?.();
    const isInstrument = (kind: string): boolean => kind === 'serial' || kind === 'typed';
    const hasInstrument = runService.runs().some(({ phase, source }) => phase !== 'ended' && isInstrument(source.kind));
    await office.close();
    await bench.close();
    // what was just marked or read goes into its visit before the store is closed
    await visits.close();
    await runService.close({ endRuns: ended === 'by-person' || !hasInstrument });
    await background.close();
    recordDownloads.forgetAll();
    records.close();
    await log.close();
  }
}
