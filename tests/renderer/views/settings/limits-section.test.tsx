// @vitest-environment happy-dom
/** A limit is kept as soon as it is a number inside its range; until then its field says what can be typed, and nothing is kept. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../../renderer/app-parts.ts';
import { createAppStore } from '../../../../renderer/state/store.ts';
import { LimitsSection } from '../../../../renderer/views/settings/LimitsSection.tsx';
import { Settings } from '../../../../shared/ipc/settings.ts';
import { settingsWords } from '../../../../shared/words/settings.ts';
import { common } from '../../../../shared/words/common.ts';

beforeEach(() => void vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

function open(units: 'us' | 'metric' = 'metric') {
  const store = createAppStore();
  store.setState({ settings: Settings.parse({ units }) });
  const changeSettings = vi.fn();
  render(
    <AppContext value={{ store, actions: { changeSettings } } as unknown as AppParts}>
      <LimitsSection />
    </AppContext>,
  );
  const [o2Band, , coShareBand] = screen.getAllByRole<HTMLInputElement>('textbox');
  return { o2Band: o2Band!, coShareBand: coShareBand!, changeSettings };
}
const typeInto = (field: HTMLElement, value: string): void => void fireEvent.change(field, { target: { value } });

it('complains of nothing as it stands', () => {
  open();
  expect(screen.queryByText(common.fieldErrors.empty)).toBeNull();
});

// 1 K is a difference of 1.8 °F: the scales' definition
it.each([
  ['us', '3.6', '°F', '4.5', 2.5],
  ['metric', '2', 'K', '2,5', 2.5],
] as const)(
  'shows a difference of temperatures in the degrees of the window and keeps it in kelvins: %s',
  (units, shown, unit, typed, kept) => {
    const { changeSettings } = open(units);
    const [stack] = screen.getAllByLabelText<HTMLInputElement>(settingsWords.bandStack);
    expect([stack!.value, stack!.parentElement?.textContent]).toEqual([shown, unit]);
    typeInto(stack!, typed);
    const [[{ bands }]] = changeSettings.mock.calls as [[{ bands: { stackK: number } }]];
    expect(bands.stackK).toBeCloseTo(kept, 12);
  },
);

it('keeps what is inside, a share as a part of one', () => {
  const { o2Band, coShareBand, changeSettings } = open();
  typeInto(o2Band, '0.3');
  expect(changeSettings).toHaveBeenLastCalledWith({ bands: { o2Percent: 0.3 } });
  typeInto(coShareBand, '8');
  expect(changeSettings).toHaveBeenLastCalledWith({ bands: { coShare: 0.08 } });
});

it.each([
  ['', common.fieldErrors.empty],
  ['900', common.fieldErrors.outside('0.02', '2')],
  ['wide', /./],
])('keeps nothing of "%s" and says why', (text, complaint) => {
  const { o2Band, changeSettings } = open();
  typeInto(o2Band, text);
  expect(changeSettings).not.toHaveBeenCalled();
  expect(o2Band.getAttribute('aria-invalid')).toBe('true');
  const said = (o2Band.getAttribute('aria-describedby') ?? '').split(' ').map((id) => document.getElementById(id)?.textContent ?? '');
  expect(said.join(' ')).toMatch(complaint);
});
