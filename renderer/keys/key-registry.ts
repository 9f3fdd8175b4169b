/** One listener for all keys. Single letters are left alone while a field has the focus; a dialog on top keeps them for itself. */
import { defaultKeys, type KeyAction } from './default-keys.ts';

export type Keys = {
  /** Later registrations win, so that what lies on top gets the key first. @returns a function that takes it back */
  on(action: KeyAction, run: () => void): () => void;
  /** digits and the decimal marks, typed while no field has the focus */
  onDigit(run: (digit: string) => void): () => void;
  onWorkspace(run: (index: number) => void): () => void;
  keyOf: (action: KeyAction) => string;
  /** @returns true when the key was used */
  press: (event: KeyPress) => boolean;
};

export type FootSwitch = { key: string; action: string };

export type KeyPress = {
  key: string;
  ctrl: boolean;
  alt: boolean;
  repeat: boolean;
  /** where the focus is: a text field keeps letters, a button keeps Space and Enter, a slider its arrows as well, a stepper its digits too */
  focus: 'field' | 'button' | 'slider' | 'adjuster' | 'other';
  /** a dialog lies on top: only Escape passes, and that is the dialog's own */
  dialogOpen: boolean;
};

/** @returns how a key is named in the settings */
export const keyName = ({ key, ctrl }: Pick<KeyPress, 'key' | 'ctrl'>): string => {
  const base = key === ' ' ? 'Space' : key.length === 1 ? key.toUpperCase() : key;
  return ctrl ? `Ctrl+${base}` : base;
};

export function createKeys(
  changed: () => Readonly<Record<string, string>> = () => ({}),
  foot: () => FootSwitch = () => ({ key: '', action: 'main' }),
): Keys {
  const handlers = new Map<KeyAction, (() => void)[]>();
  const digitHandlers: ((digit: string) => void)[] = [];
  const workspaceHandlers: ((index: number) => void)[] = [];
  const keyOf = (action: KeyAction): string => changed()[action] ?? defaultKeys[action];

  const push = <T>(list: T[], item: T): (() => void) => {
    list.push(item);
    return () => {
      const index = list.lastIndexOf(item);
      if (index >= 0) list.splice(index, 1);
    };
  };

  return {
    on(action, run) {
      const list = handlers.get(action) ?? [];
      handlers.set(action, list);
      return push(list, run);
    },
    onDigit: (run) => push(digitHandlers, run),
    onWorkspace: (run) => push(workspaceHandlers, run),
    keyOf,
    press(event) {
      if (event.alt || event.dialogOpen) return false;
      const name = keyName(event);
      const isChord =
        event.ctrl || /^F\d+$/.test(name) || name === 'Escape' || (name === foot().key && name.length > 1 && name !== 'Space');
      if (event.focus === 'field' && !isChord) return false;
      // in a field it takes back what was typed there, never a mark of the run
      if (event.focus === 'field' && name === 'Ctrl+Z') return false;
      // a foot switch means its one thing wherever the focus is; in a field a letter stays a letter
      const pedal = foot();
      if (pedal.key !== '' && pedal.key === name) {
        const run = handlers.get(pedal.action as KeyAction)?.at(-1);
        if (run !== undefined && !event.repeat) run();
        return true;
      }
      if ((event.focus === 'button' || event.focus === 'slider') && (name === 'Space' || name === 'Enter')) return false;
      if (event.focus === 'slider' && /^(Arrow|Home$|End$|Page)/.test(name)) return false;
      if (event.focus === 'adjuster' && /^(Arrow|Enter$|Escape$|[+-]$|[0-9.,]$|Home|End|Page|Backspace)/.test(name)) return false;
      if (event.ctrl && /^[1-4]$/.test(event.key)) {
        workspaceHandlers.at(-1)?.(Number(event.key) - 1);
        return workspaceHandlers.length > 0;
      }
      for (const [action, list] of handlers) {
        const run = list.at(-1);
        if (run === undefined || keyOf(action) !== name) continue;
        if (event.repeat && !name.startsWith('Arrow') && name !== '+' && name !== '-') return true;
        run();
        return true;
      }
      if (!event.ctrl && /^[0-9.,]$/.test(event.key) && digitHandlers.length > 0) {
        digitHandlers.at(-1)?.(event.key);
        return true;
      }
      return false;
    },
  };
}

function focusOf(element: Element | null): KeyPress['focus'] {
  if (!(element instanceof HTMLElement)) return 'other';
  if (element.closest('[data-adjuster]') !== null && element.getAttribute('role') === 'spinbutton') return 'adjuster';
  if (
    element.matches(
      'input:not([type=checkbox]):not([type=radio]):not([type=range]):not([type=button]), textarea, select, [contenteditable]',
    )
  )
    return 'field';
  if (element.matches('input[type=range], input[type=radio]')) return 'slider';
  if (element.matches('button, a[href], summary, [role=button], input')) return 'button';
  return 'other';
}

/** A text of several lines takes as many line breaks as a person likes. */
const isOfLines = (target: EventTarget | null): boolean => target instanceof HTMLElement && target.matches('textarea, [contenteditable]');

/** Wires the registry to the window. @returns a function that unwires it */
export function listenToKeys(keys: Keys, target: Window): () => void {
  const onKeyDown = (event: KeyboardEvent): void => {
    // letters that are still being composed belong to the field, and so do Escape and Enter that end them
    if (event.defaultPrevented || event.isComposing) return;
    const focus = focusOf(target.document.activeElement);
    // held, it would press the button or send the form that the first press brought into focus: a window would be answered before it was read
    if (event.repeat && (event.key === 'Enter' ? !isOfLines(event.target) : event.key === ' ' && /button|slider/.test(focus)))
      return event.preventDefault();
    const used = keys.press({
      key: event.key,
      ctrl: event.ctrlKey || event.metaKey,
      alt: event.altKey,
      repeat: event.repeat,
      focus,
      dialogOpen: target.document.querySelector('dialog[open]') !== null,
    });
    if (used) event.preventDefault();
  };
  target.addEventListener('keydown', onKeyDown);
  return () => target.removeEventListener('keydown', onKeyDown);
}
