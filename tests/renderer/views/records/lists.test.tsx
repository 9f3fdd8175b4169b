// @vitest-environment happy-dom
/** The lists of the records: empty, searched, grown, refused, and walked; days are those of the visit, not of this computer. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { ApplianceList, VisitList } from '../../../../renderer/views/records/lists.tsx';
import type { StoredAppliance, VisitSummary } from '../../../../shared/ipc/store-commands.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import { button, inWindow, press, settled } from '../../helpers/in-window.tsx';

beforeEach(() => void vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

const choose = vi.fn();
beforeEach(() => void choose.mockClear());
/** an evening in the west of America is the next day in UTC, and a morning in the east of Asia the day before */
const evening = { startedWallMs: Date.UTC(2026, 10, 25, 2, 0), zoneMinutes: -480 };
const visit = (number: number, more: Partial<VisitSummary> = {}): VisitSummary => ({
  id: `v-${number}`,
  number,
  kind: 'service',
  status: 'open',
  startedWallMs: Date.UTC(2026, 10, 20, 12),
  zoneMinutes: 0,
  watermarked: false,
  trials: 0,
  ...more,
});
const unit = (id: string, name: string, more: Partial<StoredAppliance> = {}): StoredAppliance => ({
  id,
  appliance: { format: 1, name, kind: 'boiler-water' },
  revision: 1,
  visits: 0,
  ...more,
});
async function show(list: 'visits' | 'appliances', answer: unknown, { search = '', chosen }: { search?: string; chosen?: string } = {}) {
  const part =
    list === 'visits' ? (
      <VisitList search={search} chosen={chosen} choose={choose} />
    ) : (
      <ApplianceList search={search} chosen={chosen} choose={choose} />
    );
  const made = inWindow(part, { workspace: 'records' }, { 'visit.list': answer, 'appliance.list': answer });
  await settled();
  return { ...made, rows: () => [...made.page.querySelectorAll<HTMLButtonElement>('.record-row')] };
}
const text = (element: Element): string => (element.textContent ?? '').replace(/\s+/g, ' ').trim();

it('visits stand with number, the day where they were, appliance and state; the first one is chosen by itself, and only when none is', async () => {
  const visits = [visit(2, { ...evening, applianceName: 'Boiler cellar', status: 'signed' }), visit(1)];
  const { rows } = await show('visits', { visits, total: 2 });
  expect(rows().map(text)).toEqual([
    `${words.visit(2)} · 24 Nov 2026Boiler cellar · ${words.status.signed}`,
    `${words.visit(1)} · 20 Nov 2026${words.withoutAppliance} · ${words.status.open}`,
  ]);
  expect(choose.mock.calls).toEqual([['v-2']]);
  fireEvent.click(rows()[1]!);
  expect(choose).toHaveBeenLastCalledWith('v-1');
  cleanup();
  choose.mockClear();
  const { rows: again } = await show('visits', { visits, total: 2 }, { chosen: 'v-1' });
  expect(choose).not.toHaveBeenCalled();
  expect(again().map((row) => row.getAttribute('aria-current'))).toEqual([null, 'true']);
});

it('without a visit it leads to where one is started; a search without a find says what was searched', async () => {
  const { store } = await show('visits', { visits: [], total: 0 });
  press(words.toTune);
  expect(store.getState().workspace).toBe('tune');
  cleanup();
  await show('visits', { visits: [], total: 0 }, { search: ' xyz ' });
  expect(screen.getByText(words.noneFound('xyz'))).toBeDefined();
  expect(screen.queryByText(words.empty)).toBeNull();
  cleanup();
  await show('appliances', { appliances: [], total: 0, overdue: 0 });
  expect(screen.getByText(words.noAppliances)).toBeDefined();
});

it.each(['visits', 'appliances'] as const)('%s that cannot be read: why, in the place of the list, and nothing is chosen', async (list) => {
  const { page } = await show(list, undefined);
  expect(page.querySelector('.records-none')?.textContent).not.toBe('');
  expect(page.querySelector('.records-list')?.getAttribute('aria-busy')).toBeNull();
  expect(choose).not.toHaveBeenCalled();
});

it('a long list says how much of it is here and grows by a press, to five hundred', async () => {
  const { asked } = await show('visits', { visits: [visit(1)], total: 900 });
  expect(screen.getByRole('status').textContent).toBe('1 of 900');
  for (let limit = 200; limit <= 500; limit += 100) {
    press(words.more);
    await settled();
    expect(asked.at(-1)).toEqual({ name: 'visit.list', input: { search: '', limit } });
  }
  expect(() => button(words.more)).toThrow(/^0 buttons/);
});

it('up and down walk the rows and stop at both ends', async () => {
  const { rows } = await show('visits', { visits: [visit(3), visit(2), visit(1)], total: 3 });
  rows()[0]!.focus();
  for (const [key, at] of [
    ['ArrowUp', 0],
    ['ArrowDown', 1],
    ['ArrowDown', 2],
    ['ArrowDown', 2],
    ['ArrowUp', 1],
  ] as const) {
    fireEvent.keyDown(document.activeElement!, { key });
    expect(rows().indexOf(document.activeElement as HTMLButtonElement)).toBe(at);
  }
});

it('appliances stand with their visits, the day of the last one where it was, and what is due or overdue', async () => {
  const year = new Date().getFullYear();
  const appliances = [
    unit('a', 'Hall', {
      visits: 2,
      lastVisitWallMs: evening.startedWallMs,
      lastVisitZoneMinutes: evening.zoneMinutes,
      appliance: { format: 1, name: 'Hall', kind: 'furnace', nextDue: `${year - 1}-01-31` },
    }),
    unit('b', 'Shop', { lastVisitWallMs: Date.UTC(2026, 10, 24, 20), lastVisitZoneMinutes: 540, visits: 1 }),
    unit('c', 'Cellar', { appliance: { format: 1, name: 'Cellar', kind: 'boiler-water', nextDue: `${year + 1}-01-31` } }),
  ];
  const { rows, asked } = await show('appliances', { appliances, total: 3, overdue: 1 });
  expect(rows().map(text)).toEqual([
    `Hall2 visits · 24 Nov 2026overdue since 31 January ${year - 1}`,
    'Shopone visit · 25 Nov 2026',
    `Cellarno visit yet · due 31 January ${year + 1}`,
  ]);
  expect(screen.getByText(words.overdueCount(1))).toBeDefined();
  expect(asked.at(-1)?.input).toMatchObject({ sort: 'due' });
  fireEvent.change(screen.getByLabelText(words.sortedBy), { target: { value: 'name' } });
  await settled();
  expect(asked.at(-1)?.input).toMatchObject({ sort: 'name' });
});
