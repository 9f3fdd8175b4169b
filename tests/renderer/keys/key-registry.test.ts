import { expect, it } from 'vitest';
import { createKeys, type KeyPress } from '../../../renderer/keys/key-registry.ts';

const press = (key: string, rest: Partial<KeyPress> = {}): KeyPress => ({
  key,
  ctrl: false,
  alt: false,
  repeat: false,
  focus: 'other',
  dialogOpen: false,
  ...rest,
});

function registry(changed: Record<string, string> = {}) {
  const seen: string[] = [];
  const keys = createKeys(() => changed);
  keys.on('smoke', () => seen.push('smoke'));
  keys.on('main', () => seen.push('main'));
  keys.on('mark', () => seen.push('mark'));
  keys.on('theme', () => seen.push('theme'));
  keys.on('back', () => seen.push('back'));
  keys.on('zoomIn', () => seen.push('zoomIn'));
  keys.onDigit((digit) => seen.push(digit));
  keys.onWorkspace((index) => seen.push(`workspace ${index}`));
  return { keys, seen };
}

it('runs single letters in either case', () => {
  const { keys, seen } = registry();
  expect(keys.press(press('s'))).toBe(true);
  keys.press(press('S'));
  expect(seen).toEqual(['smoke', 'smoke']);
});
it('leaves letters, digits and Space to a field, but not chords', () => {
  const { keys, seen } = registry();
  for (const key of ['s', '5', ' ', 'Enter']) expect(keys.press(press(key, { focus: 'field' }))).toBe(false);
  keys.press(press('d', { focus: 'field', ctrl: true }));
  keys.press(press('Escape', { focus: 'field' }));
  expect(seen).toEqual(['theme', 'back']);
});
it('leaves Space and Enter to a focused button', () => {
  const { keys, seen } = registry();
  expect(keys.press(press(' ', { focus: 'button' }))).toBe(false);
  expect(keys.press(press('Enter', { focus: 'button' }))).toBe(false);
  keys.press(press('s', { focus: 'button' }));
  expect(seen).toEqual(['smoke']);
});
it('leaves digits, arrows and Enter to the adjuster in focus; Space goes on to the next', () => {
  const { keys, seen } = registry();
  for (const key of ['4', '.', ',', 'ArrowLeft', 'Enter', '+', '-', 'Backspace'])
    expect(keys.press(press(key, { focus: 'adjuster' }))).toBe(false);
  keys.press(press(' ', { focus: 'adjuster' }));
  expect(seen).toEqual(['mark']);
});
it('does nothing under a dialog', () => {
  const { keys, seen } = registry();
  for (const key of ['s', 'Enter', 'Escape', '3']) expect(keys.press(press(key, { dialogOpen: true }))).toBe(false);
  expect(seen).toEqual([]);
});
it('takes digits and both decimal marks when no field has the focus', () => {
  const { keys, seen } = registry();
  for (const key of ['4', ',', '7', '.']) keys.press(press(key));
  expect(seen).toEqual(['4', ',', '7', '.']);
});
it('opens workspaces with Ctrl and a digit', () => {
  const { keys, seen } = registry();
  keys.press(press('4', { ctrl: true }));
  expect(seen).toEqual(['workspace 3']);
});
it('follows a changed key and forgets the printed one', () => {
  const { keys, seen } = registry({ smoke: 'K' });
  expect(keys.press(press('s'))).toBe(false);
  keys.press(press('k'));
  expect(seen).toEqual(['smoke']);
});
it('gives the key to what came last, and back when that goes', () => {
  const { keys, seen } = registry();
  const stop = keys.on('smoke', () => seen.push('on top'));
  keys.press(press('s'));
  stop();
  keys.press(press('s'));
  expect(seen).toEqual(['on top', 'smoke']);
});
it('ignores a held key, except where holding makes sense', () => {
  const { keys, seen } = registry();
  keys.press(press('s', { repeat: true }));
  keys.press(press('+', { repeat: true }));
  expect(seen).toEqual(['zoomIn']);
});
