// @vitest-environment happy-dom
/** What other laptops sent is looked at by every window and taken by the one that works. */
import { cleanup, configure, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../../renderer/app-parts.ts';
import { createAppStore } from '../../../../renderer/state/store.ts';
import { OfficePage } from '../../../../renderer/views/records/upkeep/OfficePage.tsx';
import { ok } from '../../../../shared/result.ts';
import { common } from '../../../../shared/words/common.ts';
import { officeWords as words } from '../../../../shared/words/records/office.ts';

// a busy computer draws late
configure({ asyncUtilTimeout: 10_000 });

vi.mock('../../../../renderer/queries/use-answer.ts', () => ({
  useAnswer: () => ({
    conflicts: [{ key: 'k1', kind: 'appliance', name: 'Boiler', field: 'place', here: 'Attic', there: 'Cellar', canTake: true }],
  }),
}));
beforeEach(() => void vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

async function open(role: 'operator' | 'viewer') {
  const store = createAppStore();
  store.setState({ role });
  const call = vi.fn((command: string, _input: object) =>
    Promise.resolve(
      ok(
        command === 'office.search'
          ? { found: [{ applianceId: 'a1', name: 'Boiler', place: '', owner: '', visits: 2, isHere: false }] }
          : { isHere: true },
      ),
    ),
  );
  const ask = vi.fn();
  const showAppliance = vi.fn();
  const parts = { store, client: { call }, actions: { ask } } as unknown as AppParts;
  render(
    <AppContext value={parts}>
      <OfficePage showAppliance={showAppliance} />
    </AppContext>,
  );
  fireEvent.click(screen.getByRole('button', { name: words.searchNow }));
  const take = await screen.findByRole<HTMLButtonElement>('button', { name: words.take });
  return { take, there: screen.getByRole<HTMLButtonElement>('button', { name: words.takeThere }), ask, call, showAppliance };
}

it('takes an appliance and settles what two changed, where the window works', async () => {
  const { take, there, ask, showAppliance } = await open('operator');
  fireEvent.click(there);
  expect(ask).toHaveBeenCalledWith('office.settle', { key: 'k1', take: 'there' });
  fireEvent.click(take);
  await vi.waitFor(() => expect(showAppliance).toHaveBeenCalledWith('a1'), { timeout: 10_000 });
});

it('only shows them to a window that looks on', async () => {
  const { take, there } = await open('viewer');
  expect([take.disabled, there.disabled]).toEqual([true, true]);
});

it('does not search by half when the date cannot be read', async () => {
  const { call } = await open('operator');
  const asked = (): unknown[] => call.mock.calls.filter(([command]) => command === 'office.search');
  expect(asked()).toHaveLength(1);
  const due = screen.getByLabelText(words.dueBefore);
  fireEvent.change(due, { target: { value: '31.12.2026' } });
  fireEvent.click(screen.getByRole('button', { name: words.searchNow }));
  await screen.findByText(common.fieldErrors.notADay);
  expect(asked()).toHaveLength(1);
  fireEvent.change(due, { target: { value: '2026-12-31' } });
  fireEvent.click(screen.getByRole('button', { name: words.searchNow }));
  await vi.waitFor(() => expect(asked()[1]).toEqual(['office.search', { words: '', limit: 50, dueBefore: '2026-12-31' }]), {
    timeout: 10_000,
  });
});
