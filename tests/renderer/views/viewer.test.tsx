// @vitest-environment happy-dom
/** A window that may only look: what the host would refuse cannot be pressed; and what is refused in a panel is said in the panel. */
import { act, cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { Panel } from '../../../renderer/components/Panel.tsx';
import type { AppState } from '../../../renderer/state/store.ts';
import { CurrentRun } from '../../../renderer/views/source/CurrentRun.tsx';
import { CardChooser } from '../../../renderer/views/visit/card/CardChooser.tsx';
import { CardEditor } from '../../../renderer/views/visit/card/CardEditor.tsx';
import { SettingsPanel } from '../../../renderer/views/settings/SettingsPanel.tsx';
import { TrialsColumn } from '../../../renderer/views/tune/TrialsColumn.tsx';
import { RoomAlarm } from '../../../renderer/views/visit/VisitLines.tsx';
import { WatchLine } from '../../../renderer/views/visit/safety/WatchLine.tsx';
import { AddCurves } from '../../../renderer/views/warm-up/curves/AddCurves.tsx';
import { alarmWords } from '../../../shared/words/tune/alarms.ts';
import { common } from '../../../shared/words/common.ts';
import { safetyScreen } from '../../../shared/words/visit/screens/safety.ts';
import { StageChoice } from '../../../renderer/views/visit/start/StageChoice.tsx';
import { ReplayBar } from '../../../renderer/views/warm-up/ReplayBar.tsx';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import { problem } from '../../../shared/problem.ts';
import { exampleCards } from '../../../shared/tuning/card/example-cards.ts';
import { problems } from '../../../shared/words/problems.ts';
import { source } from '../../../shared/words/source.ts';
import { leftScreen } from '../../../shared/words/visit/screens/as-left.ts';
import { visitWords } from '../../../shared/words/visit/visit-thread.ts';
import { button, field, inWindow, oilVisit, settled } from '../helpers/in-window.tsx';
import { infoOf, recordWith } from '../helpers/records.ts';

afterEach(cleanup);

const replay: Partial<RunInfo> = { channels: ['o2'], replay: { playing: true, speed: 2, endMs: 60_000 } };
const roles = [
  ['operator', false],
  ['viewer', true],
] as const satisfies readonly (readonly [AppState['role'], boolean])[];

it.each(roles)('the run under way, to the %s', (role, isOff) => {
  inWindow(<CurrentRun info={infoOf(replay)} mayAct={role === 'operator'} />, { role });
  for (const name of [source.fuel, source.speed, /^Air temperature/]) expect(field(name).disabled, String(name)).toBe(isOff);
  expect(button(source.replayBar.pause).disabled).toBe(isOff);
});

it.each(roles)('a replay and its keys, to the %s', (role, isOff) => {
  const { page, asked } = inWindow(<ReplayBar record={recordWith({}, replay)} />, { role });
  const all = [...page.querySelectorAll<HTMLButtonElement | HTMLInputElement>('button, input')];
  expect(all).toHaveLength(5);
  expect(all.map(({ disabled }) => disabled)).toEqual(all.map(() => isOff));
  fireEvent.click(all[0]!);
  expect(asked).toHaveLength(isOff ? 0 : 1);
});

it.each(roles)('the cards of a visit and its stages, to the %s', async (role, isOff) => {
  const close = (): void => undefined;
  inWindow(<CardChooser close={close} />, { role, visit: oilVisit() });
  await settled();
  const copies = screen.getAllByText<HTMLButtonElement>(leftScreen.useCopy);
  expect(copies.map(({ disabled }) => disabled)).toEqual(exampleCards.map(() => isOff));
  cleanup();
  inWindow(<CardEditor card={exampleCards[0]!} close={close} />, { role, visit: oilVisit() });
  expect(button(leftScreen.keepCard).disabled).toBe(isOff);
  cleanup();
  inWindow(<StageChoice />, { role, visit: oilVisit() });
  expect(field(visitWords.stages).disabled).toBe(isOff);
});

it('what the host refuses while a panel lies over the workspace is said in the panel', () => {
  const { store } = inWindow(
    <Panel title="Settings" close={() => undefined}>
      <p>all of them</p>
    </Panel>,
    {},
  );
  expect(screen.queryByText(problems['not-allowed'].title)).toBeNull();
  act(() => store.getState().commandFailed(problem('not-allowed')));
  expect(screen.getByText(problems['not-allowed'].title)).toBeDefined();
});

const why = common.viewer.title;
it.each([...roles, ['instructor', true]] as [AppState['role'], boolean][])(
  'settings, to the %s: closed, with the reason',
  (role, isOff) => {
    const { page } = inWindow(<SettingsPanel />, { role });
    const fields = [...page.querySelectorAll('.panel-body input, .panel-body select, .panel-body button')];
    expect(fields.length).toBeGreaterThan(20);
    expect(fields.filter((one) => one.closest('fieldset')?.disabled === true)).toHaveLength(isOff ? fields.length : 0);
    expect(screen.queryAllByText(why)).toHaveLength(isOff ? 1 : 0);
  },
);

it.each(roles)('the library of curves, to the %s', (role, isOff) => {
  const curve = { name: 'cold', capturedWallMs: 0, startState: 'cold', tags: [], source: 'port' } as never;
  const nothing = (): void => undefined;
  inWindow(
    <AddCurves
      curves={[{ id: 'c', revision: 1, curve }]}
      chosen={new Set()}
      units="us"
      turn={nothing}
      remove={nothing}
      capture={nothing}
      close={nothing}
    />,
    { role },
  );
  expect(button(/^remove/i).disabled).toBe(isOff);
  // which curves lie over each other is each window's own choice
  expect(document.querySelector<HTMLInputElement>('input[type=checkbox]')?.disabled).toBe(false);
  expect(screen.queryAllByText(why)).toHaveLength(isOff ? 1 : 0);
});

it.each(roles)('the smoke of the trial that goes on, to the %s', (role, isOff) => {
  const trial = { id: 't', number: 1, running: true, fromMs: 0, setting: { stage: '1', positions: [] }, marks: [] } as never;
  const { page } = inWindow(<TrialsColumn trials={[trial]} adjusters={[]} rows={[]} units="us" waiting={false} unrest={[]} />, {
    role,
    runId: 'run-1',
    runs: { 'run-1': recordWith({}) },
  });
  expect(page.querySelectorAll('.smoke-key')).toHaveLength(isOff ? 0 : 1);
});

it.each(roles)('a watch that runs, to the %s', (role, isOff) => {
  inWindow(<WatchLine test="flame-failure" />, { role });
  expect(button(safetyScreen.stop).disabled).toBe(isOff);
});

it.each(roles)('a room that has to be left, to the %s: it lies over everything, so the controls are taken over in it', (role, isOff) => {
  const { asked } = inWindow(<RoomAlarm />, {
    role,
    visit: oilVisit(),
    alarms: [{ key: 'room-co', level: 'out', ppm: 120, visitId: 'v' }],
  });
  expect(field(alarmWords.roomAgain).disabled).toBe(isOff);
  expect(button(alarmWords.roomUse).disabled).toBe(isOff);
  expect(screen.queryAllByText(why)).toHaveLength(isOff ? 1 : 0);
  if (isOff) fireEvent.click(button(common.viewer.takeOver));
  expect(asked.map(({ name }) => name)).toEqual(isOff ? ['session.takeOver'] : []);
});
