/** Commands about how lines are understood: recipes in use and saved, asking the instrument, checks of the columns. */
import { LEAST_LINES } from '../../shared/lines/learning/proposal.ts';
import { createLineReader } from '../../shared/lines/reading/read-line.ts';
import { checkRecipe } from '../../shared/measurement/check-recipe.ts';
import type { LoggedLine } from '../../shared/pipeline/line-log.ts';
import { CONFIDENT, shownColumns } from '../../shared/pipeline/propose.ts';
import { columnReasons } from '../../shared/words/lines/learning.ts';
import { lineReason } from '../../shared/words/lines/line-reasons.ts';
import { problem } from '../../shared/problem.ts';
import { err, ok } from '../../shared/result.ts';
import { pollTarget } from '../source/poll-driver.ts';
import type { OpenRuns, RunHandlers } from './open-runs.ts';
import { lineReport } from './live/line-report.ts';
import { keepReread } from './stored/reread.ts';
import { shippedRecipes } from './shipped.ts';
import { runsTexts } from '../../shared/words/host.ts';

/** for one look at lines through a recipe in the making */
const PREVIEW_MS = 250;

export type RecipeHandlers = Pick<
  RunHandlers,
  | 'run.useRecipe'
  | 'run.allowPolling'
  | 'run.recipe'
  | 'run.reread'
  | 'run.trySpeeds'
  | 'run.check'
  | 'run.waveOff'
  | 'run.answerQuestion'
  | 'run.compareDisplay'
  | 'recipe.list'
  | 'recipe.save'
  | 'recipe.remove'
  | 'recipe.propose'
  | 'recipe.preview'
>;

export function recipeHandlers({
  background,
  folder,
  recipes,
  consents,
  displayChecks,
  stored,
  entries,
  infoOf,
  changed,
  live,
  poll,
}: OpenRuns): RecipeHandlers {
  async function linesOf(runId: string, count: number) {
    const entry = entries.get(runId);
    const logged = entry === undefined ? await stored.logged(runId, count) : ok(entry.run.fold.lastLines(count));
    return logged.ok ? ok(logged.value.map(({ number, line }) => ({ ...line, number }))) : logged;
  }

  /** runs whose comparison with the display is being saved */
  const comparing = new Set<string>();

  return {
    async 'run.useRecipe'({ runId, recipe }) {
      const entry = live(runId);
      if (!entry.ok) return entry;
      const checked = checkRecipe(recipe);
      if (!checked.ok) return checked;
      entry.value.run.choice.choose(checked.value);
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
        return err(problem('request-invalid', runsTexts.recipeAsksNothing));
      // the bytes may have changed while the person was reading them
      if (recipe.polling.command !== command) return err(problem('request-invalid', runsTexts.otherBytes));
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
      return entry === undefined ? stored.recipes(runId) : ok(entry.run.choice.recipes());
    },

    async 'run.reread'({ runId, recipe, keep }) {
      const known = entries.get(runId);
      if (known !== undefined && !known.run.isEnded) return err(problem('request-invalid', runsTexts.runGoesOn));
      const checked = checkRecipe(recipe);
      if (!checked.ok) return checked;
      const path = folder.pathOf(runId);
      if (path === undefined) return err(problem('run-not-found'));
      const reread = await stored.reread(runId, checked.value);
      if (!reread.ok) return reread;
      if (keep) {
        const kept = await keepReread(path, checked.value);
        if (!kept.ok) return kept;
        stored.forget(runId);
        // what is shown of it from now on is the run as it was read anew
        entries.delete(runId);
      }
      return ok({ ...reread.value, kept: keep });
    },

    'run.trySpeeds'({ runId }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      if (entry.value.special.serial === undefined) return Promise.resolve(err(problem('request-invalid', runsTexts.noPort)));
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

    'run.answerQuestion'({ runId, answers }) {
      const entry = live(runId);
      if (!entry.ok) return Promise.resolve(entry);
      if (infoOf(entry.value).question === undefined) return Promise.resolve(err(problem('request-invalid', runsTexts.nothingAsked)));
      if (!entry.value.run.choice.answer(answers)) return Promise.resolve(err(problem('request-invalid', runsTexts.noChannelLeft)));
      changed(runId);
      return Promise.resolve(ok(infoOf(entry.value)));
    },

    async 'run.compareDisplay'({ runId, agrees }) {
      const entry = live(runId);
      if (!entry.ok) return entry;
      const { run, special } = entry.value;
      const { trial } = run.choice;
      // A second window answers while the first answer is being saved: the first one counts, and the second is told so.
      if (trial === undefined || comparing.has(runId)) return err(problem('request-invalid', runsTexts.nothingToCompare));
      const { deviceId } = pollTarget(trial, special.serial?.info ?? run.source.info);
      comparing.add(runId);
      try {
        await (agrees ? displayChecks.remember(deviceId, trial) : displayChecks.forget(deviceId));
      } catch (cause) {
        return err(problem('disk-failed', (cause as NodeJS.ErrnoException).code));
      } finally {
        comparing.delete(runId);
      }
      // Other columns are on trial by now: the answer was not about them.
      if (run.choice.trial !== trial) return err(problem('request-invalid', runsTexts.nothingToCompare));
      run.choice.compare(agrees);
      changed(runId);
      return ok(infoOf(entry.value));
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
      const chosen = newer.length < LEAST_LINES ? lines.value : newer;
      const judged = await background.run('judgeLines', { lines: chosen, least: CONFIDENT });
      const copied = (columns: Parameters<typeof shownColumns>[0]) =>
        shownColumns(columns).columns.map((one) => ({ ...one, examples: [...one.examples], evidence: [...one.evidence] }));
      if (judged.kind === 'refuse')
        return ok({ proposals: [], refusal: { trouble: judged.trouble, columns: copied(judged.ruledOut), lines: judged.lineCount } });
      return ok({
        proposals: [judged.proposal, ...judged.others].map(({ recipe, confidence, reasons, columns, isOpen }) => ({
          recipe,
          confidence,
          reasons: [...reasons.map(lineReason), ...columnReasons(columns)],
          columns: copied(columns),
          isOpen,
        })),
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
}
