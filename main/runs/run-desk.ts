/**
 * The desk where every run is started, watched and ended: up to four at once, whoever looks on. A run belongs to the host, not to a
 * window. Hosts (the desktop shell, the loopback server, tests) hand in the world and publish what the desk says.
 */
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inletName } from '../../shared/burner/parts.ts';
import { lineShapes } from '../../shared/burner/scenario.ts';
import { scenarioList } from '../../shared/burner/scenarios/catalogue.ts';
import type { Clock } from '../../shared/clock.ts';
import { findFuel } from '../../shared/combustion/fuel.ts';
import type { Handlers, Payload } from '../../shared/ipc/contract.ts';
import type { PortInfo, runCommands, runEvents } from '../../shared/ipc/run-commands.ts';
import type { RunInfo, RunSummary } from '../../shared/ipc/run-info.ts';
import type { sessionEvents, StandingProblem } from '../../shared/ipc/session-commands.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import { LEAST_LINES } from '../../shared/lines/learn.ts';
import { createLineReader } from '../../shared/lines/read-line.ts';
import type { Mark } from '../../shared/measurement/mark.ts';
import { checkRecipe, type LineRecipe } from '../../shared/measurement/recipe.ts';
import { RUN_FORMAT, RUN_VERSION, type MeasuredWith, type RunHeader, type SerialSettings } from '../../shared/measurement/run.ts';
import { encodeHeader } from '../../shared/measurement/run-format.ts';
import type { LoggedLine } from '../../shared/pipeline/line-log.ts';
import { proposeRecipes } from '../../shared/pipeline/propose.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import type { SerialPortHandle } from '../source/serial-port.ts';
import { createReplaySource, type ReplaySource } from '../source/replay-source.ts';
import { pollTarget, startPolling, type PollDriver } from '../source/poll-driver.ts';
import type { SerialSource } from '../source/serial-source.ts';
import type { SimulatedSource } from '../source/simulated-source.ts';
import type { TypedSource } from '../source/typed-source.ts';
import { beginSource, replayOf, resumeSource, type BegunSource } from './begin-run.ts';
import { createDownloads, type Download } from './downloads.ts';
import { recoverFallback } from './fallback.ts';
import { lineReport, linesWithPlaces } from './line-report.ts';
import { createLiveRun, type LiveRun } from './live-run.ts';
import { createPortWatch } from './port-watch.ts';
import { createPollConsents } from './poll-consents.ts';
import { createRecipeBox } from './recipe-box.ts';
import { keepReread, storyOf } from './reread.ts';
import { createExportDesk } from './export-desk.ts';
import { exportKinds } from './run-export.ts';
import { endStoredRun, lastMoment } from './run-end.ts';
import { measureRunFile, openRunFile } from './run-file.ts';
import { createRunFolder } from './run-folder.ts';
import { createRunWriter, type RunWriter } from './run-writer.ts';
import { shippedRecipes } from './shipped.ts';
import { createStandingProblems } from './standing-problems.ts';
import { createStoredRuns } from './stored-runs.ts';

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
  /** between two batches to the windows, in the clock's time; a host with a fast clock makes it longer */
  readonly batchEveryMs?: number;
  /** where lines go when the data folder's disk refuses; the system's temporary folder */
  readonly fallbackFolder?: string;
}

export type { Download } from './downloads.ts';

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

/** Runs captured at the same time. */
const MOST_RUNS = 4;
/** ended runs whose trend stays at hand */
const MOST_ENDED = 4;
const BATCH_EVERY_MS = 100;
const WALL_TOLERANCE_MS = 1;
/** for one look at lines through a recipe in the making */
const PREVIEW_MS = 250;

type Special = {
  serial?: SerialSource;
  poll?: PollDriver | undefined;
  simulated?: SimulatedSource;
  typed?: TypedSource;
  replay?: ReplaySource;
  reconnect?: (path?: string) => void;
};
type Entry = { readonly run: LiveRun; readonly special: Special; readonly watchers: Set<string> };

/** What the chain takes from the settings; fixed when a run begins, so that a replay says the same. */
const foldSettingsOf = ({ bands, tolerances, settlingMode }: Settings): MeasuredWith => ({
  bands: { o2Percent: bands.o2Percent, coPpm: bands.coPpm, coFraction: bands.coShare, stackC: bands.stackK, airC: bands.airK },
  tolerances,
  mode: settlingMode,
});

export function createRunDesk(parts: RunDeskParts): RunDesk {
  const { clock, publish } = parts;
  const fallbackFolder = parts.fallbackFolder ?? tmpdir();
  const folder = createRunFolder(join(parts.dataFolder, 'runs'));
  const recipes = createRecipeBox(join(parts.dataFolder, 'recipes'), shippedRecipes);
  const consents = createPollConsents(join(parts.dataFolder, 'poll-consents.json'));
  const stored = createStoredRuns(folder, () => foldSettingsOf(parts.settings()));
  const entries = new Map<string, Entry>();
  const standing = createStandingProblems(clock, {
    raised: (found) => publish('problem.raised', found),
    cleared: (key) => publish('problem.cleared', { key }),
  });
  const exports = createExportDesk(join(parts.dataFolder, 'exports.part'), {
    newId: parts.newId,
    told: (progress) => publish('export.progress', progress),
  });
  const downloads = createDownloads(({ filePath }) => {
    if (filePath !== undefined) exports.discard(filePath);
  });
  const watch = createPortWatch(
    clock,
    () => withUse(parts.listPorts()),
    (ports) => publish('sources.changed', { ports }),
  );
  let starting = 0;

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

  const infoOf = ({ run, special }: Entry): RunInfo => {
    const { simulated, replay } = special;
    const info = run.info();
    if (simulated !== undefined) {
      info.simulator = { adjusters: simulated.adjusters().map((adjuster) => ({ ...adjuster })), firing: simulated.isFiring() };
    }
    const { polling } = run.fold.recipe ?? {};
    if (polling !== undefined && special.serial !== undefined) {
      const { sent = 0, answered = 0, timedOut = 0, late = 0, double = 0 } = special.poll?.counts ?? {};
      const { usualAnswerMs, state } = special.poll ?? {};
      info.polling = {
        command: polling.command,
        intervalMs: polling.intervalMs,
        allowed: special.poll !== undefined,
        sent,
        answered,
        timedOut,
        late,
        double,
        ...(usualAnswerMs === undefined ? {} : { usualAnswerMs }),
        isBackingOff: state === 'backing-off',
      };
    }
    if (replay !== undefined) {
      info.replay = replay.state();
      if (info.phase === 'running' && !info.replay.playing) info.phase = 'paused';
    }
    return info;
  };
  const changed = (runId: string): void => {
    const entry = entries.get(runId);
    if (entry !== undefined) publish('run.changed', infoOf(entry));
  };

  const live = (runId: string): Result<Entry, Problem> => {
    const entry = entries.get(runId);
    if (entry === undefined) return err(problem('run-not-found'));
    return entry.run.isEnded ? err(problem('run-ended')) : ok(entry);
  };
  const underWay = (): Entry[] => [...entries.values()].filter(({ run }) => !run.isEnded);
  const isFull = (): boolean => underWay().length + starting >= MOST_RUNS;
  /** Of ended runs only the last few stay in memory. */
  const forgetEnded = (): void => {
    const ended = [...entries.entries()].filter(([, { run }]) => run.isEnded);
    for (const [runId] of ended.slice(0, Math.max(0, ended.length - MOST_ENDED))) entries.delete(runId);
  };

  const diskProblem = (runId: string) => (found: Problem | undefined) => {
    if (found === undefined) standing.clear(`${runId}:disk`);
    else standing.raise(`${runId}:disk`, found, runId);
  };
  const newWriter = (runId: string, path: string, fromByte: number): Promise<RunWriter> =>
    createRunWriter(path, fromByte, { onProblem: diskProblem(runId), fallbackFolder, runId });

  type Opening = { header: RunHeader; source: LiveRun['source']; special: Special; writer: RunWriter | undefined; originMs: number };
  const open = ({ header, source, special, writer, originMs }: Opening): Entry => {
    const { runId } = header;
    const entry: Entry = {
      run: createLiveRun({
        clock,
        header,
        source,
        writer,
        foldSettings: foldSettingsOf(parts.settings()),
        originMs,
        originClockMs: clock.nowMs(),
        batchEveryMs: parts.batchEveryMs ?? BATCH_EVERY_MS,
        onBatch: (batch) => publish('live.batch', batch),
        judgeLine: (line) => special.poll?.judge(line),
        setBaud: special.serial === undefined ? undefined : (baud) => special.serial?.setBaud(baud),
        onLines: (lines, droppedCount) => publish('lines.batch', { runId, lines, droppedCount }),
        onChange: () => changed(runId),
        onProblem(kind, found) {
          if (found === undefined) standing.clear(`${runId}:${kind}`);
          else standing.raise(`${runId}:${kind}`, found, runId);
        },
      }),
      special,
      watchers: new Set(),
    };
    entries.set(runId, entry);
    forgetEnded();
    return entry;
  };
  const specialOf = (begun: BegunSource): Special => {
    if (begun.kind === 'simulated') return { simulated: begun.source };
    if (begun.kind === 'typed') return { typed: begun.source };
    const { source } = begun;
    return { serial: source, reconnect: (path) => source.reconnect(path) };
  };

  /** Asks the instrument when its recipe wants that and the user has agreed to these very bytes. */
  const poll = async ({ run, special }: Entry): Promise<void> => {
    special.poll?.stop();
    special.poll = undefined;
    const { serial } = special;
    const { recipe } = run.fold;
    const polling = recipe?.polling;
    if (serial === undefined || recipe === undefined || polling === undefined) return;
    const target = pollTarget(recipe, serial.info);
    const consent = await consents.find(target, polling.command);
    if (consent === undefined || run.isEnded || run.fold.recipe !== recipe) return;
    special.poll = startPolling({
      clock,
      recipe,
      polling,
      target,
      consent,
      // another device in its place is not the one that was agreed to
      connection: () =>
        run.isLost || pollTarget(recipe, serial.info).deviceId !== target.deviceId ? undefined : (run.fold.gaps.all.at(-1)?.toMs ?? 0),
      write: (bytes) => void serial.write(bytes),
      onChange: () => changed(run.runId),
    });
  };

  const findRecipe = async (wanted: string | LineRecipe | undefined): Promise<Result<LineRecipe | undefined, Problem>> => {
    if (wanted === undefined) return ok(undefined);
    if (typeof wanted !== 'string') return checkRecipe(wanted);
    const found = await recipes.find(wanted);
    return found === undefined ? err(problem('recipe-not-found', `'${wanted}'`)) : ok(found);
  };

  const startReplay = async (choice: { runId: string; speed: number }): Promise<Result<RunInfo, Problem>> => {
    const original = entries.get(choice.runId);
    const path = folder.pathOf(choice.runId);
    if (path === undefined) return err(problem('run-not-found'));
    await original?.run.writer?.flush();
    const file = await openRunFile(path);
    if (!file.ok) return file.error.code === 'file-not-found' ? err(problem('run-not-found')) : file;
    const { durationMs } = await measureRunFile(path);
    const { visitId, ...header } = file.value.header;
    void visitId; // a replay belongs to no visit
    const runId = parts.newId();
    const source = createReplaySource({
      clock,
      file: file.value,
      endMs: durationMs,
      speed: choice.speed,
      info: replayOf(header),
      feed: ({ timeMs, ...entry }) => entries.get(runId)?.run.record(entry, timeMs),
      onRestart: () => entries.get(runId)?.run.restart(),
      onChange: () => changed(runId),
    });
    const entry = open({ header: { ...header, runId }, source, special: { replay: source }, writer: undefined, originMs: 0 });
    entry.run.start();
    changed(runId);
    return ok(infoOf(entry));
  };

  const handlers: RunHandlers = {
    async 'source.list'() {
      const [ports, runs, known] = await Promise.all([withUse(parts.listPorts().catch(() => [])), folder.list(), recipes.list()]);
      return ok({
        ports,
        scenarios: scenarioList.map((scenario) => ({ ...scenario })),
        shapes: [...lineShapes],
        runs,
        recipes: known.map(({ name }) => name),
      });
    },

    async 'run.start'(input) {
      if (isFull()) return err(problem('run-limit'));
      if (input.fuelId !== undefined && findFuel(input.fuelId) === undefined) return err(problem('fuel-unknown', input.fuelId));
      starting++;
      try {
        if (input.source.kind === 'replay') return await startReplay(input.source);
        const recipe = await findRecipe(input.recipe);
        if (!recipe.ok) return recipe;
        const begun = await beginSource(input.source, parts);
        if (!begun.ok) return begun;
        const { source } = begun.value;
        const used = recipe.value ?? begun.value.recipe;
        const runId = parts.newId();
        const path = folder.pathOf(runId);
        if (path === undefined) return err(problem('internal', `run id ${runId}`));
        const header: RunHeader = {
          format: RUN_FORMAT,
          version: RUN_VERSION,
          runId,
          startWallMs: clock.wallMs(),
          zoneMinutes: clock.zoneMinutes(),
          source: source.info,
          ...(used === undefined ? {} : { recipe: used }),
          fuelId: input.fuelId ?? parts.settings().fuelId,
          ...(input.typedAirC === undefined ? {} : { typedAirC: input.typedAirC }),
          ...(input.setting === undefined ? {} : { setting: input.setting }),
          ...(input.visitId === undefined ? {} : { visitId: input.visitId }),
          measuredWith: foldSettingsOf(parts.settings()),
          appVersion: parts.appVersion,
        };
        await folder.ensure().catch(() => undefined); // the writer says so when it can't write
        const writer = await newWriter(runId, path, 0);
        writer.append(encodeHeader(header));
        const entry = open({ header, source, special: specialOf(begun.value), writer, originMs: 0 });
        entry.run.start();
        await poll(entry);
        changed(runId);
        return ok(infoOf(entry));
      } finally {
        starting--;
      }
    },

    async 'run.continue'({ runId }) {
      const known = entries.get(runId);
      if (known !== undefined && !known.run.isEnded) return ok(infoOf(known));
      if (isFull()) return err(problem('run-limit'));
      const path = folder.pathOf(runId);
      if (path === undefined) return err(problem('run-not-found'));
      starting++;
      try {
        await recoverFallback(fallbackFolder, runId, path).catch(() => 0);
        const file = await openRunFile(path);
        if (!file.ok) return file.error.code === 'file-not-found' ? err(problem('run-not-found')) : file;
        const { goodBytes, ended } = await measureRunFile(path);
        if (ended) return err(problem('run-ended'));
        const { header } = file.value;
        const last = await lastMoment(file.value);
        const missingMs = Math.max(WALL_TOLERANCE_MS, Math.round(clock.wallMs() - last.wallMs));
        const originMs = last.timeMs + missingMs;
        const begun = resumeSource(header.source, parts, originMs);
        if (!begun.ok) return begun;
        const writer = await newWriter(runId, path, goodBytes);
        entries.delete(runId);
        stored.forget(runId);
        const entry = open({ header, source: begun.value.source, special: specialOf(begun.value), writer, originMs });
        await entry.run.readBack(file.value.entries(), { reason: 'restarted', fromMs: last.timeMs });
        // a real burner stands as it was left; the simulated one is built anew
        const left = entry.run.fold.setting();
        entry.run.start();
        if (left !== undefined) entry.special.simulated?.set(left);
        await poll(entry);
        changed(runId);
        return ok(infoOf(entry));
      } finally {
        starting--;
      }
    },

    async 'run.end'({ runId }) {
      const entry = entries.get(runId);
      if (entry !== undefined) {
        entry.special.poll?.stop();
        if (!entry.run.isEnded) await entry.run.end(false);
        standing.clearRun(runId);
        forgetEnded();
        return ok({});
      }
      // one that was interrupted, and is not to be gone on with
      const path = folder.pathOf(runId);
      if (path === undefined) return err(problem('run-not-found'));
      await recoverFallback(fallbackFolder, runId, path).catch(() => 0);
      return endStoredRun(path);
    },

    'run.reconnect'({ runId, path }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { reconnect } = entry.value.special;
      if (reconnect === undefined) return Promise.resolve(err(problem('request-invalid', 'This source has no port.')));
      reconnect(path);
      return Promise.resolve(ok({}));
    },

    'run.mark'({ runId, body, timeMs, setsSimulator }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { run, special } = entry.value;
      const now = run.timeMs();
      const mark: Mark = { id: parts.newId(), timeMs: Math.min(Math.max(timeMs ?? now, 0), now), body };
      if (setsSimulator === true && body.kind === 'adjustment') special.simulated?.set(body.setting);
      run.record({ kind: 'mark', mark });
      changed(runId);
      return Promise.resolve(ok(mark));
    },

    'run.editMark'({ runId, edit }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { run } = entry.value;
      if (!run.fold.marks.some(({ id }) => id === edit.markId)) return Promise.resolve(err(problem('not-found', 'There is no such mark.')));
      run.record({ kind: 'edit', edit });
      changed(runId);
      return Promise.resolve(ok({}));
    },

    'run.takeReading'({ runId }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { run } = entry.value;
      const readingId = parts.newId();
      run.record({ kind: 'take', readingId });
      const taken = run.fold.lastTaken;
      return Promise.resolve(taken?.id === readingId ? ok(taken) : err(problem('no-samples')));
    },

    'run.typeValues'({ runId, values }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { typed } = entry.value.special;
      if (typed === undefined)
        return Promise.resolve(err(problem('request-invalid', 'Values are typed into a run from the display only.')));
      if (Object.keys(values).length === 0) return Promise.resolve(err(problem('value-missing')));
      typed.type(values);
      return Promise.resolve(ok({}));
    },

    'run.change'({ runId, fuelId, typedAirC }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      if (fuelId !== undefined && findFuel(fuelId) === undefined) return Promise.resolve(err(problem('fuel-unknown', fuelId)));
      entry.value.run.record({
        kind: 'change',
        change: { ...(fuelId !== undefined && { fuelId }), ...(typedAirC !== undefined && { typedAirC }) },
      });
      changed(runId);
      return Promise.resolve(ok(infoOf(entry.value)));
    },

    async 'run.useRecipe'({ runId, recipe }) {
      const entry = live(runId);
      if (!entry.ok) return entry;
      const checked = checkRecipe(recipe);
      if (!checked.ok) return checked;
      entry.value.run.useRecipe(checked.value);
      await poll(entry.value);
      changed(runId);
      return ok(infoOf(entry.value));
    },

    async 'run.allowPolling'({ runId, allowed, command }) {
      const entry = live(runId);
      if (!entry.ok) return entry;
      const { run, special } = entry.value;
      const { recipe } = run.fold;
      if (special.serial === undefined || recipe?.polling === undefined)
        return err(problem('request-invalid', 'This recipe asks nothing.'));
      // the bytes may have changed while the person was reading them
      if (recipe.polling.command !== command) return err(problem('request-invalid', 'These are not the bytes that the recipe sends.'));
      const target = pollTarget(recipe, special.serial.info);
      try {
        await (allowed ? consents.allow({ ...target, command }) : consents.withdraw(target));
      } catch (cause) {
        return err(problem('disk-failed', (cause as NodeJS.ErrnoException).code));
      }
      await poll(entry.value);
      changed(runId);
      return ok(infoOf(entry.value));
    },

    async 'run.recipe'({ runId }) {
      const entry = entries.get(runId);
      if (entry !== undefined) return ok(entry.run.recipes());
      const opened = await stored.open(runId);
      if (!opened.ok) return opened;
      const { recipe } = opened.value.fold;
      return ok({ ...(recipe === undefined ? {} : { recipe }), earlier: [...opened.value.earlier] });
    },

    async 'run.reread'({ runId, recipe, keep }) {
      const known = entries.get(runId);
      if (known !== undefined && !known.run.isEnded)
        return err(problem('request-invalid', 'This run goes on; use the recipe from now on.'));
      const checked = checkRecipe(recipe);
      if (!checked.ok) return checked;
      const path = folder.pathOf(runId);
      if (path === undefined) return err(problem('run-not-found'));
      const before = await stored.read(runId, 'captured');
      if (!before.ok) return before;
      const after = await stored.read(runId, checked.value);
      if (!after.ok) return after;
      if (keep) {
        const kept = await keepReread(path, checked.value);
        if (!kept.ok) return kept;
        stored.forget(runId);
        // what is shown of it from now on is the run as it was read anew
        entries.delete(runId);
      }
      return ok({ before: storyOf(before.value.fold), after: storyOf(after.value.fold), kept: keep });
    },

    'run.trySpeeds'({ runId }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      if (entry.value.special.serial === undefined) return Promise.resolve(err(problem('request-invalid', 'This source has no port.')));
      entry.value.run.trySpeeds();
      return Promise.resolve(ok(infoOf(entry.value)));
    },

    'run.check'({ runId, step }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { watches } = entry.value.run;
      if (step === 'start') watches.startCheck();
      else if (step === 'warm') watches.startWarming();
      else watches.stopCheck();
      changed(runId);
      return Promise.resolve(ok(infoOf(entry.value)));
    },

    'run.waveOff'({ runId, notice }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      entry.value.run.watches.waveOff(notice);
      changed(runId);
      return Promise.resolve(ok(infoOf(entry.value)));
    },

    'run.answerQuestion'({ runId, answer }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const question = entry.value.run.proposals?.question;
      if (question === undefined) return Promise.resolve(err(problem('request-invalid', 'Nothing was asked.')));
      entry.value.run.useRecipe(question.recipes[answer], 1);
      return Promise.resolve(ok(infoOf(entry.value)));
    },

    async 'run.history'({ runId, fromMs, toMs, buckets, partly }) {
      const entry = entries.get(runId);
      if (entry !== undefined) return ok(entry.run.trace.history(entry.run.fold, fromMs, toMs, buckets));
      if (partly === true) {
        const seen = await stored.look(runId);
        if (!seen.ok) return seen;
        const { told, trace, progress } = seen.value;
        return ok({ ...trace.history(told, fromMs, toMs, buckets), ...(progress !== undefined && { progress }) });
      }
      const opened = await stored.open(runId);
      return opened.ok ? ok(opened.value.trace.history(opened.value.fold, fromMs, toMs, buckets)) : opened;
    },

    async 'run.lines'({ runId, count, watch: isWatched }, { clientId }) {
      const entry = entries.get(runId);
      if (entry === undefined) {
        const opened = await stored.open(runId);
        return opened.ok ? ok({ lines: linesWithPlaces(opened.value.fold.lastLines(count), opened.value.fold.recipe) }) : opened;
      }
      if (isWatched) entry.watchers.add(clientId);
      else entry.watchers.delete(clientId);
      entry.run.watchLines(entry.watchers.size > 0);
      return ok({ lines: linesWithPlaces(entry.run.fold.lastLines(count), entry.run.fold.recipe) });
    },

    async 'run.export'({ runId, form, jobId = parts.newId() }, { clientId }) {
      const entry = entries.get(runId);
      await entry?.run.writer?.flush();
      const info = entry?.run.source.info;
      // a replay has no file of its own
      const fileId = info?.kind === 'replay' ? info.runId : runId;
      const path = folder.pathOf(fileId);
      if (path === undefined) return err(problem('run-not-found'));
      const file = await openRunFile(path);
      if (!file.ok) return file.error.code === 'file-not-found' ? err(problem('run-not-found')) : file;
      const baseName = `flueside-${new Date(file.value.header.startWallMs).toISOString().slice(0, 16).replace(/[:T]/g, '-')}-${fileId.slice(-6)}`;
      const offer = (download: Download) => ok({ fileName: download.fileName, download: downloads.offer(download) });
      if (form === 'run') return offer({ fileName: `${baseName}.run`, mime: 'application/octet-stream', filePath: path });
      const settings = parts.settings();
      const made = await exports.make({ jobId, clientId }, form, {
        file: file.value,
        isReplay: info?.kind === 'replay',
        settings,
        foldSettings: foldSettingsOf(settings),
      });
      if (!made.ok) return made;
      const { ending, mime } = exportKinds[form];
      return offer({ fileName: `${baseName}.${ending}`, mime, filePath: made.value });
    },
    'run.stopExport'({ jobId }) {
      exports.stop(jobId);
      return Promise.resolve(ok({}));
    },

    'simulator.adjust'({ runId, name, value }) {
      return Promise.resolve(withSimulator(runId, (simulated) => simulated.adjust(name, value)));
    },
    'simulator.part'({ runId, part, value, overS = 0 }) {
      return Promise.resolve(withSimulator(runId, (simulated) => simulated.setPart(part, value, overS * 1000)));
    },
    'simulator.parts'({ runId }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { simulated } = entry.value.special;
      if (simulated === undefined) return Promise.resolve(err(notSimulated));
      const { inlet, amounts, switches } = simulated.parts();
      return Promise.resolve(ok({ amounts: { ...amounts }, switches: { ...switches }, inlet: inletName(inlet) }));
    },
    'simulator.look'({ runId }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { simulated } = entry.value.special;
      return Promise.resolve(simulated === undefined ? err(notSimulated) : ok(simulated.look()));
    },
    'replay.control'({ runId, ...change }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { replay } = entry.value.special;
      if (replay === undefined) return Promise.resolve(err(problem('request-invalid', 'This run is not a replay.')));
      replay.control(change);
      return Promise.resolve(ok({}));
    },

    async 'recipe.list'() {
      const [known, earlier] = await Promise.all([recipes.list(), recipes.earlier()]);
      return ok({ recipes: known, shipped: shippedRecipes.map(({ name }) => name), earlier });
    },
    async 'recipe.save'({ recipe }) {
      const saved = await recipes.save(recipe);
      return saved.ok ? ok({ revision: saved.value }) : saved;
    },
    async 'recipe.remove'({ name }) {
      const removed = await recipes.remove(name);
      return removed.ok ? ok({}) : removed;
    },
    async 'recipe.propose'({ runId }) {
      const lines = await linesOf(runId, 500);
      if (!lines.ok) return lines;
      // what came before the newest gap may have been another speed or another instrument
      const sinceMs = entries.get(runId)?.run.fold.gaps.all.at(-1)?.toMs ?? 0;
      const newer = lines.value.filter(({ timeMs }) => timeMs >= sinceMs);
      const { proposals, question } = proposeRecipes(newer.length < LEAST_LINES ? lines.value : newer);
      return ok({
        proposals,
        ...(question === undefined ? {} : { question: { text: question.text, why: question.why, answers: [...question.answers] } }),
      });
    },
    async 'recipe.preview'({ runId, recipe, count }) {
      const checked = checkRecipe(recipe);
      if (!checked.ok) return checked;
      const lines = await linesOf(runId, count);
      if (!lines.ok) return lines;
      const reader = createLineReader(checked.value);
      // A pattern may be slow on long lines; the other runs must not wait for it.
      const endMs = performance.now() + PREVIEW_MS;
      const reads: LoggedLine[] = [];
      for (const { number, ...line } of lines.value) {
        if (performance.now() > endMs) break;
        reads.push({ number, line, read: reader.readWithSpans(line) });
      }
      return ok({
        lines: reads.map(lineReport),
        understood: reads.filter(({ read }) => read?.kind === 'sample').length,
        rejected: reads.filter(({ read }) => read?.kind === 'rejected').length,
      });
    },
  };

  const notSimulated = problem('request-invalid', 'This run is not simulated.');
  function withSimulator(
    runId: string,
    change: (simulated: SimulatedSource) => Result<unknown, Problem>,
  ): Result<Record<string, never>, Problem> {
    const entry = live(runId);
    if (!entry.ok) return entry;
    const { simulated } = entry.value.special;
    if (simulated === undefined) return err(notSimulated);
    const done = change(simulated);
    if (!done.ok) return done;
    changed(runId);
    return ok({});
  }
  async function linesOf(runId: string, count: number) {
    const entry = entries.get(runId);
    const opened = entry === undefined ? await stored.open(runId) : ok(entry.run);
    if (!opened.ok) return opened;
    return ok(opened.value.fold.lastLines(count).map(({ number, line }) => ({ ...line, number })));
  }

  return {
    handlers,
    runs: () => [...entries.values()].map(infoOf),
    isCapturing: () => underWay().some(({ special }) => special.replay === undefined),
    async interrupted() {
      const under = new Set(underWay().map(({ run }) => run.runId));
      return (await folder.list()).filter(({ runId, ended }) => !ended && !under.has(runId));
    },
    problems: () => standing.all(),
    dismissProblem: (key) => standing.clear(key),
    takeDownload: (token) => downloads.take(token),
    clientLeft(clientId) {
      exports.clientLeft(clientId);
      for (const { run, watchers } of entries.values()) {
        if (watchers.delete(clientId)) run.watchLines(watchers.size > 0);
      }
    },
    watchPorts: () => watch.watch(),
    async close({ endRuns = false } = {}) {
      watch.stop();
      await Promise.all(
        underWay().map(({ run, special }) => {
          special.poll?.stop();
          return run.end(!endRuns);
        }),
      );
      downloads.forgetAll();
      await exports.close();
    },
  };
}
