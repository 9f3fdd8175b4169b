/** A foot switch types one key; it means the one thing that the settings give it. */
import { expect, it } from 'vitest';
import { createKeys, keyName, type KeyPress } from '../../../renderer/keys/key-registry.ts';

const press = (key: string, focus: KeyPress['focus'], rest: Partial<KeyPress> = {}): KeyPress => ({
  key,
  ctrl: false,
  alt: false,
  repeat: false,
  focus,
  dialogOpen: false,
  ...rest,
});
function withSwitch(key: string, action = 'main') {
  const seen: string[] = [];
  const keys = createKeys(
    () => ({}),
    () => ({ key, action }),
  );
  for (const name of ['main', 'mark', 'smoke', 'keys'] as const) keys.on(name, () => seen.push(name));
  return { keys, seen };
}
const everywhere = ['field', 'button', 'adjuster', 'other'] as const;

it.each(['F9', 'PageDown', 'End'])('%s does its one thing wherever the focus is', (key) => {
  const { keys, seen } = withSwitch(key);
  for (const focus of everywhere) expect(keys.press(press(key, focus))).toBe(true);
  expect(seen).toEqual(['main', 'main', 'main', 'main']);
});

it.each(['b', ' '])('%j stays what it is in a field, and is the switch everywhere else', (key) => {
  const { keys, seen } = withSwitch(keyName({ key, ctrl: false }), 'smoke');
  for (const focus of everywhere) keys.press(press(key, focus));
  expect(seen).toEqual(['smoke', 'smoke', 'smoke']);
});

it('a foot that stays down presses once, and takes the key from what it meant before', () => {
  const { keys, seen } = withSwitch('M', 'smoke');
  keys.press(press('m', 'other'));
  expect(keys.press(press('m', 'other', { repeat: true }))).toBe(true);
  expect(seen).toEqual(['smoke']);
});

it('a switch for something that is not to be had now does nothing', () => {
  const { keys, seen } = withSwitch('F9', 'bypass');
  expect(keys.press(press('F9', 'other'))).toBe(true);
  expect(seen).toEqual([]);
});

it('no switch: no key is one', () => {
  const { keys, seen } = withSwitch('');
  expect(keys.press(press('', 'other'))).toBe(false);
  keys.press(press('s', 'other'));
  expect(seen).toEqual(['smoke']);
});
