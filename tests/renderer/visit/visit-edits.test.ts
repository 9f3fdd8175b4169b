import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createVisitEdits } from '../../../renderer/backend/visit-edits.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import type { Client } from '../../../shared/ipc/client.ts';
import { problem } from '../../../shared/problem.ts';
import { err, ok } from '../../../shared/result.ts';
import { editVisit, newVisit, type Visit } from '../../../shared/tuning/visit/visit.ts';

const started = newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'metric', adjusters: [] });

/** A host that applies edits as the real one does; `refuse` answers the next call with a problem. */
function fakeHost() {
  let visit: Visit = started;
  let revision = 1;
  const sent: { changes: { path: (string | number)[]; after?: unknown }[] }[] = [];
  let refusal: Parameters<typeof problem>[0] | undefined;
  const client = {
    async call(_name: string, input: { changes: { path: (string | number)[]; after?: never }[] }) {
      await Promise.resolve();
      if (refusal !== undefined) {
        const code = refusal;
        refusal = undefined;
        return err(problem(code));
      }
      sent.push(input);
      for (const { path, after } of input.changes) {
        const done = editVisit(visit, { wallMs: 1, by: 'host', path, ...(after === undefined ? {} : { after }) });
        if (done.ok) visit = done.value;
      }
      revision += 1;
      return ok({ visit, revision });
    },
  };
  return {
    client: client as unknown as Client,
    sent,
    visit: () => visit,
    refuse: (code: Parameters<typeof problem>[0]) => (refusal = code),
  };
}

describe('what is typed into a visit', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());
  const open = () => {
    const host = fakeHost();
    const store = createAppStore();
    const edits = createVisitEdits(host.client, store);
    edits.reset({ visit: started, revision: 1 });
    return { host, store, edits };
  };

  it('is shown at once and sent once, when the typing rests', async () => {
    const { host, store, edits } = open();
    for (const text of ['T', 'TR', 'TR-', 'TR-1']) edits.edit([{ path: ['instrumentName'], after: text }]);
    expect(store.getState().visit?.instrumentName).toBe('TR-1');
    expect(host.sent).toEqual([]);
    await vi.advanceTimersByTimeAsync(500);
    expect(host.sent).toEqual([{ id: 'v', changes: [{ path: ['instrumentName'], after: 'TR-1' }] }]);
    expect(store.getState().visitSaving).toBe('kept');
  });

  it('is sent within a second even when the typing never rests', async () => {
    const { host, edits } = open();
    for (let letters = 1; letters <= 10; letters++) {
      edits.edit([{ path: ['instrumentName'], after: 'x'.repeat(letters) }]);
      await vi.advanceTimersByTimeAsync(100);
    }
    expect(host.sent.length).toBeGreaterThanOrEqual(1);
    expect(host.visit().instrumentName).toMatch(/^x{6,}$/);
  });

  it('stays when the host could not keep it, and is sent again by itself', async () => {
    const { host, store, edits } = open();
    host.refuse('disk-full');
    edits.edit([{ path: ['instrumentName'], after: 'TR-1' }]);
    await vi.advanceTimersByTimeAsync(600);
    expect(store.getState()).toMatchObject({
      visitSaving: 'refused',
      visit: { instrumentName: 'TR-1' },
      answer: { problem: { code: 'disk-full' } },
    });
    await vi.advanceTimersByTimeAsync(2500);
    expect(host.visit().instrumentName).toBe('TR-1');
    expect(store.getState().visitSaving).toBe('kept');
  });

  it('is refused before it is sent where the visit cannot hold it, and nothing changes', async () => {
    const { host, store, edits } = open();
    const refused = edits.edit([{ path: ['annualFuelGal'], after: -3 }]);
    expect(refused?.code).toBe('value-out-of-range');
    await vi.advanceTimersByTimeAsync(1000);
    expect(host.sent).toEqual([]);
    expect(store.getState().visit).toEqual(started);
  });

  it('goes behind the last one of a list, whatever came into the list meanwhile, and further typing goes with it', async () => {
    const { host, store, edits } = open();
    const person = (name: string) => ({ role: 'technician', name });
    edits.edit([{ path: ['people', 0], after: person('A') }]);
    edits.edit([{ path: ['people', 0], after: person('A. Sample') }]);
    expect(store.getState().visit?.people).toHaveLength(1);
    await vi.advanceTimersByTimeAsync(500);
    expect(host.sent).toEqual([{ id: 'v', changes: [{ path: ['people', '-'], after: person('A. Sample') }] }]);
    expect(host.visit().people).toEqual([person('A. Sample')]);
  });

  it('is not sent at all when it was put into a list and taken out again', async () => {
    const { host, edits } = open();
    edits.edit([{ path: ['notes', 0], after: { wallMs: 1, text: 'x' } }]);
    edits.edit([{ path: ['notes', 0] }]);
    await vi.advanceTimersByTimeAsync(1000);
    expect(host.sent).toEqual([]);
  });

  it('is refused where a figure is not finite, instead of arriving as nothing', () => {
    const { store, edits } = open();
    expect(edits.edit([{ path: ['roomCo', 0], after: { wallMs: 1, ppm: NaN } }])?.code).toBe('value-out-of-range');
    expect(edits.edit([{ path: ['airTypedC'], after: Infinity }])?.code).toBe('value-out-of-range');
    expect(store.getState().visit).toEqual(started);
  });

  it('is not sent again by a window that may only look', async () => {
    const { host, store, edits } = open();
    host.refuse('not-allowed');
    edits.edit([{ path: ['instrumentName'], after: 'TR-1' }]);
    await vi.advanceTimersByTimeAsync(10_000);
    expect(host.sent).toEqual([]);
    expect(store.getState()).toMatchObject({ visitSaving: 'kept', answer: { problem: { code: 'not-allowed' } } });
  });

  it('says why a change was refused for good, and that the rest is kept', async () => {
    const { host, store, edits } = open();
    host.refuse('visit-signed');
    edits.edit([{ path: ['instrumentName'], after: 'TR-1' }]);
    await vi.advanceTimersByTimeAsync(600);
    expect(store.getState()).toMatchObject({ visitSaving: 'kept', answer: { problem: { code: 'visit-signed' } } });
    expect(store.getState().visit?.instrumentName).toBeUndefined();
  });

  it('never lets an answer from before put an older visit in the place of a newer one', async () => {
    const { store, edits } = open();
    edits.edit([{ path: ['instrumentName'], after: 'TR-1' }]);
    const sent = edits.flush();
    const signed: Visit = { ...started, signature: { name: 'A. Sample', wallMs: 2, hash: 'abc', editsBefore: 0 }, endedWallMs: 2 };
    edits.reset({ visit: signed, revision: 9 });
    await sent;
    expect(store.getState().visit).toEqual(signed);
  });

  it('sees a signature of another window that came while an answer was on its way', async () => {
    const { host, store, edits } = open();
    const signed: Visit = { ...started, signature: { name: 'A. Sample', wallMs: 2, hash: 'abc', editsBefore: 0 }, endedWallMs: 2 };
    host.refuse('visit-signed');
    edits.edit([{ path: ['instrumentName'], after: 'TR-1' }]);
    const sent = edits.flush();
    edits.stored({ visit: signed, revision: 2 });
    await sent;
    await vi.advanceTimersByTimeAsync(0);
    expect(store.getState()).toMatchObject({ visitSaving: 'kept', visit: signed });
  });
});
