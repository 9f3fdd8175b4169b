/** What a person does, as commands. Answers go to the store; a refusal becomes an alert, never a silent nothing. */
import type { Client } from '../../shared/ipc/client.ts';
import type { CallInput, CommandName, Output } from '../../shared/ipc/contract.ts';
import type { SettingsPatch } from '../../shared/ipc/settings.ts';
import type { Mark, MarkBody } from '../../shared/measurement/mark.ts';
import type { Reading } from '../../shared/measurement/state.ts';
import { live } from '../../shared/words/tune/live.ts';
import { progress } from '../../shared/words/progress.ts';
import { readinessOf } from '../state/readiness.ts';
import { runningTrialOf } from '../state/selectors.ts';
import type { AppStore } from '../state/store.ts';
import { defined } from '../../shared/defined.ts';

export type Actions = ReturnType<typeof createActions>;

export type MarkOptions = {
  timeMs?: number | undefined;
  setsSimulator?: boolean | undefined;
  trialId?: string | undefined;
  trialChanged?: (() => void) | undefined;
};

export function createActions(client: Client, store: AppStore) {
  const state = () => store.getState();
  async function ask<K extends CommandName>(name: K, input: CallInput<K>): Promise<Output<K> | undefined> {
    const result = await client.call(name, input);
    if (result.ok) return result.value;
    state().commandFailed(result.error);
    return undefined;
  }
  const openRun = (): string | undefined => state().runId;
  /** sources that the host has been asked to begin with, and has not answered yet */
  const beginning = new Set<string>();

  return {
    ask,
    /** @returns whether they were changed; why not is said */
    async changeSettings(patch: SettingsPatch): Promise<boolean> {
      const settings = await ask('settings.change', { patch });
      if (settings !== undefined) state().settingsChanged(settings);
      return settings !== undefined;
    },
    /** A second press before the host has answered means the same run, not another one; another source may be begun meanwhile. */
    async startRun(input: CallInput<'run.start'>): Promise<boolean> {
      const asked = JSON.stringify(input.source);
      if (beginning.has(asked)) return false;
      beginning.add(asked);
      // a run that is begun during a visit belongs to it; an instrument on the bench does not
      const visit = state().visit;
      const isPractice = input.source.kind === 'simulated' || input.source.kind === 'replay';
      const ofVisit =
        visit === undefined || state().workspace === 'bench' || (isPractice && visit.kind !== 'training') ? {} : { visitId: visit.id };
      const info = await ask('run.start', { ...ofVisit, ...input }).finally(() => beginning.delete(asked));
      if (info === undefined) return false;
      state().runChanged(info);
      state().runChosen(info.runId);
      state().panelOpened(undefined);
      return true;
    },
    async goOn(runId: string): Promise<void> {
      const info = await ask('run.continue', { runId });
      if (info === undefined) return;
      state().interruptedLeft(runId);
      state().runChanged(info);
      state().runChosen(info.runId);
    },
    async endRun(): Promise<void> {
      const runId = openRun();
      if (runId !== undefined) await ask('run.end', { runId });
    },
    /** @param options `trialId`: the trial it is typed for; `trialChanged` is called instead of an alert when it would come to another one */
    async mark(body: MarkBody, options: MarkOptions = {}): Promise<Mark | undefined> {
      const runId = openRun();
      if (runId === undefined) return undefined;
      const timeMs = options.timeMs === undefined ? undefined : Math.round(options.timeMs);
      const made = await client.call('run.mark', {
        runId,
        body,
        ...defined({ timeMs, setsSimulator: options.setsSimulator, trialId: options.trialId }),
      });
      if (!made.ok) {
        if (made.error.code === 'trial-changed' && options.trialChanged !== undefined) options.trialChanged();
        else state().commandFailed(made.error);
        return undefined;
      }
      state().markMade(runId, made.value);
      return made.value;
    },
    async undoMark(): Promise<void> {
      const runId = openRun();
      const last = runId === undefined ? undefined : state().runs[runId]?.marks.at(-1);
      if (runId === undefined || last === undefined) return state().saidChanged(live.nothingToUndo);
      const edit = { kind: 'undone', markId: last.id } as const;
      const done = await ask('run.editMark', { runId, edit });
      if (done === undefined) return;
      state().markEdited(runId, edit);
      state().saidChanged(live.undone);
    },
    async takeReading(): Promise<Reading | undefined> {
      const runId = openRun();
      if (runId === undefined) return undefined;
      const record = state().runs[runId];
      const ready = record === undefined ? 'none' : readinessOf(record, runningTrialOf(state()));
      const reading = await ask('run.takeReading', { runId });
      if (reading !== undefined) state().readingTaken(runId, reading, ready);
      return reading;
    },
    /** The file goes to the browser's own downloads; its address works once. */
    async exportRun(
      runId: string,
      form: 'run' | 'csv' | 'json' | 'text',
      save: (address: string, fileName: string) => void,
    ): Promise<void> {
      const jobId = crypto.randomUUID();
      state().exportBegan({ jobId, form });
      const ready = await client.call('run.export', { runId, form, jobId });
      state().exportOver(jobId);
      if (ready.ok) save(ready.value.download, ready.value.fileName);
      else if (ready.error.code === 'export-stopped') state().saidChanged(progress.stopped);
      else state().commandFailed(ready.error);
    },
  };
}
