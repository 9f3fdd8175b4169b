// @vitest-environment happy-dom
/** The parts of the simulated burner: read back each second; an amount on its way keeps the place it was sent to until it is there. */
import { act, cleanup, renderHook } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { useBurnerParts } from '../../../renderer/views/warm-up/use-parts-of-burner.ts';
import { amounts } from '../../../shared/burner/parts.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

async function burner() {
  const standing = { amounts: Object.fromEntries(Object.keys(amounts).map((name) => [name, 0])), switches: {} };
  const host = { reads: 0, isThere: true, sent: [] as unknown[] };
  const parts = {
    client: {
      call: () => {
        host.reads += 1;
        return Promise.resolve(host.isThere ? { ok: true, value: structuredClone(standing) } : { ok: false });
      },
    },
    actions: {
      ask: (name: string, input: unknown) => {
        host.sent.push([name, input]);
        return Promise.resolve(undefined);
      },
    },
  } as unknown as AppParts;
  const { result, unmount } = renderHook(() => useBurnerParts('run-1'), {
    wrapper: ({ children }) => <AppContext value={parts}>{children}</AppContext>,
  });
  const wait = (ms: number): Promise<void> =>
    act(async () => {
      await vi.advanceTimersByTimeAsync(ms);
    });
  await wait(0);
  const set = (...given: Parameters<ReturnType<typeof useBurnerParts>['set']>): Promise<void> => {
    act(() => result.current.set(...given));
    return wait(0);
  };
  return { standing, host, result, unmount, wait, set };
}

it('are read at once and then every second, until the window is left', async () => {
  const { host, wait, unmount } = await burner();
  expect(host.reads).toBe(1);
  await wait(999);
  expect(host.reads).toBe(1);
  await wait(1);
  expect(host.reads).toBe(2);
  unmount();
  await wait(5000);
  expect(host.reads).toBe(2);
});

it('are sent as they are wished, over a time where there is one, and read back at once', async () => {
  const { host, set } = await burner();
  await set('roomCoPpm', 35, 60);
  await set('firing', true, 0);
  expect(host.sent).toEqual([
    ['simulator.part', { runId: 'run-1', part: 'roomCoPpm', value: 35, overS: 60 }],
    ['simulator.part', { runId: 'run-1', part: 'firing', value: true }],
  ]);
  expect(host.reads).toBe(3);
});

it('an amount on its way keeps its wish until it is within a five-hundredth of its span; a switch has none', async () => {
  const { standing, wait, set, result } = await burner();
  await set('roomCoPpm', 35, 60);
  await set('roomDepressionPa', 10, 60);
  await set('firing', true, 0);
  await set('inlet', 'air', 0);
  expect(result.current.wished).toEqual({ roomCoPpm: 35, roomDepressionPa: 10 });
  // of 0 to 500 ppm it is 1 ppm
  standing.amounts['roomCoPpm'] = 33.9;
  await wait(1000);
  expect(result.current.wished).toEqual({ roomCoPpm: 35, roomDepressionPa: 10 });
  standing.amounts['roomCoPpm'] = 36;
  await wait(1000);
  expect(result.current.wished).toEqual({ roomDepressionPa: 10 });
  expect(result.current.parts?.amounts.roomCoPpm).toBe(36);
});

it('what was read last stays while nothing can be read', async () => {
  const { host, standing, wait, set, result } = await burner();
  standing.amounts['fouling'] = 1.2;
  host.isThere = false;
  await wait(1000);
  await set('fouling', 1.4, 0);
  expect(result.current.parts?.amounts.fouling).toBe(0);
  host.isThere = true;
  await wait(1000);
  expect(result.current.parts?.amounts.fouling).toBe(1.2);
});
