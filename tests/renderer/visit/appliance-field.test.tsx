// @vitest-environment happy-dom
/** The appliance is chosen from what is here or from the office: a clear line between both, and an office that is away is no obstacle. */
import { cleanup, fireEvent, render, screen, within } from '@testing-library/react';
import { act } from 'react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import type { VisitChange } from '../../../renderer/backend/visit-edits.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { ApplianceField } from '../../../renderer/views/visit/start/ApplianceField.tsx';
import { newVisit } from '../../../shared/tuning/visit/visit.ts';
import { officeWords } from '../../../shared/words/records/office.ts';
import { startWords as words } from '../../../shared/words/visit/screens/start.ts';

beforeEach(() => {
  vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true);
  vi.useFakeTimers();
});
afterEach(() => {
  cleanup();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const here = { id: 'a-here', appliance: { format: 1, name: 'Boiler cellar', kind: 'boiler-water' }, revision: 1, visits: 2 };
const inOffice = [
  { applianceId: 'a-here', name: 'Boiler cellar', place: '', visits: 5, isHere: true },
  { applianceId: 'a-there', name: 'Boiler attic', place: 'Mill Lane 3', visits: 4, isHere: false },
];

type Office = { kind: 'none' | 'folder'; search?: () => unknown; fetch?: unknown };
function show({ kind, search = () => ({ ok: true, value: { found: inOffice } }), fetch }: Office) {
  const store = createAppStore();
  const asked: [string, object][] = [];
  const edits: VisitChange[] = [];
  const visit = newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] });
  const { settings } = store.getState();
  store.setState({
    wire: { phase: 'open' },
    role: 'operator',
    visit,
    visitStage: '1',
    settings: { ...settings, office: { ...settings.office, kind } },
  });
  const answers: Record<string, unknown> = { 'appliance.list': { appliances: [here], total: 1, overdue: 0 }, 'office.fetch': fetch };
  const parts = {
    store,
    keys: createKeys(),
    client: { call: (name: string, input: object) => (asked.push([name, input]), Promise.resolve(search())) },
    actions: { ask: (name: string, input: object) => (asked.push([name, input]), Promise.resolve(answers[name])) },
    visits: { edit: (changes: VisitChange[]) => void edits.push(...changes), findLast: () => Promise.resolve(undefined) },
  } as unknown as AppParts;
  render(
    <AppContext value={parts}>
      <ApplianceField />
    </AppContext>,
  );
  const type = (text: string) =>
    act(async () => {
      fireEvent.change(screen.getByLabelText(words.appliance), { target: { value: text } });
      await vi.advanceTimersByTimeAsync(300);
    });
  const press = (name: RegExp) =>
    act(async () => {
      fireEvent.click(screen.getByRole('button', { name }));
      await vi.advanceTimersByTimeAsync(300);
    });
  const names = () => asked.map(([name]) => name);
  return { type, press, asked, names, edits };
}
const listed = (label: string): string[] => {
  const list = screen.queryByRole('list', { name: label });
  return list === null
    ? []
    : within(list)
        .getAllByRole('button')
        .map(({ textContent }) => textContent ?? '');
};

describe('choosing the appliance of a visit', () => {
  it('asks nobody but this computer where there is no office', async () => {
    const { type, names, press, edits } = show({ kind: 'none' });
    await type('boiler');
    expect(names()).not.toContain('office.search');
    expect(listed(officeWords.section)).toEqual([]);
    await press(/^Boiler cellar/);
    expect(edits).toEqual([{ path: ['applianceId'], after: 'a-here' }]);
  });

  it('lists what is only in the office apart from what is here, and says so; what is in both is here', async () => {
    const { type, asked } = show({ kind: 'folder' });
    await type('bo');
    expect(asked.map(([name]) => name)).not.toContain('office.search');
    await type('boi');
    expect(asked.filter(([name]) => name === 'office.search')).toEqual([['office.search', { words: 'boi', limit: 4 }]]);
    expect(listed(officeWords.section)).toEqual([`Boiler attic${officeWords.isThere} · Mill Lane 3 · 4 visits`]);
    expect(listed(words.found)).toEqual([expect.stringMatching(/^Boiler cellar/)]);
  });

  it('fetches one that is in the office before it is chosen', async () => {
    const { type, press, asked, edits } = show({ kind: 'folder', fetch: { isHere: true, visits: 4 } });
    await type('boiler');
    await press(/^Boiler attic/);
    expect(asked.filter(([name]) => name === 'office.fetch')).toEqual([['office.fetch', { applianceId: 'a-there' }]]);
    expect(edits).toEqual([{ path: ['applianceId'], after: 'a-there' }]);
  });

  it.each([
    ['was lost on the way', undefined],
    ['did not come', { isHere: false, visits: 0 }],
  ])('chooses nothing when what is in the office %s', async (_what, fetch) => {
    const { type, press, edits } = show({ kind: 'folder', fetch });
    await type('boiler');
    await press(/^Boiler attic/);
    expect(edits).toEqual([]);
  });

  it('goes on with what is here while the office is away', async () => {
    const { type, press, edits } = show({ kind: 'folder', search: () => ({ ok: false, error: { code: 'office-unreachable' } }) });
    await type('boiler');
    expect(listed(officeWords.section)).toEqual([]);
    await press(/^Boiler cellar/);
    expect(edits).toEqual([{ path: ['applianceId'], after: 'a-here' }]);
  });
});
