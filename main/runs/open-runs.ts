/** What all commands of the run service share: the runs that are here, how they are opened and told, and what lies on the disk. */
import type { SettlingKnowledge } from '../../shared/measurement/knowledge.ts';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Clock } from '../../shared/clock.ts';
import type { Handlers, Payload } from '../../shared/ipc/contract.ts';
import type { runCommands, runEvents } from '../../shared/ipc/run-commands.ts';
import type { PortInfo } from '../../shared/ipc/run-documents.ts';
import type { RunInfo } from '../../shared/ipc/run-info.ts';
import type { sessionEvents } from '../../shared/ipc/session-commands.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import type { MeasuredWith, RunHeader, SerialSettings } from '../../shared/measurement/run.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { inThisThread, type Background } from '../background/background.ts';
import type { SerialPortHandle } from '../source/serial-port.ts';
import type { ReplaySource } from '../source/replay-source.ts';
import { pollTarget, startPolling, type PollDriver } from '../source/poll-driver.ts';
import type { SerialSource } from '../source/serial-source.ts';
import type { SimulatedSource } from '../source/simulated-source.ts';
import type { TypedSource } from '../source/typed-source.ts';
import { lookInBackground } from './stored/look-in-background.ts';
import { createLiveRun } from './live/live-run.ts';
import { type LiveRun, type RunNews } from './live/live-run-parts.ts';
import { createDisplayChecks } from './live/display-checks.ts';
import { createPollConsents } from './live/poll-consents.ts';
import { createRecipeStore } from './recipe-store.ts';
import { createRunFolder } from './file/run-folder.ts';
import { createRunWriter, type RunWriter } from './file/run-writer.ts';
import { shippedRecipes } from './shipped.ts';
import { createStandingProblems } from './live/standing-problems.ts';
import { createAskStored } from './stored/ask-stored.ts';
import { defined } from '../../shared/defined.ts';

export type RunCommandName = keyof typeof runCommands;
export type RunEventName = keyof typeof runEvents | Extract<keyof typeof sessionEvents, 'problem.raised' | 'problem.cleared'>;
export type RunHandlers = Pick<Handlers, RunCommandName>;

export interface RunServiceParts {
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
  /** what happens in a run, inside the host; must not throw */
  readonly told?: ((runId: string, news: RunNews) => void) | undefined;
  /** what earlier visits have taught of the appliance of this one; must not throw */
  readonly known?: ((visitId: string) => Promise<SettlingKnowledge | undefined>) | undefined;
  /** a run has ended: what it has taught; must not throw */
  readonly learned?: ((header: RunHeader, knowledge: SettlingKnowledge | undefined) => Promise<void>) | undefined;
  /** UUIDv7 */
  readonly newId: () => string;
  /** the time of who sits before the window, where the host's own time goes faster; absent: the same */
  readonly windowClock?: Clock | undefined;
  /** between two batches to the windows, in the window's time */
  readonly batchEveryMs?: number;
  /** where stored runs are read and exported */
  readonly background?: Background | undefined;
  /** where lines go when the data folder's disk refuses; the system's temporary folder */
  readonly fallbackFolder?: string;
}

/** ended runs whose trend stays at hand */
const MOST_ENDED = 4;
const BATCH_EVERY_MS = 100;

export type Special = {
  serial?: SerialSource;
  poll?: PollDriver | undefined;
  simulated?: SimulatedSource;
  typed?: TypedSource;
  replay?: ReplaySource;
  reconnect?: (path?: string) => void;
};
export type Entry = { readonly run: LiveRun; readonly special: Special; readonly watchers: Set<string> };

export type Opening = {
  header: RunHeader;
  source: LiveRun['source'];
  special: Special;
  writer: RunWriter | undefined;
  originMs: number;
};
export type OpenRuns = ReturnType<typeof createOpenRuns>;

/** What the chain takes from the settings; fixed when a run begins, so that a replay says the same. */
const foldSettingsOf = ({ bands, tolerances, settlingMode }: Settings): MeasuredWith => ({
  bands,
  tolerances,
  mode: settlingMode,
});

export function createOpenRuns(parts: RunServiceParts) {
  const { clock, publish, background = inThisThread } = parts;
  const fallbackFolder = parts.fallbackFolder ?? tmpdir();
  const runsFolder = join(parts.dataFolder, 'runs');
  const folder = createRunFolder(runsFolder, background);
  const recipes = createRecipeStore(join(parts.dataFolder, 'recipes'), shippedRecipes);
  const consents = createPollConsents(join(parts.dataFolder, 'poll-consents.json'));
  const displayChecks = createDisplayChecks(join(parts.dataFolder, 'display-checks.json'));
  void displayChecks.load();
  const foldSettings = (): MeasuredWith => foldSettingsOf(parts.settings());
  const stored = createAskStored(background, runsFolder, foldSettings);
  const entries = new Map<string, Entry>();
  const standing = createStandingProblems(clock, {
    raised: (found) => publish('problem.raised', found),
    cleared: (key) => publish('problem.cleared', { key }),
  });

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
        ...defined({ usualAnswerMs }),
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
    if (entry === undefined) return;
    publish('run.changed', infoOf(entry));
    parts.told?.(runId, { kind: 'changed' });
  };

  const live = (runId: string): Result<Entry, Problem> => {
    const entry = entries.get(runId);
    if (entry === undefined) return err(problem('run-not-found'));
    return entry.run.isEnded ? err(problem('run-ended')) : ok(entry);
  };
  const underWay = (): Entry[] => [...entries.values()].filter(({ run }) => !run.isEnded);
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

  const open = ({ header, source, special, writer, originMs }: Opening): Entry => {
    const { runId } = header;
    const entry: Entry = {
      run: createLiveRun({
        clock,
        windowClock: parts.windowClock ?? clock,
        header,
        source,
        writer,
        foldSettings: foldSettings(),
        originMs,
        originClockMs: clock.nowMs(),
        batchEveryMs: parts.batchEveryMs ?? BATCH_EVERY_MS,
        onBatch: (batch) => publish('live.batch', batch),
        isDisplayKnown:
          special.serial === undefined
            ? undefined
            : (recipe) => displayChecks.isKnown(pollTarget(recipe, special.serial?.info ?? source.info).deviceId, recipe),
        judgeLine: (line) => special.poll?.judge(line),
        // without a thread of its own it is done here and now
        lookAtLines: parts.background && lookInBackground(parts.background, (bug) => standing.raise(`${runId}:source`, bug, runId)),
        setBaud: special.serial === undefined ? undefined : (baud) => special.serial?.setBaud(baud),
        onLines: (lines, droppedCount) => publish('lines.batch', { runId, lines, droppedCount }),
        onChange: () => changed(runId),
        onNews: (news) => parts.told?.(runId, news),
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

  return {
    parts,
    background,
    clock,
    fallbackFolder,
    folder,
    recipes,
    consents,
    displayChecks,
    stored,
    entries,
    standing,
    foldSettings,
    infoOf,
    changed,
    live,
    underWay,
    forgetEnded,
    newWriter,
    open,
    poll,
  };
}
