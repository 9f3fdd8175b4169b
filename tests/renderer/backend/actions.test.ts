/** What a person's press becomes: the command, whose run it is, and what is told when the host refuses. */
import { expect, it, vi } from 'vitest';
import { createActions } from '../../../renderer/backend/actions.ts';
import { recordOf } from '../../../renderer/state/run-record.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import type { Client } from '../../../shared/ipc/client.ts';
import type { Mark } from '../../../shared/measurement/mark.ts';
import { problem } from '../../../shared/problem.ts';
import { err, ok } from '../../../shared/result.ts';
import { live } from '../../../shared/words/tune/live.ts';
import { progress } from '../../../shared/words/progress.ts';
import { infoOf } from '../helpers/records.ts';

/** @param answer what the host says to every command */
function window(answer: unknown) {
  const store = createAppStore();
  const call = vi.fn((_command: string, _input: unknown) => Promise.resolve(answer));
  return { store, call, actions: createActions({ call } as unknown as Client, store) };
}
const refused = err(problem('not-allowed'));
const smoke: Mark = { id: 'm1', timeMs: 5000, body: { kind: 'smoke', spots: [{ number: 1 }] } };
const shownRun = { runs: { 'run-1': recordOf(infoOf()) }, runId: 'run-1' };

it('hands on what the host answers, and raises an alert where it refuses', async () => {
  const { actions, store } = window(ok({ ports: [] }));
  expect(await actions.ask('source.list', {})).toEqual({ ports: [] });
  expect(store.getState().answer).toBeUndefined();
  const no = window(refused);
  expect(await no.actions.ask('source.list', {})).toBeUndefined();
  await no.actions.ask('source.list', {});
  expect(no.store.getState().answer).toMatchObject({ problem: { code: 'not-allowed' }, count: 2 });
});

it.each([
  ['an instrument in a visit', { kind: 'service' }, 'tune', { kind: 'serial', path: 'COM4' }, 'visit-1'],
  ['practice in a visit that is none', { kind: 'service' }, 'tune', { kind: 'simulated' }, undefined],
  ['practice in a training visit', { kind: 'training' }, 'tune', { kind: 'simulated' }, 'visit-1'],
  ['an instrument on the bench beside a visit', { kind: 'service' }, 'bench', { kind: 'serial', path: 'COM4' }, undefined],
  ['an instrument without a visit', undefined, 'tune', { kind: 'serial', path: 'COM4' }, undefined],
])('begins a run: %s', async (_what, visit, workspace, source, visitId) => {
  const { actions, store, call } = window(ok(infoOf({ runId: 'run-2' })));
  store.setState({ visit: visit && { id: 'visit-1', ...visit }, workspace } as never);
  expect(await actions.startRun({ source } as never)).toBe(true);
  expect((call.mock.lastCall?.[1] as { visitId?: string } | undefined)?.visitId).toBe(visitId);
  expect(store.getState().runId).toBe('run-2');
  expect(store.getState().runs['run-2']).toBeDefined();
});

it('leaves the run on the screen where the host begins none', async () => {
  const { actions, store } = window(refused);
  store.setState(shownRun);
  expect(await actions.startRun({ source: { kind: 'simulated' } } as never)).toBe(false);
  expect(store.getState().runId).toBe('run-1');
});

it('begins one run when the button is pressed again before the host has answered, and another one after it', async () => {
  let answer: (info: unknown) => void = () => undefined;
  const store = createAppStore();
  const call = vi.fn(() => new Promise((resolve) => (answer = resolve)));
  const actions = createActions({ call } as unknown as Client, store);
  const source = { kind: 'simulated' };
  const first = actions.startRun({ source } as never);
  expect(await actions.startRun({ source } as never)).toBe(false);
  answer(ok(infoOf({ runId: 'run-2' })));
  expect(await first).toBe(true);
  expect(call).toHaveBeenCalledTimes(1);
  // another source waits for nobody: a port may take its time to open
  const port = actions.startRun({ source: { kind: 'serial', path: 'COM4' } } as never);
  const next = actions.startRun({ source } as never);
  expect(call).toHaveBeenCalledTimes(3);
  void port;
  answer(ok(infoOf({ runId: 'run-3' })));
  expect(await next).toBe(true);
});

it('sets a mark in the run on the screen, and none without a run', async () => {
  const { actions, store, call } = window(ok(smoke));
  expect(await actions.mark(smoke.body)).toBeUndefined();
  expect(call).not.toHaveBeenCalled();
  store.setState(shownRun);
  await actions.mark(smoke.body, { timeMs: 4999.6 });
  expect(call).toHaveBeenCalledWith('run.mark', { runId: 'run-1', body: smoke.body, timeMs: 5000 });
  expect(store.getState().runs['run-1']?.marks).toEqual([smoke]);
});

it('takes the newest mark back once the host has, and says so; nothing to take back is said too', async () => {
  const { actions, store, call } = window(ok({}));
  store.setState(shownRun);
  await actions.undoMark();
  expect(call).not.toHaveBeenCalled();
  expect(store.getState().said).toBe(live.nothingToUndo);
  store.getState().markMade('run-1', smoke);
  await actions.undoMark();
  expect(call).toHaveBeenCalledWith('run.editMark', { runId: 'run-1', edit: { kind: 'undone', markId: 'm1' } });
  expect(store.getState().said).toBe(live.undone);
  expect(store.getState().runs['run-1']?.marks).toEqual([]);
});

it('keeps a mark that the host did not take back', async () => {
  const { actions, store } = window(refused);
  store.setState(shownRun);
  store.getState().markMade('run-1', smoke);
  await actions.undoMark();
  expect(store.getState().runs['run-1']?.marks).toEqual([smoke]);
  expect(store.getState().said).not.toBe(live.undone);
});

it('gives an export to the browser, tells one that was stopped, and alerts on one that failed', async () => {
  const save = vi.fn();
  const good = window(ok({ download: '/d/1', fileName: 'run.csv' }));
  await good.actions.exportRun('run-1', 'csv', save);
  expect(save).toHaveBeenCalledWith('/d/1', 'run.csv');
  const stopped = window(err(problem('export-stopped')));
  await stopped.actions.exportRun('run-1', 'csv', save);
  expect(stopped.store.getState().said).toBe(progress.stopped);
  expect(stopped.store.getState().answer).toBeUndefined();
  const failed = window(refused);
  await failed.actions.exportRun('run-1', 'csv', save);
  expect(failed.store.getState().answer?.problem.code).toBe('not-allowed');
  expect(save).toHaveBeenCalledTimes(1);
});
