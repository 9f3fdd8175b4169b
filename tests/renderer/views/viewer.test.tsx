// @vitest-environment happy-dom
/** A window that may only look: what the host would refuse cannot be pressed; and what is refused in a panel is said in the panel. */
import { act, cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { Panel } from '../../../renderer/components/Panel.tsx';
import type { AppState } from '../../../renderer/state/store.ts';
import { CurrentRun } from '../../../renderer/views/source/CurrentRun.tsx';
import { CardChooser } from '../../../renderer/views/visit/card/CardChooser.tsx';
import { CardEditor } from '../../../renderer/views/visit/card/CardEditor.tsx';
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
