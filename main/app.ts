/**
 * The composition root: run service, settings and (with them) records behind one set of handlers, served to any number of windows.
 * It does not know which host it runs in.
 */
import { v7 as newId } from 'uuid';
import type { EventName, Handlers, Payload } from '../shared/ipc/contract.ts';
import { publish } from '../shared/ipc/server.ts';
import { problem } from '../shared/problem.ts';
import { err } from '../shared/result.ts';
import { isFinished } from '../shared/tuning/visit/visit-marks.ts';
import type { Visit } from '../shared/tuning/visit/visit.ts';
import { createAlarmService } from './alarms/alarm-service.ts';
import type { App, AppParts } from './app-parts.ts';
import { createRooms } from './alarms/rooms.ts';
import { createBackground } from './background/background.ts';
import { createBenchService } from './bench/bench-service.ts';
import { noLog } from './log/log.ts';
import { createOfficeService } from './office/office-service.ts';
import { noSecrets } from './office/secrets.ts';
import { isCopiedElsewhere } from './paths.ts';
import { createReportService } from './report/report-service.ts';
import { createRunService } from './runs/run-service.ts';
import { createDownloads } from './runs/stored/downloads.ts';
import { withGate } from './session/restore-gate.ts';
import { recipesOf } from './session/recipes-of.ts';
import { createRoles } from './session/roles.ts';
import { createSessionService, type Client } from './session/session-service.ts';
import { createStandingProblems } from './session/standing-problems.ts';
import { takeInFile } from './session/take-in-file.ts';
import { createWindows } from './session/windows.ts';
import { openSettings } from './settings/settings-file.ts';
import { recoverRestore } from './store/backup/restore.ts';
import { createRecords } from './store/records.ts';
import { hashRunFile } from './store/run-hash.ts';
import { isWorkPath, removeQuietly } from './store/work-folder.ts';
import { createKnownAppliances } from './visits/known-appliance.ts';
import type { VisitService } from './visits/visit-parts.ts';
import { createVisitService } from './visits/visit-service.ts';

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

  /** What the host itself does when something changed, after the windows were told. */
  const heard: { readonly [K in EventName]?: (payload: Payload<K>) => void } = {
    'run.changed': () => changed(),
    'visit.changed'({ visit }) {
      alarms.visitStored(visit);
      chosenIn(visit);
    },
    'visit.front': ({ stored }) => chosenIn(stored?.visit),
    'records.changed'({ what }) {
      office.recordsChanged();
      if (what !== 'documents') void rooms.lookAgain();
    },
  };
  const tellAll = <K extends EventName>(name: K, payload: Payload<K>): void => {
    for (const { transport, greeted } of clients.values()) if (greeted) publish(transport, name, payload);
    heard[name]?.(payload);
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
    ...{ raise, clear, windowClock },
  });
  const visits: VisitService = createVisitService({
    clock,
    settings: () => settings.current(),
    records,
    runs: runService,
    alarms: () => alarms.now(),
    publish: tellAll,
    raise: stand,
    clear,
    windowClock,
  });
  const rooms = createRooms(records, alarms);
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
  void rooms.readAll();
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

  const allHandlers: Handlers = {
    ...runService.handlers,
    ...records.handlers,
    ...reports.handlers,
    ...visits.handlers,
    ...bench.handlers,
    ...office.handlers,
    ...session.handlers,
    // which trial a mark comes to is known to the visits
    'run.mark'(input, caller) {
      const refusal = visits.markRefusal(input);
      return refusal === undefined ? runService.handlers['run.mark'](input, caller) : Promise.resolve(err(refusal));
    },
  };
  const handlers = withGate(allHandlers, () => records.isRestoring());
  let closing: Promise<void> | undefined;
  const windows = createWindows({
    clients,
    roles,
    handlers,
    tell: session.tell,
    failed: (command, failure) => log.failed(command, failure),
    watchPorts: () => runService.watchPorts(),
    left: (clientId) => runService.clientLeft(clientId),
    changed,
  });

  return {
    attach: windows.attach,
    windows: () => clients.size,
    isCapturing: () => runService.isCapturing(),
    takeDownload(token) {
      const found = recordDownloads.take(token);
      // long enough for a slow disk and a browser that asks where to
      if (found !== undefined) clock.after(10 * 60_000, () => forget(found.filePath));
      return found ?? runService.takeDownload(token);
    },
    reportPage: (token) => reports.page(token),
    openFile: (path) => takeInFile(path, dataFolder, recipesOf(handlers)),
    onChange(listener) {
      changeListeners.add(listener);
      return () => changeListeners.delete(listener);
    },
    close: (ended) => (closing ??= closeOnce(ended)),
  };

  async function closeOnce(ended: Parameters<App['close']>[0]): Promise<void> {
    windows.stopWatchingPorts();
    const hasInstrument = runService.runs().some(({ phase, source }) => phase !== 'ended' && ['serial', 'typed'].includes(source.kind));
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
