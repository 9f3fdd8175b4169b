// @vitest-environment happy-dom
/** What cannot be read is said beside its field and at the button, nothing is sent then, and typing takes the complaint away. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { act } from 'react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../../renderer/app-parts.ts';
import { createKeys } from '../../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../../renderer/state/store.ts';
import { ApplianceEditor } from '../../../../renderer/views/records/appliance/ApplianceEditor.tsx';
import { common } from '../../../../shared/words/common.ts';
import { records } from '../../../../shared/words/records/records.ts';

beforeEach(() => void vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

it('saves nothing while a year cannot be read, and says where to look', async () => {
  const sent: string[] = [];
  let closed = 0;
  const client = { call: (name: string) => (sent.push(name), Promise.resolve({ ok: true, value: {} })) };
  const parts = { store: createAppStore(), keys: createKeys(), client } as unknown as AppParts;
  const stored = { id: 'a', revision: 3, appliance: { format: 1, name: 'Boiler cellar', kind: 'boiler-water' }, visits: 0 };
  render(
    <AppContext value={parts}>
      <ApplianceEditor stored={stored as never} close={() => closed++} />
    </AppContext>,
  );
  const { labels, lookAgain } = records.particulars;
  const save = (): Promise<void> =>
    act(async () => {
      fireEvent.click(screen.getByRole('button', { name: common.save }));
      await Promise.resolve();
    });
  expect(screen.getByRole('status').textContent).toBe('');
  fireEvent.change(screen.getByLabelText(labels.year), { target: { value: 'about 1990' } });
  await save();
  expect(sent).toEqual([]);
  expect(screen.getByRole('status').textContent).toBe(lookAgain);
  fireEvent.change(screen.getByLabelText(labels.year), { target: { value: '1990' } });
  expect(screen.getByRole('status').textContent).toBe('');
  await save();
  expect(sent).toEqual(['appliance.save']);
  expect(closed).toBe(1);
});
