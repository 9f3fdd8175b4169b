// @vitest-environment happy-dom
/** What the host refuses is said in Warm-up too, in both of its windows. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { act } from 'react';
import { afterEach, describe, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import WarmUpWorkspace from '../../../renderer/views/warm-up/index.tsx';
import type { StandingProblem } from '../../../shared/ipc/session-commands.ts';
import { problem } from '../../../shared/problem.ts';
import { problems } from '../../../shared/words/problems.ts';

afterEach(cleanup);

function show(role: 'operator' | 'instructor'): ReturnType<typeof createAppStore> {
  const store = createAppStore();
  store.setState({ role, wire: { phase: 'open' } } as never);
  const parts = {
    store,
    keys: createKeys(),
    buffers: { of: () => undefined },
    client: { on: () => () => undefined, call: () => Promise.resolve({ ok: false }) },
    actions: { ask: () => Promise.resolve(undefined) },
  } as unknown as AppParts;
  render(
    <AppContext value={parts}>
      <WarmUpWorkspace />
    </AppContext>,
  );
  return store;
}

describe.each(['operator', 'instructor'] as const)('the window of an %s', (role) => {
  it('says a refusal once, and lets it be closed', () => {
    const store = show(role);
    expect(screen.queryByText(problems['disk-full'].title)).toBeNull();
    const refused = problem('disk-full', 'records');
    act(() => {
      store.getState().problemRaised({ key: 'disk', problem: refused } as StandingProblem);
      store.getState().commandFailed(refused);
    });
    expect(screen.getAllByText(problems['disk-full'].title)).toHaveLength(1);
    act(() => store.getState().problemCleared('disk'));
    fireEvent.click(screen.getByRole('button', { name: 'Close' }));
    expect(screen.queryByText(problems['disk-full'].title)).toBeNull();
  });
});
