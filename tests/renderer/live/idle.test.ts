// @vitest-environment happy-dom
/** When the rest of the script is fetched: not before the first figure stands there, and not never. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { idleAfterFirstFigure } from '../../../renderer/live/idle.ts';
import type { Face } from '../../../renderer/state/run-record.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { infoOf, stateOf } from '../helpers/records.ts';

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal('requestIdleCallback', (call: () => void) => setTimeout(call, 0));
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

/** two frames, or what is waited for them at most */
const DRAWN_MS = 260;

const host = { host: 'browser', version: '', platform: '', dataFolder: '', otherWindows: 0, newcomer: false } as never;
function waiting() {
  const store = createAppStore();
  let isIdle = false;
  void idleAfterFirstFigure(store)().then(() => (isIdle = true));
  /** after `ms` */
  const idleAfter = async (ms: number): Promise<boolean> => {
    await vi.advanceTimersByTimeAsync(ms);
    return isIdle;
  };
  return { store, idleAfter };
}

it('comes after the first figure of a run, not with the run', async () => {
  const { store, idleAfter } = waiting();
  // as a window is greeted: the host first, its runs in the same moment
  store.setState({ wire: { phase: 'open' }, host });
  store.getState().runsWelcomed([infoOf({})], []);
  expect(await idleAfter(1000)).toBe(false);
  const [record] = Object.values(store.getState().runs);
  if (record === undefined) throw new Error('no run');
  const { runId } = record.info;
  const shown = (states: Face['states']) => store.setState({ runs: { [runId]: { ...record, face: { ...record.face, states } } } });
  shown({ o2: stateOf('o2', 'absent', { value: undefined }) });
  expect(await idleAfter(1000)).toBe(false);
  shown({ o2: stateOf('o2', 'settling', { value: 5 }) });
  // in the store is not drawn yet
  expect(await idleAfter(1)).toBe(false);
  expect(await idleAfter(DRAWN_MS)).toBe(true);
});

it('comes at once where there is no run, and after 4 s where a run brings no figure', async () => {
  const without = waiting();
  without.store.setState({ wire: { phase: 'open' }, host });
  expect(await without.idleAfter(DRAWN_MS)).toBe(true);
  const silent = waiting();
  silent.store.setState({ wire: { phase: 'open' }, host });
  silent.store.getState().runsWelcomed([infoOf({})], []);
  expect(await silent.idleAfter(3000)).toBe(false);
  expect(await silent.idleAfter(1001 + DRAWN_MS)).toBe(true);
});

it('does not wait for a figure where the air of a room is at an alarm', async () => {
  const { store, idleAfter } = waiting();
  store.setState({ wire: { phase: 'open' }, host });
  store.getState().runsWelcomed([infoOf({})], []);
  expect(await idleAfter(1000)).toBe(false);
  store.getState().alarmsChanged([{ key: 'room-co', visitId: 'v', level: 'out', ppm: 120 }]);
  expect(await idleAfter(DRAWN_MS)).toBe(true);
});
