// @vitest-environment happy-dom
/** How a list is asked for: when the typing pauses, and as much as the host gives. */
import { act, cleanup, renderHook } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { useCalm } from '../../../renderer/queries/use-calm.ts';
import { useGrowing } from '../../../renderer/queries/use-growing.ts';
import { commands } from '../../../shared/ipc/contract.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});
const wait = (ms: number): void => act(() => void vi.advanceTimersByTime(ms));

it('typed text is handed on whole when the person pauses, not letter by letter', () => {
  const { result, rerender } = renderHook(({ text }) => useCalm(text, 100), { initialProps: { text: '' } });
  const seen: string[] = [];
  for (const text of ['m', 'ma', 'map', 'mapl', 'maple']) {
    rerender({ text });
    wait(60);
    seen.push(result.current);
  }
  expect(seen).toEqual(['', '', '', '', '']);
  wait(40);
  expect(result.current).toBe('maple');
});

it('a list grows by the press, up to what the host gives at most', () => {
  const { result } = renderHook(() => useGrowing());
  const limits = [result.current.limit];
  for (let press = 0; press < 6; press++) {
    act(() => result.current.grow());
    limits.push(result.current.limit);
  }
  const takes = (limit: number): boolean => commands['visit.list'].input.safeParse({ limit }).success;
  expect(limits.every(takes)).toBe(true);
  expect(takes((limits.at(-1) as number) + 1)).toBe(false);
  // what is shown first is what the host gives unasked
  expect(limits[0]).toBe(commands['visit.list'].input.parse({}).limit);
  expect(limits.slice(0, 5)).toEqual([...new Set(limits)]);
});
