// @vitest-environment happy-dom
/** The key of the trials walks into the column where it is in sight, and brings it where it is not. */
import { cleanup, render } from '@testing-library/react';
import { act } from 'react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../../renderer/app-parts.ts';
import { createKeys } from '../../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../../renderer/state/store.ts';
import { Tools } from '../../../../renderer/views/tune/Tools.tsx';

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
