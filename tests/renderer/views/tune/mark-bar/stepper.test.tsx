// @vitest-environment happy-dom
/** One adjuster on the bar: the keys and buttons that step, type, mark and cancel it, and what a reader is told of it. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, expect, it, vi } from 'vitest';
import { Stepper } from '../../../../../renderer/views/tune/mark-bar/Stepper.tsx';
import type { PendingDeeds, PendingMark } from '../../../../../renderer/views/tune/mark-bar/use-pending-mark.ts';
import { live } from '../../../../../shared/words/tune/live.ts';
import { button, inWindow, press } from '../../../helpers/in-window.tsx';

afterEach(cleanup);

const pendingOf = (part: Partial<PendingMark> = {}): PendingMark => ({
  name: 'shutter',
  text: '-2.5',
  firstMs: 0,
  typed: true,
  error: undefined,
  ...part,
});
function show({ pending, value = 5, disabled = false }: { pending?: PendingMark; value?: number | undefined; disabled?: boolean } = {}) {
  const did: unknown[][] = [];
  const say =
    (name: string) =>
    (...what: unknown[]): void =>
      void did.push([name, ...what]);
  const deeds: PendingDeeds = {
    pending,
    adjusters: [],
    step: say('step'),
    type: say('type'),
    erase: say('erase'),
    commit: say('commit'),
    cancel: say('cancel'),
  };
  inWindow(<Stepper adjuster={{ name: 'shutter', min: 0, max: 10, step: 0.5, value }} deeds={deeds} disabled={disabled} />, {});
  return did;
}
const position = (): HTMLElement => screen.getByRole('spinbutton');
const key = (name: string, more: object = {}): boolean => fireEvent.keyDown(position(), { key: name, ...more });

it.each([
  ['ArrowRight', ['step', 'shutter', 1]],
  ['ArrowUp', ['step', 'shutter', 1]],
  ['+', ['step', 'shutter', 1]],
  ['ArrowLeft', ['step', 'shutter', -1]],
  ['ArrowDown', ['step', 'shutter', -1]],
  ['0', ['type', 'shutter', '0']],
  ['9', ['type', 'shutter', '9']],
  ['.', ['type', 'shutter', '.']],
  [',', ['type', 'shutter', ',']],
  ['-', ['type', 'shutter', '-']],
  ['Backspace', ['erase']],
  ['Enter', ['commit']],
  ['Escape', ['cancel']],
])('%s is taken while a position waits', (name, deed) => {
  const did = show({ pending: pendingOf() });
  expect(key(name), 'goes no further').toBe(false);
  expect(did).toEqual([deed]);
});
it.each(['Enter', 'Escape'])('%s goes on to the window while nothing waits, or another adjuster does', (name) => {
  const did = show();
  expect(key(name)).toBe(true);
  cleanup();
  const other = show({ pending: pendingOf({ name: 'band' }) });
  expect(key(name)).toBe(true);
  expect([...did, ...other]).toEqual([]);
});
it.each([
  ['a letter', 'a', {}],
  ['a digit with Ctrl', '1', { ctrlKey: true }],
  ['a digit with Alt', '1', { altKey: true }],
  ['a digit with Meta', '1', { metaKey: true }],
])('%s is not meant for it', (_what, name, more) => {
  const did = show();
  expect(key(name, more)).toBe(true);
  expect(did).toEqual([]);
});
it('a button on either side steps it', () => {
  const did = show();
  press(live.less('shutter'));
  press(live.moreOf('shutter'));
  expect(did).toEqual([
    ['step', 'shutter', -1],
    ['step', 'shutter', 1],
  ]);
});
it('nothing moves it where it may not be marked', () => {
  const did = show({ disabled: true });
  key('ArrowRight');
  expect([button(live.less('shutter')).disabled, button(live.moreOf('shutter')).disabled]).toEqual([true, true]);
  expect(position().getAttribute('aria-disabled')).toBe('true');
  expect(did).toEqual([]);
});
it('shows where it is, or that nobody said so', () => {
  show();
  expect(position().textContent).toBe('Shutter5');
  expect(['valuenow', 'valuemin', 'valuemax', 'valuetext', 'invalid'].map((name) => position().getAttribute(`aria-${name}`))).toEqual([
    '5',
    '0',
    '10',
    '5',
    'false',
  ]);
  cleanup();
  inWindow(
    <Stepper
      adjuster={{ name: 'shutter', min: undefined, max: undefined, step: 1, value: undefined }}
      deeds={{ pending: undefined, adjusters: [], step: vi.fn(), type: vi.fn(), erase: vi.fn(), commit: vi.fn(), cancel: vi.fn() }}
      disabled={false}
    />,
    {},
  );
  expect(position().querySelector('b')?.textContent).toBe(live.unknownPosition);
});
it('shows what waits, with a minus as it is printed, and why it cannot be', () => {
  show({ pending: pendingOf() });
  expect(position().textContent).toBe(`${live.pending}−2.5`);
  expect(position().parentElement?.classList.contains('pending')).toBe(true);
  cleanup();
  show({ pending: pendingOf({ error: 'Outside its scale.' }) });
  expect(position().getAttribute('aria-valuetext')).toBe('Outside its scale.');
  expect(position().getAttribute('aria-invalid')).toBe('true');
  expect(position().parentElement?.classList.contains('wrong')).toBe(true);
});
