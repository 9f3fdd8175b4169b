// @vitest-environment happy-dom
/** While the flame drifts, the column says what usually does that; its key brings the trials, and what begins anew is said anew. */
import { cleanup, render, screen } from '@testing-library/react';
import { act } from 'react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../../renderer/app-parts.ts';
import { createKeys } from '../../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../../renderer/state/store.ts';
import { TrialsColumn } from '../../../../renderer/views/tune/TrialsColumn.tsx';
import { live } from '../../../../shared/words/tune/live.ts';
import { unrestWords } from '../../../../shared/words/tune/states.ts';

vi.mock('../../../../renderer/views/tune/UnrestBlock.tsx', () => ({ UnrestBlock: () => null }));
beforeEach(() => void vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

it('says the causes at the beginning of every drift, also after the trials were asked for during the last one', () => {
  const keys = createKeys();
  const parts = { store: createAppStore(), keys } as unknown as AppParts;
  const column = (...sinceMs: number[]) => (
    <AppContext value={parts}>
      <TrialsColumn
        trials={[]}
        adjusters={[]}
        rows={[]}
        units="us"
        waiting={false}
        unrest={sinceMs.map((since) => ({ channel: 'o2', state: 'drifting', sinceMs: since }))}
      />
    </AppContext>
  );
  const title = (): string => screen.getByRole('heading', { level: 2 }).textContent ?? '';
  const { rerender } = render(column(1000));
  expect(title()).toBe(unrestWords.usuallyTitle);
  act(() => void keys.press({ key: keys.keyOf('unrest'), ctrl: false, alt: false, repeat: false, focus: 'other', dialogOpen: false }));
  expect(title()).toBe(live.trials);
  rerender(column());
  expect(title()).toBe(live.trials);
  rerender(column(9000));
  expect(title()).toBe(unrestWords.usuallyTitle);
});
