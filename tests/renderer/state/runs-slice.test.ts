import { expect, it } from 'vitest';
import { createStore } from 'zustand/vanilla';
import { createRunsSlice, type RunsSlice } from '../../../renderer/state/runs-slice.ts';
import { batchOf, infoOf, readingOf } from '../helpers/records.ts';

it('a run that is new begins empty and comes on screen where none is; news of a known one leaves what came of it', () => {
  const store = createStore<RunsSlice>()(createRunsSlice);
  const info = infoOf();
  store.getState().runChanged(info);
  expect(store.getState().runId).toBe(info.runId);
  store.getState().batchesCame([batchOf({ runId: info.runId, readings: [readingOf('r1')] })]);
  store.getState().runChanged({ ...info, phase: 'lost' });
  const record = store.getState().runs[info.runId];
  expect([record?.info.phase, record?.readings.map(({ id }) => id)]).toEqual(['lost', ['r1']]);

  store.getState().runChanged({ ...info, runId: 'another' });
  expect(store.getState().runId).toBe(info.runId);
  expect(store.getState().runs['another']?.readings).toEqual([]);
});
