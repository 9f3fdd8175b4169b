// @vitest-environment happy-dom
/** What a visit does not take: the window stays open, what was typed is still there, and it says why. Nothing is reset or counted as done. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import type { ReactNode } from 'react';
import { afterEach, expect, it, vi } from 'vitest';
import { AppContext, useParts } from '../../../../renderer/app-parts.ts';
import { CardChooser } from '../../../../renderer/views/visit/card/CardChooser.tsx';
import { BypassList } from '../../../../renderer/views/visit/safety/BypassList.tsx';
import { FlueLimitsButton } from '../../../../renderer/views/visit/start/FlueLimits.tsx';
import { SafetyStep } from '../../../../renderer/views/visit/steps/SafetyStep.tsx';
import { LeftOff, OilCause, RoomAgain } from '../../../../renderer/views/visit/WayOutDialogs.tsx';
import { problem } from '../../../../shared/problem.ts';
import { leftOffWords } from '../../../../shared/words/tune/advice.ts';
import { alarmWords } from '../../../../shared/words/tune/alarms.ts';
import { wayOutWords } from '../../../../shared/words/tune/way-out.ts';
import { leftScreen } from '../../../../shared/words/visit/screens/as-left.ts';
import { safetyScreen } from '../../../../shared/words/visit/screens/safety.ts';
import { field, inWindow, oilVisit, press, settled, typeInto } from '../../helpers/in-window.tsx';

afterEach(cleanup);

function Full({ children }: { children: ReactNode }) {
  const parts = useParts();
  const edit = (): ReturnType<typeof problem> => problem('value-out-of-range', 'the list is full');
  return <AppContext value={{ ...parts, visits: { ...parts.visits, edit } }}>{children}</AppContext>;
}
const full = (part: ReactNode) => inWindow(<Full>{part}</Full>, { visit: oilVisit() });

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
