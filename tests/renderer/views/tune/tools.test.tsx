// @vitest-environment happy-dom
/** The tools over the trend: the key of the trials walks into the column where it is in sight, and brings it where it is not. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { act } from 'react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../../renderer/app-parts.ts';
import { createKeys } from '../../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../../renderer/state/store.ts';
import { Tools } from '../../../../renderer/views/tune/Tools.tsx';
import { live } from '../../../../shared/words/tune/live.ts';

vi.mock('../../../../renderer/views/visit/VisitOffer.tsx', () => ({ VisitOffer: () => null }));
beforeEach(() => void vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
  Reflect.deleteProperty(HTMLElement.prototype, 'offsetParent');
});

/** @param shown whether the column has a place on the screen */
function pressTrials({ shown, open = false }: { shown: boolean; open?: boolean }) {
  // this page is not laid out: nothing in it has a place of its own
  Object.defineProperty(HTMLElement.prototype, 'offsetParent', { configurable: true, value: shown ? document.body : null });
  const store = createAppStore();
  if (open) store.getState().trialsTurned();
  const keys = createKeys();
  const { container } = render(
    <AppContext value={{ store, keys } as unknown as AppParts}>
      <Tools title="Run" about="of a test" />
      <div data-region="right">
        <table>
          <tbody>
            <tr tabIndex={-1} />
            <tr tabIndex={0} />
          </tbody>
        </table>
      </div>
    </AppContext>,
  );
  act(() => void keys.press({ key: keys.keyOf('trials'), ctrl: false, alt: false, repeat: false, focus: 'other', dialogOpen: false }));
  return { isIn: document.activeElement === container.querySelector('tr[tabindex="0"]'), isOpen: store.getState().trialsOpen };
}

it('walks into the column that is in sight', () => expect(pressTrials({ shown: true })).toEqual({ isIn: true, isOpen: false }));
it('brings the column where there is no room for it', () => expect(pressTrials({ shown: false })).toEqual({ isIn: false, isOpen: true }));
it('takes the column away that it has brought', () =>
  expect(pressTrials({ shown: true, open: true })).toEqual({ isIn: false, isOpen: false }));

describe('what is seldom needed', () => {
  const show = () => {
    const store = createAppStore();
    const keys = createKeys();
    const { container } = render(
      <AppContext value={{ store, keys } as unknown as AppParts}>
        <Tools title="Run" about="of a test" />
        <p>elsewhere</p>
      </AppContext>,
    );
    const more = container.querySelector<HTMLButtonElement>('.more-button')!;
    const list = container.querySelector<HTMLElement>('.more-list')!;
    const isOpen = (): boolean => {
      const [said, seen] = [more.getAttribute('aria-expanded') === 'true', container.querySelector('.more.open') !== null];
      expect(said).toBe(seen);
      return seen;
    };
    const press = (action: 'back' | 'lines'): void =>
      act(() => void keys.press({ key: keys.keyOf(action), ctrl: false, alt: false, repeat: false, focus: 'other', dialogOpen: false }));
    return { store, container, more, list, isOpen, press };
  };
  it('opens and closes with its button', () => {
    const { more, isOpen } = show();
    const seen = [isOpen()];
    for (let press = 0; press < 2; press++) {
      fireEvent.click(more);
      seen.push(isOpen());
    }
    expect(seen).toEqual([false, true, false]);
  });
  it('closes by a press beside it, not by one in it, and by the key that goes back', () => {
    const { more, list, isOpen, press } = show();
    fireEvent.click(more);
    fireEvent.pointerDown(list);
    expect(isOpen()).toBe(true);
    fireEvent.pointerDown(screen.getByText('elsewhere'));
    expect(isOpen()).toBe(false);
    fireEvent.click(more);
    press('back');
    expect(isOpen()).toBe(false);
  });
  it('closes when one of it was chosen, which opens what it says', () => {
    const { store, more, list, isOpen } = show();
    const opened = [...list.querySelectorAll('button')].map((button) => {
      fireEvent.click(more);
      fireEvent.click(button);
      const { panel, entry } = store.getState();
      store.setState({ panel: undefined, entry: undefined });
      return [isOpen(), panel ?? entry];
    });
    expect(opened).toEqual([
      [false, 'table'],
      [false, 'lines'],
      [false, 'settings'],
      [false, 'keys'],
    ]);
  });
  it.each([false, true])('folds where the screen is narrow, and its keys work all the same: %s', (isNarrow) => {
    vi.stubGlobal('matchMedia', (query: string) => ({
      matches: isNarrow && query.startsWith('(max-width'),
      addEventListener: () => undefined,
      removeEventListener: () => undefined,
    }));
    const { container, store, press } = show();
    expect(container.querySelector('.more.folds') !== null).toBe(isNarrow);
    press('lines');
    expect(store.getState().panel).toBe('lines');
  });
});

it('the view from afar is one press away', () => {
  const store = createAppStore();
  const { container } = render(
    <AppContext value={{ store, keys: createKeys() } as unknown as AppParts}>
      <Tools title="Run" about="of a test" />
    </AppContext>,
  );
  const named = (text: string) => [...container.querySelectorAll('button')].find((one) => one.querySelector('span')?.textContent === text)!;
  const before = store.getState().far;
  fireEvent.click(named(live.farView));
  expect(store.getState().far).toBe(!before);
  // which of the tools is there on a narrow screen only, and whether it is pressed
  expect(
    [...container.querySelectorAll('.only-narrow')].map((one) => [
      one.querySelector('span')?.textContent,
      one.getAttribute('aria-pressed'),
    ]),
  ).toEqual([[live.trials, 'false']]);
});
