// @vitest-environment happy-dom
/** The theme: what the person chose, else what the computer says, and a press turns over what is shown. */
import { act, cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { useTheme } from '../../../renderer/look/use-theme.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { Settings } from '../../../shared/ipc/settings.ts';

type Theme = 'system' | 'dark' | 'light';
const listeners = new Set<() => void>();
let isLight = false;
const computerIs = (theme: 'dark' | 'light'): void => {
  isLight = theme === 'light';
  act(() => listeners.forEach((changed) => changed()));
};
beforeEach(() => {
  listeners.clear();
  isLight = false;
  vi.stubGlobal('matchMedia', (query: string) => ({
    // as a browser does: each query says whether it fits
    get matches() {
      return query.includes('light') === isLight;
    },
    addEventListener: (_what: string, changed: () => void) => listeners.add(changed),
    removeEventListener: (_what: string, changed: () => void) => listeners.delete(changed),
  }));
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
  delete document.documentElement.dataset['theme'];
});

function show(theme: Theme) {
  const store = createAppStore();
  const choose = (chosen: Theme): void => act(() => store.setState({ settings: Settings.parse({ theme: chosen }) }));
  choose(theme);
  const kept: Theme[] = [];
  const changeSettings = (patch: { theme: Theme }): Promise<void> => {
    kept.push(patch.theme);
    choose(patch.theme);
    return Promise.resolve();
  };
  const parts = { store, actions: { changeSettings } } as unknown as AppParts;
  const Turn = () => <button onClick={useTheme()} />;
  const { unmount } = render(
    <AppContext value={parts}>
      <Turn />
    </AppContext>,
  );
  return { kept, choose, unmount, press: () => fireEvent.click(screen.getByRole('button')) };
}
const onThePage = (): string | undefined => document.documentElement.dataset['theme'];

describe('the theme', () => {
  it.each(['dark', 'light'] as const)('is the one that was chosen, whatever the computer has: %s', (chosen) => {
    show(chosen);
    for (const computer of ['light', 'dark'] as const) {
      computerIs(computer);
      expect(onThePage()).toBe(chosen);
    }
  });

  it('follows the computer while nothing was chosen, and no longer when the page has gone', () => {
    const { unmount } = show('system');
    expect(onThePage()).toBe('dark');
    computerIs('light');
    expect(onThePage()).toBe('light');
    computerIs('dark');
    expect(onThePage()).toBe('dark');
    unmount();
    expect(listeners.size).toBe(0);
  });

  it.each(['dark', 'light'] as const)('is turned over by a press from what is shown, and the choice is kept: system, %s', (computer) => {
    const other = computer === 'dark' ? 'light' : 'dark';
    const { kept, press } = show('system');
    computerIs(computer);
    press();
    expect(onThePage()).toBe(other);
    press();
    expect(onThePage()).toBe(computer);
    expect(kept).toEqual([other, computer]);
  });
});
