/** Commands that begin, go on with and end runs, and the list of what one can be begun from. */
import { lineShapes } from '../../shared/burner/scenario.ts';
import { scenarioList } from '../../shared/burner/scenarios/catalogue.ts';
import { findFuel } from '../../shared/combustion/fuel.ts';
import type { PortInfo } from '../../shared/ipc/run-documents.ts';
import type { RunInfo } from '../../shared/ipc/run-info.ts';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';
import { checkRecipe } from '../../shared/measurement/check-recipe.ts';
import { RUN_FORMAT, RUN_VERSION, type RunHeader } from '../../shared/measurement/run.ts';
import { encodeHeader } from '../../shared/measurement/run-format.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { pollTarget } from '../source/poll-driver.ts';
import { createReplaySource } from '../source/replay-source.ts';
import { beginSource, replayOf, resumeSource, type BegunSource } from './live/begin-run.ts';
import type { OpenRuns, RunHandlers, Special } from './open-runs.ts';
import { createTurns } from '../turns.ts';
import { recoverFallback } from './file/fallback.ts';
import { endStoredRun, lastMoment } from './live/run-end.ts';
import { measureRunFile, openRunFile } from './file/run-file.ts';
import { runsTexts } from '../../shared/words/host.ts';
import { defined } from '../../shared/defined.ts';

/** Runs captured at the same time. */
const MOST_RUNS = 4;
const WALL_TOLERANCE_MS = 1;
const LONGEST_BREAK_MS = 366 * 86_400_000;

export type StartHandlers = Pick<RunHandlers, 'source.list' | 'run.start' | 'run.continue' | 'run.end' | 'run.reconnect'>;

export function startHandlers(core: OpenRuns, withUse: (listing: Promise<PortInfo[]>) => Promise<PortInfo[]>): StartHandlers {
  const { parts, clock, fallbackFolder, folder, recipes, stored, entries, standing } = core;
  const { infoOf, changed, live, underWay, forgetEnded, newWriter, open, poll, foldSettings } = core;
  let starting = 0;
  /** going on with a run and closing it: two windows may say it at the same moment, and a run has one writer */
  const inTurn = createTurns();
  const isFull = (): boolean => underWay().length + starting >= MOST_RUNS;

  const specialOf = (begun: BegunSource): Special => {
    if (begun.kind === 'simulated') return { simulated: begun.source };
    if (begun.kind === 'typed') return { typed: begun.source };
    const { source } = begun;
    return { serial: source, reconnect: (path) => source.reconnect(path) };
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

  const goOn = async (runId: string): Promise<Result<RunInfo, Problem>> => {
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
      const awayMs = Math.round(clock.wallMs() - last.wallMs);
      // a clock that was wrong then or is wrong now says nothing about how long it was
      const missingMs = awayMs > LONGEST_BREAK_MS ? WALL_TOLERANCE_MS : Math.max(WALL_TOLERANCE_MS, awayMs);
      const originMs = last.timeMs + missingMs;
      await core.displayChecks.load();
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
  };

  const end = async (runId: string): Promise<Result<Record<string, never>, Problem>> => {
    const entry = entries.get(runId);
    if (entry !== undefined) {
      entry.special.poll?.stop();
      if (!entry.run.isEnded) {
        await entry.run.end(false);
        await parts.learned?.(entry.run.header, entry.run.fold.knowledge());
      }
      standing.clearRun(runId);
      forgetEnded();
      return ok({});
    }
    // one that was interrupted, and is not to be gone on with
    const path = folder.pathOf(runId);
    if (path === undefined) return err(problem('run-not-found'));
    await recoverFallback(fallbackFolder, runId, path).catch(() => 0);
    return endStoredRun(path);
  };

  return {
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
        await core.displayChecks.load();
        const begun = await beginSource(input.source, parts);
        if (!begun.ok) return begun;
        const { source } = begun.value;
        // Chosen by hand for a real port: its first figures count after one look at the display, as learned ones do.
        const chosen = recipe.value;
        const isToCompare =
          chosen !== undefined &&
          source.info.kind === 'serial' &&
          chosen.polling === undefined &&
          !core.displayChecks.isKnown(pollTarget(chosen, source.info).deviceId, chosen);
        const used = isToCompare ? undefined : (chosen ?? begun.value.recipe);
        const runId = parts.newId();
        const path = folder.pathOf(runId);
        if (path === undefined) return err(problem('internal', `run id ${runId}`));
        const known = input.visitId === undefined || source.info.kind !== 'serial' ? undefined : await parts.known?.(input.visitId);
        const header: RunHeader = {
          format: RUN_FORMAT,
          version: RUN_VERSION,
          runId,
          startWallMs: clock.wallMs(),
          zoneMinutes: clock.zoneMinutes(),
          source: source.info,
          ...defined({ recipe: used }),
          fuelId: input.fuelId ?? parts.settings().fuelId,
          ...defined({ typedAirC: input.typedAirC, setting: input.setting, visitId: input.visitId }),
          measuredWith: foldSettings(),
          ...defined({ known }),
          appVersion: parts.appVersion,
        };
        await folder.ensure().catch(() => undefined); // the writer says so when it can't write
        const writer = await newWriter(runId, path, 0);
        writer.append(encodeHeader(header));
        const entry = open({ header, source, special: specialOf(begun.value), writer, originMs: 0 });
        if (isToCompare) entry.run.choice.choose(chosen);
        entry.run.start();
        await poll(entry);
        changed(runId);
        return ok(infoOf(entry));
      } finally {
        starting--;
      }
    },

    'run.continue': ({ runId }) => inTurn(runId, () => goOn(runId)),

    'run.end': ({ runId }) => inTurn(runId, () => end(runId)),

    'run.reconnect'({ runId, path }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      const { reconnect } = entry.value.special;
      if (reconnect === undefined) return Promise.resolve(err(problem('request-invalid', runsTexts.noPort)));
      reconnect(path);
      return Promise.resolve(ok({}));
    },
  };
}
