// @vitest-environment happy-dom
/** Figures cards in the records: what is refused or typed meanwhile is not lost, and a window that may only look saves and removes nothing. */
import { cleanup, fireEvent } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { AppState } from '../../../renderer/state/store.ts';
import { CardsPage } from '../../../renderer/views/geometry/cards/CardsPage.tsx';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { cardScreen as words } from '../../../shared/words/geometry/geometry-cards.ts';
import { button, field, inWindow, press, settled, typeInto } from '../helpers/in-window.tsx';

beforeEach(() => void vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

const body = { ...trainingCards[0]!, name: 'Burner 7', training: false, revision: 1 };
async function show(answers: Record<string, unknown> = {}, role: AppState['role'] = 'operator') {
  const documents = [{ id: 'c', revision: 4, body, changedMs: 0 }];
  const made = inWindow(
    <CardsPage />,
    { role, workspace: 'records' },
    { 'document.list': { documents, total: 1, unreadable: 0 }, ...answers },
  );
  await settled();
  fireEvent.click(made.page.querySelector('.record-row')!);
  return made;
}
const later = async (): Promise<void> => {
  await settled();
  await settled();
};

it('a card that could not be removed stays open, with what is typed in it', async () => {
  await show();
  typeInto(words.name, 'Burner 8');
  press(words.remove);
  await later();
  expect(field(words.name).value).toBe('Burner 8');
  cleanup();
  await show({ 'document.remove': {} });
  press(words.remove);
  await later();
  expect(() => field(words.name)).toThrow(/Unable to find/);
});

it('what is typed while the card is being saved stays, and is not called saved', async () => {
  await show({ 'document.save': { id: 'c', revision: 5, changedMs: 0 } });
  typeInto(words.name, 'Burner 8');
  press(words.saveRevision(2));
  typeInto(words.name, 'Burner 89');
  await later();
  expect(field(words.name).value).toBe('Burner 89');
  expect(button(words.saveRevision(3)).disabled).toBe(false);
});

it('a refused save leaves the card as it is typed, to be saved again', async () => {
  await show();
  typeInto(words.name, 'Burner 8');
  press(words.saveRevision(2));
  await later();
  expect(field(words.name).value).toBe('Burner 8');
  expect(button(words.saveRevision(2)).disabled).toBe(false);
});

it('in a window that may only look it is neither saved nor removed', async () => {
  const { asked } = await show({}, 'viewer');
  typeInto(words.name, 'Burner 8');
  expect([button(words.saveRevision(2)).disabled, button(words.remove).disabled]).toEqual([true, true]);
  expect(asked.filter(({ name }) => name !== 'document.list')).toEqual([]);
});
