// @vitest-environment happy-dom
import { act, cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { useRest } from '../../../renderer/components/use-rest.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { BenchFrame } from '../../../renderer/views/bench/BenchFrame.tsx';
import type { MainDeed } from '../../../renderer/views/tune/mark-bar/main-deed.ts';
import { MainButton } from '../../../renderer/views/tune/mark-bar/MainButton.tsx';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

const smoke: MainDeed = { does: 'smoke', text: 'Write smoke down', under: undefined, key: 'main' };
const values: MainDeed = { does: 'values', text: 'Type values', under: undefined, key: 'main' };
const source: MainDeed = { does: 'source', text: 'Pick the port', under: undefined, key: 'source' };

function show(first: MainDeed) {
  const store = createAppStore();
  store.setState({ wire: { phase: 'open' }, role: 'operator' });
  const parts = { store, keys: createKeys(), actions: {}, sounds: { play: () => undefined } } as unknown as AppParts;
  const of = (deed: MainDeed) => (
    <AppContext value={parts}>
      <MainButton deed={deed} blocked={false} />
    </AppContext>
  );
  const { rerender } = render(of(first));
  return { store, change: (deed: MainDeed) => act(() => rerender(of(deed))) };
}
const press = (): void => void fireEvent.click(screen.getByRole('button'));
const wait = (ms: number): void => act(() => void vi.advanceTimersByTime(ms));

describe('a main button', () => {
  it('works at once when it has been there', () => {
    const { store } = show(smoke);
    press();
    expect(store.getState().entry).toBe('smoke');
  });
  it('that has just changed what it does rests 300 ms, shows it, and takes no press meant for the old deed', () => {
    const { store, change } = show(smoke);
    change(values);
    expect(screen.getByRole('button').getAttribute('aria-disabled')).toBe('true');
    press();
    wait(290);
    press();
    expect(store.getState().entry).toBeUndefined();
    wait(20);
    expect(screen.getByRole('button').getAttribute('aria-disabled')).toBe('false');
    press();
    expect(store.getState().entry).toBe('values');
  });
  it('rests longer when the lines stop under the finger', () => {
    const { store, change } = show(smoke);
    change(source);
    wait(700);
    press();
    expect(store.getState().panel).toBeUndefined();
    wait(200);
    press();
    expect(store.getState().panel).toBe('source');
  });
  it('that comes over another screen rests as it comes', () => {
    const Over = () => <button type="button" aria-disabled={useRest('Yes, the display agrees', undefined, '')} />;
    render(<Over />);
    expect(screen.getByRole('button').getAttribute('aria-disabled')).toBe('true');
    wait(310);
    expect(screen.getByRole('button').getAttribute('aria-disabled')).toBe('false');
  });
  it('of the bench rests too, for the press and for Enter in a field', () => {
    const done: string[] = [];
    const parts = { store: createAppStore(), keys: createKeys() } as unknown as AppParts;
    const of = (text: string) => (
      <AppContext value={parts}>
        <BenchFrame title="Test" says="" main={{ text, run: () => void done.push(text) }}>
          <input aria-label="Name" />
        </BenchFrame>
      </AppContext>
    );
    const { rerender } = render(of('Start'));
    const both = (): void => {
      fireEvent.click(screen.getByRole('button'));
      fireEvent.keyDown(screen.getByLabelText('Name'), { key: 'Enter' });
    };
    both();
    act(() => rerender(of('Show the result')));
    both();
    wait(310);
    both();
    expect(done).toEqual(['Start', 'Start', 'Show the result', 'Show the result']);
  });
});
