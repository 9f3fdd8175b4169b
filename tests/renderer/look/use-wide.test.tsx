// @vitest-environment happy-dom
import { act, cleanup, renderHook } from '@testing-library/react';
import { afterEach, expect, it, vi } from 'vitest';
import { useNarrow, useWide } from '../../../renderer/look/use-wide.ts';

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

it.each([
  ['wide', useWide, '1500px'],
  ['narrow', useNarrow, '900px'],
] as const)('a window that becomes %s is so at once, and is not watched any more when the page has gone', (_, useIt, size) => {
  const listeners = new Set<() => void>();
  let fits = false;
  vi.stubGlobal('matchMedia', (query: string) => ({
    get matches() {
      return query.includes(size) && fits;
    },
    addEventListener: (_what: string, changed: () => void) => listeners.add(changed),
    removeEventListener: (_what: string, changed: () => void) => listeners.delete(changed),
  }));
  const { result, unmount } = renderHook(() => useIt());
  const seen = [result.current];
  for (const now of [true, false]) {
    fits = now;
    act(() => listeners.forEach((changed) => changed()));
    seen.push(result.current);
  }
  expect(seen).toEqual([false, true, false]);
  unmount();
  expect(listeners.size).toBe(0);
});
