// @vitest-environment happy-dom
/** The set-up sheet: one thing at a time first, everything in a table by choice, and back; what is typed in the table goes to its own row. */
import { act, cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { SetUpStep } from '../../../renderer/views/visit/steps/set-up/SetUpStep.tsx';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { cautionsOf } from '../../../shared/tuning/advice/cautions.ts';
import { setUpScreen } from '../../../shared/words/visit/screens/set-up.ts';
import { inWindow, oilVisit, press } from '../helpers/in-window.tsx';

afterEach(cleanup);

const show = (more: object = {}) =>
  inWindow(<SetUpStep />, {
    visit: oilVisit({
      setUp: {
        lengthUnit: 'mm',
        rows: {},
        geometry: { card: trainingCards[0], tubeEnd: 'straight', at: { step: 'gap', side: 'asFound' } },
      },
    }),
    visitStep: 'set-up',
    ...more,
  });
const isTable = (): boolean => document.querySelector('table.set-up') !== null;

it('leads one thing at a time, and turns to the table and back', () => {
  show();
  expect([isTable(), document.querySelector('.fraction-field') !== null]).toEqual([false, true]);
  press('Table');
  expect([isTable(), document.querySelector('.fraction-field') !== null]).toEqual([true, false]);
  press('One at a time');
  expect(isTable()).toBe(false);
});
it('from two metres it is the one thing, whichever was in front', () => {
  const { store } = show();
  press('Table');
  expect(document.querySelector('.geometry-far')).toBeNull();
  cleanup();
  show({ far: true });
  expect(document.querySelector('.geometry-far')).not.toBeNull();
  expect(store.getState().far).toBe(false);
});
it('the unit of lengths is chosen in the table, and figures that are there stay the same lengths', () => {
  const { edits } = inWindow(<SetUpStep />, {
    visit: oilVisit({ setUp: { lengthUnit: 'mm', rows: {}, geometry: { rows: { electrodeGap: { asFound: '4' } } } } }),
    visitStep: 'set-up',
  });
  press('Table');
  const unit = screen.getByLabelText<HTMLSelectElement>('Lengths in');
  unit.value = 'inch';
  unit.dispatchEvent(new Event('change', { bubbles: true }));
  expect(edits[0]).toEqual({ path: ['setUp', 'lengthUnit'], after: 'inch' });
  expect(edits.slice(1)).toMatchObject([
    { path: ['setUp', 'geometry', 'rows', 'electrodeGap'], after: { asFound: expect.stringMatching(/^4\smm$/) as string } },
  ]);
});
it('the spray pattern is none until it is chosen, and none again when it is taken back', () => {
  const setUp = { lengthUnit: 'mm' as const, rows: {} };
  const { store, edits } = inWindow(<SetUpStep />, {
    visit: oilVisit({ setUp: { ...setUp, nozzlePattern: { asFound: 'hollow' } } }),
    visitStep: 'set-up',
  });
  press('Table');
  const patterns = (): HTMLSelectElement[] => screen.getAllByLabelText<HTMLSelectElement>(RegExp(`^${setUpScreen.pattern}, `));
  expect(patterns().map(({ value }) => value)).toEqual(['hollow', '']);
  fireEvent.change(patterns()[1]!, { target: { value: 'solid' } });
  fireEvent.change(patterns()[0]!, { target: { value: '' } });
  expect(edits).toEqual([
    { path: ['setUp', 'nozzlePattern'], after: { asFound: 'hollow', asLeft: 'solid' } },
    { path: ['setUp', 'nozzlePattern'], after: { asFound: undefined } },
  ]);
  act(() => store.setState({ visit: oilVisit({ setUp }) }));
  expect(patterns().map(({ value }) => value)).toEqual(['', '']);
});
it('says that a field cannot be read before it says that nothing is missing, and going on is not what it asks for', () => {
  show();
  press('Table');
  const says = (): string | null => document.querySelector('.visit-bar .says')?.textContent ?? null;
  const main = (): HTMLElement => document.querySelector<HTMLElement>('.visit-bar .button.main')!;
  const before = says();
  expect(before).not.toMatch(/cannot be read/);
  const field = screen
    .getAllByLabelText<HTMLInputElement>(/as found$/)
    .find((one) => one.tagName === 'INPUT' && one.closest('table') !== null)!;
  fireEvent.change(field, { target: { value: '4,4,4' } });
  expect(says()).toBe('One field cannot be read and is not saved. Correct it.');
  expect(main().className).toContain('by-hand');
  fireEvent.change(field, { target: { value: '4.4' } });
  expect(says()).toBe(before);
});
it('keeps the caution of the power in the table, also after the cautions of the step were read', () => {
  show({ visit: oilVisit({ cautions: cautionsOf['set-up'].map((key) => ({ key, wallMs: 0 })) }) });
  press('Table');
  expect(document.querySelector('.hand-caution')?.textContent).toMatch(/^Power off/);
});
