// @vitest-environment happy-dom
/** What a visit does not take: the window stays open, what was typed is still there, and it says why. Nothing is reset or counted as done. */
import { act, cleanup, fireEvent, screen } from '@testing-library/react';
import type { ReactNode } from 'react';
import { afterEach, expect, it, vi } from 'vitest';
import { AppContext, useParts } from '../../../../renderer/app-parts.ts';
import { CardChooser } from '../../../../renderer/views/visit/card/CardChooser.tsx';
import { BypassList } from '../../../../renderer/views/visit/safety/BypassList.tsx';
import { FlueLimitsButton } from '../../../../renderer/views/visit/start/FlueLimits.tsx';
import { SafetyStep } from '../../../../renderer/views/visit/steps/SafetyStep.tsx';
import { LeftOff, OilCause, RoomAgain } from '../../../../renderer/views/visit/WayOutDialogs.tsx';
import { RoomCoField } from '../../../../renderer/views/visit/safety/RoomCoField.tsx';
import { WorstCaseTest } from '../../../../renderer/views/visit/safety/WorstCaseTest.tsx';
import { RoomAlarm } from '../../../../renderer/views/visit/VisitLines.tsx';
import type { AppState, AppStore } from '../../../../renderer/state/store.ts';
import { usualWorstRule } from '../../../../shared/tuning/safety/venting.ts';
import { controlWords } from '../../../../shared/words/visit/safety-tests.ts';
import { startWords } from '../../../../shared/words/visit/screens/start.ts';
import { ventWords } from '../../../../shared/words/visit/venting.ts';
import { recordWith } from '../../helpers/records.ts';
import { problem } from '../../../../shared/problem.ts';
import { leftOffWords } from '../../../../shared/words/tune/advice.ts';
import { alarmWords } from '../../../../shared/words/tune/alarms.ts';
import { wayOutWords } from '../../../../shared/words/tune/way-out.ts';
import { common } from '../../../../shared/words/common.ts';
import { problems } from '../../../../shared/words/problems.ts';
import { leftScreen } from '../../../../shared/words/visit/screens/as-left.ts';
import { safetyScreen } from '../../../../shared/words/visit/screens/safety.ts';
import { field, inWindow, oilVisit, press, settled, typeInto } from '../../helpers/in-window.tsx';

afterEach(cleanup);

function Full({ children }: { children: ReactNode }) {
  const parts = useParts();
  const edit = (): ReturnType<typeof problem> => problem('value-out-of-range', 'the list is full');
  return <AppContext value={{ ...parts, visits: { ...parts.visits, edit } }}>{children}</AppContext>;
}
const full = (part: ReactNode, state: Partial<AppState> = {}) => inWindow(<Full>{part}</Full>, { visit: oilVisit(), ...state });
const told = (store: AppStore) => store.getState().answer?.problem.detail;

it.each([
  [
    'the room again',
    (close: () => void) => <RoomAgain close={close} />,
    () => typeInto(wayOutWords.roomField, '12'),
    wayOutWords.roomSave,
    () => field(wayOutWords.roomField).value === '12',
  ],
  [
    'what the oil came from',
    (close: () => void) => <OilCause close={close} />,
    () => typeInto(wayOutWords.oilField, 'worn nozzle'),
    wayOutWords.oilSave,
    () => field(wayOutWords.oilField).value === 'worn nozzle',
  ],
  [
    'what was done with a burner that is not safe',
    (close: () => void) => <LeftOff close={close} />,
    () => {
      fireEvent.click(field(leftOffWords.leftOff));
      fireEvent.click(field(leftOffWords.redTagged));
      typeInto(leftOffWords.ownerTold, 'the owner');
    },
    leftOffWords.save,
    () => field(leftOffWords.ownerTold).value === 'the owner',
  ],
] as const)('%s', (_what, part, type, save, isThere) => {
  const close = vi.fn();
  full(part(close));
  type();
  press(save);
  expect(close).not.toHaveBeenCalled();
  expect(isThere()).toBe(true);
  expect(screen.getByText('the list is full')).toBeDefined();
});

it('limits of CO in the flue', () => {
  full(<FlueLimitsButton />);
  press(alarmWords.change);
  typeInto(alarmWords.notice, '40');
  press(alarmWords.keep);
  expect(field(alarmWords.notice).value).toBe('40');
  expect(screen.getByText('the list is full')).toBeDefined();
});

it('a card of limits', async () => {
  const close = vi.fn();
  full(<CardChooser close={close} />);
  await settled();
  fireEvent.click(screen.getAllByText(leftScreen.useCopy)[0]!);
  expect(close).not.toHaveBeenCalled();
  expect(screen.getByText('the list is full')).toBeDefined();
});

it('a jumper', () => {
  full(<BypassList offered />);
  typeInto(safetyScreen.bypassWhat, 'cad cell');
  press(safetyScreen.bypassOpen);
  expect(field(safetyScreen.bypassWhat).value).toBe('cad cell');
  expect(screen.getByText('the list is full')).toBeDefined();
});

it('a safety test: its time stays on the watch, the test stays in front, and the refusal is said', () => {
  const watch = { elapsedS: 12, running: false, laps: [], heardAt: 0 };
  const { store, asked } = inWindow(
    <Full>
      <SafetyStep />
    </Full>,
    { visit: oilVisit(), visitStep: 'safety', safetyTest: 'flame-failure', watches: { 'flame-failure': watch } },
  );
  press(safetyScreen.fail);
  expect(asked.filter(({ name }) => name === 'visit.watch')).toEqual([]);
  expect(store.getState().safetyTest).toBe('flame-failure');
  expect(store.getState().answer?.problem.code).toBe('value-out-of-range');
});

it('the air of the room: the figure stays in the field, by the button and when the field is left', () => {
  full(<RoomCoField />);
  typeInto(startWords.roomCo, '12');
  press(startWords.roomCoRead);
  expect(field(startWords.roomCo).value).toBe('12');
  expect(screen.getByText('the list is full')).toBeDefined();
  typeInto(startWords.roomCo, '13');
  expect(screen.queryByText('the list is full')).toBeNull();
  fireEvent.blur(field(startWords.roomCo));
  expect(field(startWords.roomCo).value).toBe('13');
  expect(screen.getByText('the list is full')).toBeDefined();
});

const out: Partial<AppState> = { alarms: [{ key: 'room-co', level: 'out', ppm: 120, visitId: 'v' }] };
it('the air of a room that everybody has left', () => {
  full(<RoomAlarm />, out);
  typeInto(alarmWords.roomAgain, '12');
  press(alarmWords.roomUse);
  expect(field(alarmWords.roomAgain).value).toBe('12');
  expect(screen.getByText('the list is full')).toBeDefined();
});
it('a room alarm lies over everything: what the host refuses later is said in it, and a figure below zero too', () => {
  const { store, edits } = inWindow(<RoomAlarm />, { visit: oilVisit(), ...out });
  typeInto(alarmWords.roomAgain, '-3');
  press(alarmWords.roomUse);
  expect(edits).toEqual([]);
  expect(screen.getByText(common.fieldErrors.empty)).toBeDefined();
  act(() => store.getState().commandFailed(problem('disk-full')));
  expect(screen.getByText(problems['disk-full'].title)).toBeDefined();
});

it('the times of a control, and what it does when the flame is lost', () => {
  const { store } = full(<SafetyStep />, {
    visit: oilVisit({ control: { onFlameLoss: 'recycles' } }),
    visitStep: 'safety',
    safetyTest: 'flame-failure',
  });
  typeInto(controlWords.recycleWait, '65');
  fireEvent.blur(field(controlWords.recycleWait));
  expect(field(controlWords.recycleWait).value).toBe('65');
  expect(screen.getByText('the list is full')).toBeDefined();
  fireEvent.change(field(controlWords.onFlameLoss), { target: { value: 'locks-out' } });
  expect(told(store)).toBe('the list is full');
});

const worst = { runId: 'run-1', startWallMs: 0, offFromMs: 0, rule: usualWorstRule };
const level = { mean: -6, half: 0.1, seconds: 120 };
it.each([
  ['that begins', [], /^Fans are off: begin/],
  ['with the fans on', [worst], /^Fans are on now/],
  ['that is saved', [{ ...worst, onFromMs: 70_000 }], /^Save/],
  ['that is stopped', [worst], ventWords.stop],
] as const)('a worst-case test %s: no mark, no fan, and why', async (_what, worstCases, name) => {
  const venting = { checks: [], worstCases: [...worstCases] };
  const { store, marks, asked } = inWindow(
    <Full>
      <WorstCaseTest venting={venting} list={null} />
    </Full>,
    {
      visit: oilVisit({ venting }),
      runId: 'run-1',
      runs: { 'run-1': recordWith({ timeMs: 200_000 }, { simulator: { firing: true, adjusters: [] } }) },
    },
    { 'visit.ventTrace': { nowMs: 200_000, points: [], off: { draftPa: level }, on: { draftPa: level } } },
  );
  await settled();
  press(name);
  expect(told(store)).toBe('the list is full');
  expect(marks).toEqual([]);
  expect(asked.filter((one) => one.name === 'simulator.part')).toEqual([]);
});

it('a stop that the host refused judges nothing: the next stop only takes the time', async () => {
  const running = { elapsedS: 12, running: true, laps: [], heardAt: 0 };
  const { store, edits } = inWindow(
    <SafetyStep />,
    { visit: oilVisit(), visitStep: 'safety', safetyTest: 'flame-failure', watches: { 'flame-failure': running } },
    { 'visit.watch': null },
  );
  press(safetyScreen.fail);
  await settled();
  act(() => store.setState({ watches: { 'flame-failure': { ...running, running: false } } }));
  expect(edits).toEqual([]);
});
