// @vitest-environment happy-dom
/** The instruments in Records: the list, when a certificate runs out, and the one that is looked at, with the way to the bench. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { InstrumentPages } from '../../../../renderer/views/records/instrument/InstrumentPages.tsx';
import type { BenchTest } from '../../../../shared/bench/bench-test.ts';
import type { Instrument } from '../../../../shared/bench/instrument.ts';
import { examplePlans } from '../../../../shared/bench/plan.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import { inWindow, press, settled } from '../../helpers/in-window.tsx';
import { runPlan } from '../../../shared/bench/run-plan.ts';

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['Date'] });
  vi.setSystemTime(Date.UTC(2026, 5, 15, 12));
});
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

const one: Instrument = {
  format: 1,
  name: 'Van 1',
  serial: 'S-1',
  certificateUntil: '2026-05-01',
  cells: [{ channel: 'co', rangeLow: 0, rangeHigh: 2000, serial: 'C-7', installed: '2025-02-01' }],
};
const two: Instrument = { format: 1, name: 'Van 2', certificateUntil: '2027-05-01', hose: '3 m', cells: [] };
const three: Instrument = { format: 1, name: 'Van 3', cells: [] };

async function show(instruments: unknown[], tests: unknown[] = []) {
  const docs = (bodies: unknown[], name: string) => bodies.map((body, at) => ({ id: `${name}${at + 1}`, revision: 1, changedMs: 0, body }));
  const made = inWindow(
    <InstrumentPages />,
    { workspace: 'records' },
    {
      'document.list': ({ kind }: { kind: string }) => ({
        documents: kind === 'instrument' ? docs(instruments, 'i') : kind === 'bench-test' ? docs(tests, 't') : [],
      }),
    },
  );
  expect(document.querySelector('[aria-busy=true]')).not.toBeNull();
  await settled();
  return made;
}
const rows = (): string[] => [...document.querySelectorAll('.record-row')].map(({ textContent }) => textContent ?? '');
const current = (): string | undefined => document.querySelector('.record-row[aria-current=true] b')?.textContent ?? undefined;
const page = (): string => (document.querySelector('.records-page')?.textContent ?? '').replaceAll('\u00a0', ' ');

it('without any says where they come from', async () => {
  await show([{ name: 'torn' }]);
  expect(screen.getByText(words.noInstruments)).toBeDefined();
  expect(rows()).toEqual([]);
});
it('are listed with what tells them apart; a certificate that ran out stands out', async () => {
  await show([one, two, three]);
  expect(rows()).toEqual([
    `Van 1S-1 · no bench test yet${words.overdue('1 May 2026')}`,
    `Van 2no bench test yet · ${words.due('1 May 2027')}`,
    'Van 3no bench test yet',
  ]);
  expect(document.querySelectorAll('.overdue')).toHaveLength(1);
});
it('the first is looked at until another is chosen', async () => {
  await show([one, two, three]);
  expect(current()).toBe('Van 1');
  expect(page()).toMatch(/Van 1.*S-1.*C-7 · /);
  expect(page()).toContain(words.overdue('1 May 2026'));
  fireEvent.click(document.querySelectorAll('.record-row')[1]!);
  expect(current()).toBe('Van 2');
  expect(page()).toMatch(/3 m.*1 May 2027/);
  expect(page()).toContain(words.instrument.noTests);
  fireEvent.click(document.querySelectorAll('.record-row')[2]!);
  expect(page()).toContain(words.instrument.noDue);
});
it('opens in Bench', async () => {
  const { store } = await show([one]);
  press(words.instrument.toBench);
  expect(store.getState().workspace).toBe('bench');
});
it('has its own tests, and their drift; a test that cannot be read is left out', async () => {
  const test: BenchTest = { ...runPlan('bench-healthy', 7510, examplePlans[0]), instrumentId: 'i1' };
  await show(
    [one, two],
    [{ torn: true }, test, { ...test, startedWallMs: test.startedWallMs + 86_400_000 }, { ...test, instrumentId: 'i9' }],
  );
  expect(rows()[0]).toContain('2 bench tests');
  expect(rows()[1]).toContain('no bench test yet');
  expect(page()).toContain(words.instrument.drift);
  expect(page()).not.toContain(words.instrument.noTests);
});
