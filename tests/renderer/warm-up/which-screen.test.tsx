// @vitest-environment happy-dom
/** Warm-up shows one of four screens: an instructor's, a lesson that goes on, a call, or the curves. */
import { cleanup, screen } from '@testing-library/react';
import { act } from 'react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { AppState } from '../../../renderer/state/store.ts';
import WarmUpWorkspace from '../../../renderer/views/warm-up/index.tsx';
import { beginLesson } from '../../../shared/geometry/lesson.ts';
import { lookAndTell } from '../../../shared/words/geometry/look-and-tell.ts';
import { warmUp } from '../../../shared/words/warm-up.ts';
import { inWindow, press } from '../helpers/in-window.tsx';
import { recordWith } from '../helpers/records.ts';

beforeEach(() => {
  vi.stubGlobal('matchMedia', () => ({ matches: false, addEventListener: () => undefined, removeEventListener: () => undefined }));
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

const run: Partial<AppState> = { runId: 'run-1', runs: { 'run-1': recordWith({}, { channels: [] }) } };
function shown(state: Partial<AppState>): string | undefined {
  inWindow(<WarmUpWorkspace />, state);
  return screen.queryAllByRole('heading', { level: 1 })[0]?.textContent;
}

it.each([
  ['a call, where there is a run to call', { ...run, callIt: true }, warmUp.callTitle],
  ['a lesson before a call', { ...run, callIt: true, lesson: beginLesson(1) }, lookAndTell.title],
] as const)('%s', (_, state, title) => expect(shown(state)).toBe(title));
it.each([
  ['no run', { callIt: true }],
  ['an instructor, whatever is asked', { ...run, callIt: true, lesson: beginLesson(1), role: 'instructor' }],
] as const)('neither: %s', (_, state) => {
  const title = shown(state);
  expect([warmUp.callTitle, lookAndTell.title]).not.toContain(title);
});
it('a call is ended by its button', () => {
  const turned: boolean[] = [];
  inWindow(<WarmUpWorkspace />, { ...run, callIt: true, callItTurned: (on) => void turned.push(on) });
  act(() => press(warmUp.endCall));
  expect(turned).toEqual([false]);
});
