// @vitest-environment happy-dom
/** The newest lines at a pace that can be drawn: all of them while they trickle, a screenful in a flood, and none after the page is left. */
import { act, cleanup, renderHook } from '@testing-library/react';
import type { ReactNode } from 'react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { useLiveLines, useSampleTexts } from '../../../renderer/views/lines/use-lines.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

function buffer() {
  let all: { number: number; bytes: string }[] = [];
  const listeners = new Set<() => void>();
  const lines = {
    lines: () => all,
    droppedCount: () => 7,
    onChange: (listener: () => void) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
  return {
    come: (count: number): void => {
      const from = all.length;
      all = [...all, ...Array.from({ length: count }, (_, at) => ({ number: from + at, bytes: `line ${from + at}` }))];
      act(() => listeners.forEach((listener) => listener()));
    },
    listeners,
    wrapper: ({ children }: { children: ReactNode }) => <AppContext value={{ lines } as unknown as AppParts}>{children}</AppContext>,
  };
}
const wait = (ms: number): void => void act(() => vi.advanceTimersByTime(ms));

it('lines are drawn four times a second at most', () => {
  const { come, wrapper } = buffer();
  const { result } = renderHook(useLiveLines, { wrapper });
  expect(result.current).toEqual({ lines: [], droppedCount: 7 });
  come(3);
  come(3);
  expect(result.current.lines).toHaveLength(0);
  wait(249);
  expect(result.current.lines).toHaveLength(0);
  wait(1);
  expect(result.current.lines.map(({ number }) => number)).toEqual([0, 1, 2, 3, 4, 5]);
});
it('two hundred of them while they trickle, thirty in a flood, and two hundred again after it', () => {
  const { come, wrapper } = buffer();
  come(500);
  const { result } = renderHook(useLiveLines, { wrapper });
  expect(result.current.lines).toHaveLength(200);
  expect(result.current.lines.at(-1)?.number).toBe(499);
  come(31);
  wait(250);
  expect(result.current.lines.map(({ number }) => number)).toEqual(Array.from({ length: 30 }, (_, at) => 501 + at));
  come(30);
  wait(250);
  expect(result.current.lines).toHaveLength(200);
});
it('the texts for the pieces of a line are the newest forty, looked at every two seconds', () => {
  const { come, wrapper } = buffer();
  come(50);
  const { result } = renderHook(useSampleTexts, { wrapper });
  expect(result.current).toHaveLength(40);
  expect(result.current.at(-1)).toBe('line 49');
  // the first lines are not waited for
  wait(250);
  come(1);
  wait(1999);
  expect(result.current.at(-1)).toBe('line 49');
  wait(1);
  expect(result.current.at(-1)).toBe('line 50');
});
it('a page that is left hears nothing any more', () => {
  const { come, listeners, wrapper } = buffer();
  const [one, other] = [renderHook(useLiveLines, { wrapper }), renderHook(useSampleTexts, { wrapper })];
  expect(listeners.size).toBe(2);
  come(1);
  one.unmount();
  other.unmount();
  expect(listeners.size).toBe(0);
  expect(vi.getTimerCount()).toBe(0);
});
