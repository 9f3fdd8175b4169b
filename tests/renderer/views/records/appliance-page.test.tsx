// @vitest-environment happy-dom
/** An appliance's page: what a window that may only look cannot press, and what a refusal leaves as it is. */
import { cleanup, fireEvent } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { AppState } from '../../../../renderer/state/store.ts';
import { AppliancePage } from '../../../../renderer/views/records/appliance/AppliancePage.tsx';
import { common } from '../../../../shared/words/common.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import { button, inWindow, press, settled } from '../../helpers/in-window.tsx';

beforeEach(() => void vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

const appliance = { format: 1, name: 'Boiler', kind: 'boiler-water', nextDue: '2027-01-31' };
const visit = { id: 'v-1', number: 1, kind: 'service', status: 'open', startedWallMs: 0, zoneMinutes: 0, watermarked: false, trials: 0 };
async function show(role: AppState['role'], answers: Record<string, unknown> = {}) {
  const showVisit = vi.fn();
  const stored = { id: 'a', revision: 3, appliance, visits: 1 };
  const made = inWindow(
    <AppliancePage applianceId="a" showVisit={showVisit} gone={() => undefined} />,
    { role, workspace: 'records' },
    { 'appliance.get': { stored, visits: [visit], edits: [], earlierEdits: 0 }, ...answers },
  );
  await settled();
  return { ...made, showVisit };
}

it.each([
  ['operator', []],
  ['viewer', [words.facts.setDue, words.actions.edit, words.actions.exportAll, words.actions.pseudonymise]],
] as const)('to the %s', async (role, off) => {
  const { page, showVisit } = await show(role);
  expect([...page.querySelectorAll('button')].filter(({ disabled }) => disabled).map(({ textContent }) => textContent)).toEqual(off);
  press(new RegExp(`^${words.visit(1)}`));
  expect(showVisit).toHaveBeenCalledWith('v-1');
});

it('a date that cannot be read is not sent, and one that is refused stays typed', async () => {
  const { asked } = await show('operator');
  const saves = () => asked.filter(({ name }) => name === 'appliance.save');
  press(words.facts.setDue);
  const day = () => document.querySelector<HTMLInputElement>('dialog input')!;
  const type = (value: string) => fireEvent.change(day(), { target: { value } });
  type('31.1.2027');
  press(common.save);
  await settled();
  expect(saves()).toEqual([]);
  type('2028-01-31');
  press(common.save);
  await settled();
  expect(saves()[0]?.input).toEqual({ id: 'a', revision: 3, appliance: { ...appliance, nextDue: '2028-01-31' } });
  expect(day().value).toBe('2028-01-31');
  expect(button(common.save).disabled).toBe(false);
});
