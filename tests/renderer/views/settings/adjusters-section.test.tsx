// @vitest-environment happy-dom
/** The burner's adjusters on the person's own scales: what is typed is saved as soon as all rows can be, and nothing before. */
import { cleanup, fireEvent, screen, within } from '@testing-library/react';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { AppContext, useParts } from '../../../../renderer/app-parts.ts';
import { AdjustersSection } from '../../../../renderer/views/settings/AdjustersSection.tsx';
import type { Settings } from '../../../../shared/ipc/settings.ts';
import { settingsWords as words } from '../../../../shared/words/settings.ts';
import { createAppStore } from '../../../../renderer/state/store.ts';
import { button, inWindow, press } from '../../helpers/in-window.tsx';

afterEach(cleanup);

type Adjuster = Settings['adjusters'][number];
const shutter: Adjuster = { name: 'Shutter', coarse: false, min: 0, max: 10, step: 0.25, kind: 'air', moreAir: 'up' };
const head: Adjuster = { name: 'Turbulator', coarse: true, step: 1, kind: 'head' };

function show(adjusters: Adjuster[] = [shutter, head]) {
  const changeSettings = vi.fn();
  function Section() {
    const parts = useParts();
    return (
      <AppContext value={{ ...parts, actions: { ...parts.actions, changeSettings } }}>
        <AdjustersSection />
      </AppContext>
    );
  }
  inWindow(<Section />, { settings: { ...createAppStore().getState().settings, adjusters } });
  return { changeSettings, saved: () => (changeSettings.mock.lastCall?.[0] as { adjusters: Adjuster[] } | undefined)?.adjusters };
}
const row = (at: number): HTMLElement => screen.getAllByRole('listitem')[at]!;
const typeIn = (at: number, label: string, value: string): void =>
  void fireEvent.change(within(row(at)).getByLabelText(label), { target: { value } });
const wrong = (at: number): string | undefined => row(at).querySelector('.field-error')?.textContent ?? undefined;

it('shows them as they were saved, and asks what moves the air for those of the air only', () => {
  show();
  const shown = (at: number) =>
    [...row(at).querySelectorAll<HTMLInputElement>('input, select')].map((one) => (one.type === 'checkbox' ? one.checked : one.value));
  expect(shown(0)).toEqual(['Shutter', '0', '10', '0.25', 'air', 'up', false]);
  expect(shown(1)).toEqual(['Turbulator', '', '', '1', 'head', true]);
  expect(screen.queryByText(words.adjusterKindAsk)).toBeNull();
});
it('saves what is typed and chosen', () => {
  const { saved } = show();
  typeIn(0, words.adjusterName, ' Band ');
  typeIn(0, words.adjusterLow, '1');
  typeIn(0, words.adjusterHigh, '');
  typeIn(0, words.adjusterStep, '0,5');
  typeIn(0, words.adjusterMoreAir, 'down');
  fireEvent.click(within(row(0)).getByLabelText(words.adjusterCoarse));
  expect(saved()).toEqual([{ name: 'Band', coarse: true, min: 1, step: 0.5, kind: 'air', moreAir: 'down' }, head]);
});
it('saves which number is more air for the air only', () => {
  const { saved } = show();
  typeIn(0, words.adjusterKind, 'draft');
  expect(saved()?.[0]).toEqual({ name: 'Shutter', coarse: false, min: 0, max: 10, step: 0.25, kind: 'draft' });
});
it('asks what one moves that does not say so by its name', () => {
  show([{ name: 'Screw', coarse: false, step: 1 }, head]);
  expect(within(row(0)).getByText(words.adjusterKindAsk)).toBeDefined();
  expect(within(row(1)).queryByText(words.adjusterKindAsk)).toBeNull();
});

describe('nothing is saved, and the row says why, when', () => {
  it.each([
    ['it has no name', words.adjusterName, ' ', words.adjusterWrong.name],
    ['it is called as another is', words.adjusterName, 'turbulator ', words.adjusterWrong.name],
    ['its scale ends where it begins', words.adjusterHigh, '0', words.adjusterWrong.range],
    ['its scale runs backwards', words.adjusterLow, '11', words.adjusterWrong.range],
    ['it has no step', words.adjusterStep, '', words.adjusterWrong.step],
    ['its step is nothing', words.adjusterStep, '0', words.adjusterWrong.step],
  ])('%s', (_what, label, text, why) => {
    const { changeSettings } = show();
    typeIn(0, label, text);
    expect(wrong(0)).toBe(why);
    expect(changeSettings).not.toHaveBeenCalled();
  });
  it.each([words.adjusterLow, words.adjusterHigh, words.adjusterStep])('"%s" is no number', (label) => {
    const { changeSettings, saved } = show();
    typeIn(0, label, 'wide');
    expect(wrong(0)).toBeDefined();
    expect(changeSettings).not.toHaveBeenCalled();
    typeIn(0, label, '5');
    expect(wrong(0)).toBeUndefined();
    expect(saved()).toHaveLength(2);
  });
  it('two have one name: both rows say so', () => {
    show();
    typeIn(1, words.adjusterName, 'SHUTTER');
    expect([wrong(0), wrong(1)]).toEqual([words.adjusterWrong.name, words.adjusterWrong.name]);
  });
});

it('one more can be added up to six, from 0 to 10 by 1, and what it moves is asked', () => {
  const { saved } = show();
  press(words.adjusterAdd);
  expect(saved()?.[2]).toEqual({ name: 'Adjuster 3', coarse: false, min: 0, max: 10, step: 1 });
  expect(within(row(2)).getByText(words.adjusterKindAsk)).toBeDefined();
  for (let more = 0; more < 3; more += 1) press(words.adjusterAdd);
  expect(saved()).toHaveLength(6);
  expect(button(words.adjusterAdd).disabled).toBe(true);
});
it('one can be removed, but not the last', () => {
  const { saved } = show();
  press(words.adjusterAway('Shutter'));
  expect(saved()).toEqual([head]);
  expect(button(words.adjusterAway('Turbulator')).disabled).toBe(true);
});
it('a row that is added after one was removed is a row of its own', () => {
  const { saved } = show();
  press(words.adjusterAdd);
  press(words.adjusterAway('Shutter'));
  press(words.adjusterAdd);
  typeIn(2, words.adjusterName, 'Damper');
  expect(saved()?.map(({ name }) => name)).toEqual(['Turbulator', 'Adjuster 3', 'Damper']);
});
