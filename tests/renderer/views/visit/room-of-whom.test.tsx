// @vitest-environment happy-dom
/** A reading of the room goes to the visit whose room it is, whichever visit is on screen; where an instrument belongs to none, that is said. */
import { cleanup, screen } from '@testing-library/react';
import { afterEach, beforeAll, expect, it } from 'vitest';
import { MainButton } from '../../../../renderer/views/tune/mark-bar/MainButton.tsx';
import '../../../../renderer/views/visit/WayOutDialogs.tsx';
import { RoomAlarm } from '../../../../renderer/views/visit/VisitLines.tsx';
import type { AppState } from '../../../../renderer/state/store.ts';
import { alarmWords } from '../../../../shared/words/tune/alarms.ts';
import { wayOutWords } from '../../../../shared/words/tune/way-out.ts';
import { button, field, inWindow, oilVisit, press, settled, typeInto } from '../../helpers/in-window.tsx';
import { recordWith } from '../../helpers/records.ts';

afterEach(cleanup);

const run = (visitId?: string): Partial<AppState> => ({
  runs: { 'run-1': recordWith({ timeMs: 1000 }, visitId === undefined ? {} : { visitId }) },
  runId: 'run-1',
});
const typed: Partial<AppState> = { ...run('other'), alarms: [{ key: 'room-co', level: 'out', ppm: 120, visitId: 'other' }] };
const measured = (visitId?: string): Partial<AppState> => ({
  ...run(visitId),
  alarms: [{ key: 'room-co', level: 'stop', ppm: 60, runId: 'run-1' }],
});
const toOther = (ppm: number) => ({
  name: 'visit.edit',
  input: { id: 'other', changes: [{ path: ['roomCo', '-'], after: { wallMs: 5, ppm } }] },
});

it.each([
  ['another visit on screen', { visit: oilVisit() }],
  ['no visit on screen', {}],
])('the room that everybody has left, %s', async (_what, state) => {
  const { edits, asked } = inWindow(<RoomAlarm />, { ...typed, ...state }, { 'visit.edit': {} });
  expect(screen.getByText(alarmWords.roomOfOther)).toBeDefined();
  typeInto(alarmWords.roomAgain, '4');
  press(alarmWords.roomUse);
  await settled();
  expect(edits).toEqual([]);
  expect(asked).toEqual([toOther(4)]);
  expect(field(alarmWords.roomAgain).value).toBe('');
});
it('refused by that visit: the figure stays, and why', async () => {
  inWindow(<RoomAlarm />, { ...typed, visit: oilVisit() });
  typeInto(alarmWords.roomAgain, '4');
  press(alarmWords.roomUse);
  await settled();
  expect(field(alarmWords.roomAgain).value).toBe('4');
  expect(field(alarmWords.roomAgain).getAttribute('aria-invalid')).toBe('true');
});

const deed = { does: 'room', text: wayOutWords.roomAgain, under: undefined, key: 'main' } as const;
const main = (state: Partial<AppState>) =>
  inWindow(<MainButton deed={deed} blocked={false} />, { visit: oilVisit(), ...state }, { 'visit.edit': {} });
/** its script comes when it is first asked for */
beforeAll(async () => {
  main(measured('v'));
  press(wayOutWords.roomAgain);
  await settled();
  cleanup();
});
const again = async (ppm: string): Promise<void> => {
  press(wayOutWords.roomAgain);
  await settled();
  typeInto(wayOutWords.roomField, ppm);
  press(wayOutWords.roomSave);
  await settled();
};
it('measured by an instrument of the visit on screen: it goes there', async () => {
  const { edits, asked } = main(measured('v'));
  await again('7');
  expect(edits).toEqual([{ path: ['roomCo', 0], after: { wallMs: 5, ppm: 7 } }]);
  expect(asked).toEqual([]);
});
it('measured by an instrument of another visit: it goes to that one', async () => {
  const { edits, asked } = main(measured('other'));
  await again('7');
  expect(edits).toEqual([]);
  expect(asked).toEqual([toOther(7)]);
});
it('measured by an instrument of none, such as one on the bench: no visit takes it, and it says so', async () => {
  const { edits, asked } = main(measured());
  press(wayOutWords.roomAgain);
  await settled();
  expect(screen.getByText(wayOutWords.roomOfNone)).toBeDefined();
  expect(screen.queryByLabelText(wayOutWords.roomField)).toBeNull();
  expect(button(wayOutWords.roomLeft)).toBeDefined();
  expect([edits, asked]).toEqual([[], []]);
});
