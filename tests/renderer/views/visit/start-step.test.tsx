// @vitest-environment happy-dom
/** The first step of a visit: what each choice saves, what a window that may only look cannot press, and what is not lost by a refusal or by going elsewhere. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import type { ReactNode } from 'react';
import { afterEach, expect, it } from 'vitest';
import { AppContext, useParts } from '../../../../renderer/app-parts.ts';
import type { AppState } from '../../../../renderer/state/store.ts';
import { AirAndVenting } from '../../../../renderer/views/visit/safety/AirAndVenting.tsx';
import { StartStep } from '../../../../renderer/views/visit/steps/StartStep.tsx';
import { WorkDone } from '../../../../renderer/views/visit/WorkDone.tsx';
import { problem } from '../../../../shared/problem.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { jobWords, workWords } from '../../../../shared/words/tune/trade.ts';
import { startWords as words } from '../../../../shared/words/visit/screens/start.ts';
import { ventWords } from '../../../../shared/words/visit/venting.ts';
import { field, inWindow, oilVisit, press, settled, typeInto } from '../../helpers/in-window.tsx';

afterEach(cleanup);

function Full({ children }: { children: ReactNode }) {
  const parts = useParts();
  const edit = (): ReturnType<typeof problem> => problem('value-out-of-range', 'the list is full');
  return <AppContext value={{ ...parts, visits: { ...parts.visits, edit } }}>{children}</AppContext>;
}
const answers = { 'settings.change': {}, 'document.list': { documents: [], total: 0 } };
const show = async (visit: Partial<Visit> = {}, state: Partial<AppState> = {}, isFull = false) => {
  const made = inWindow(
    isFull ? (
      <Full>
        <StartStep />
      </Full>
    ) : (
      <StartStep />
    ),
    { visit: oilVisit(visit), visitStep: 'start', ...state },
    answers,
  );
  await settled();
  return made;
};
const choose = (label: string, value: string): void => void fireEvent.change(field(label), { target: { value } });
const choices = [
  [words.zeroed, 'outdoors', { path: ['zeroed'], after: { wallMs: 5, place: 'outdoors' } }],
  [jobWords.label, 'check', { path: ['job'], after: 'check' }],
  [words.fuel, 'no1', { path: ['fuelId'], after: 'no1' }],
  [words.kind, 'training', { path: ['kind'], after: 'training' }],
  [words.draftHabit, 'plain', { path: ['draftHabit'], after: 'plain' }],
  [words.flame, 'blue', { path: ['flame'], after: 'blue' }],
] as const;

it.each(choices)('%s: one choice, one change, and a refusal is said', async (label, value, change) => {
  const { edits } = await show();
  choose(label, value);
  expect(edits).toEqual([change]);
  cleanup();
  const { store } = await show({}, {}, true);
  choose(label, value);
  expect(store.getState().answer?.problem.detail).toBe('the list is full');
});

it('the units of the report are the units of the window too, and lengths that were typed keep theirs', async () => {
  const { edits, asked } = await show();
  choose(words.units, 'metric');
  expect(asked).toContainEqual({ name: 'settings.change', input: { patch: { units: 'metric' } } });
  expect(edits).toEqual([
    { path: ['unitPreset'], after: 'metric' },
    { path: ['setUp', 'lengthUnit'], after: 'mm' },
  ]);
  cleanup();
  const typed = await show({ setUp: { ...oilVisit().setUp, rows: { nozzleAngleDeg: { asFound: 80 } } } });
  choose(words.units, 'metric');
  expect(typed.edits).toEqual([{ path: ['unitPreset'], after: 'metric' }]);
});

it('in a window that may only look, and of a visit that is closed, nothing can be entered', async () => {
  for (const [visit, state] of [
    [{}, { role: 'viewer' }],
    [{ kind: 'training', endedWallMs: 9 }, {}],
  ] as [Partial<Visit>, Partial<AppState>][]) {
    const { page } = await show(visit, state);
    const open = [...page.querySelectorAll<HTMLInputElement | HTMLSelectElement>('.start-columns input, .start-columns select')].filter(
      ({ disabled }) => !disabled,
    );
    expect(open.map((one) => one.id && page.querySelector(`[for="${one.id}"]`)?.textContent)).toEqual([]);
    cleanup();
  }
});

it('a licence waits for the name it belongs to', async () => {
  await show();
  expect(field(words.licence).disabled).toBe(true);
  cleanup();
  const { edits } = await show({ people: [{ role: 'technician', name: 'A. Sample' }] });
  typeInto(words.licence, 'L 1');
  expect(edits).toEqual([{ path: ['people', 0], after: { role: 'technician', name: 'A. Sample', licence: 'L 1' } }]);
});

it('the air of the room is read twice: each is a reading; before firing the first one answers its test', async () => {
  const { edits } = await show();
  typeInto(words.roomCo, '3');
  press(words.roomCoRead);
  press(words.roomCoRead);
  expect(edits.map(({ path }) => path[0])).toEqual(['roomCo', 'safety']);
  expect(field(words.roomCo).value).toBe('');
});

it('a figure of the room that is typed and not saved is still there after another screen was looked at by a key', async () => {
  const { store } = await show();
  typeInto(words.roomCo, '12x');
  const kept = store.getState().fieldTexts;
  cleanup();
  await show({}, { fieldTexts: kept });
  expect(field(words.roomCo).value).toBe('12x');
});

it('an item of air and venting that was refused stays in front with its note, and a note stays with its item', () => {
  const visit = oilVisit();
  const { store, asked } = inWindow(
    <Full>
      <AirAndVenting toTests={null} />
    </Full>,
    { visit },
  );
  typeInto(ventWords.note, 'grille half closed');
  press(ventWords.fail);
  expect(store.getState().answer?.problem.detail).toBe('the list is full');
  expect(field(ventWords.note).value).toBe('grille half closed');
  press(new RegExp(ventWords.items.pitch));
  expect(field(ventWords.note).value).toBe('');
  press(new RegExp(ventWords.items.openings));
  expect(field(ventWords.note).value).toBe('grille half closed');
  expect(asked).toEqual([]);
});

it('a defect that is typed and not saved is not lost, and says why it was refused', () => {
  const { store } = inWindow(
    <Full>
      <WorkDone />
    </Full>,
    { visit: oilVisit() },
  );
  typeInto(workWords.defect, 'cracked door');
  press(workWords.addDefect);
  expect(screen.getByText('the list is full')).toBeDefined();
  const kept = store.getState().fieldTexts;
  cleanup();
  inWindow(<WorkDone />, { visit: oilVisit(), fieldTexts: kept });
  expect(field(workWords.defect).value).toBe('cracked door');
});
