// @vitest-environment happy-dom
/** Keys as the window hears them: what has the focus keeps its own keys, and F6 goes from region to region. */
import { act, cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { createKeys, listenToKeys } from '../../../renderer/keys/key-registry.ts';
import { focusNextRegion } from '../../../renderer/keys/regions.ts';
import { useDigits, useKey, usePrinted } from '../../../renderer/keys/use-key.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { Settings } from '../../../shared/ipc/settings.ts';

let stop = (): void => undefined;
afterEach(() => {
  stop();
  cleanup();
});

/** @returns what each key did, and whether the browser may still do its own with it */
function listening(body: string) {
  document.body.innerHTML = body;
  const seen: string[] = [];
  const keys = createKeys();
  for (const action of ['smoke', 'main', 'mark', 'panLeft', 'follow', 'theme', 'undo', 'back'] as const)
    keys.on(action, () => seen.push(action));
  stop = listenToKeys(keys, window);
  const press = (key: string, rest: KeyboardEventInit = {}): { did: string[]; isLeft: boolean } => {
    seen.length = 0;
    const isLeft = fireEvent.keyDown(document.activeElement ?? document.body, { key, ...rest });
    return { did: [...seen], isLeft };
  };
  const at = (selector: string): void => document.querySelector<HTMLElement>(selector)?.focus();
  return { press, at, keys };
}
const kept = { did: [], isLeft: true };
const used = (what: string) => ({ did: [what], isLeft: false });

describe('a key in the window', () => {
  it.each([
    '<input id="it">',
    '<input id="it" type="number">',
    '<textarea id="it"></textarea>',
    '<select id="it"><option>a</option></select>',
    '<div id="it" contenteditable="true" tabindex="0"></div>',
  ])('is left to a field, but for chords: %s', (body) => {
    const { press, at } = listening(body);
    at('#it');
    for (const key of ['s', ' ', 'Enter', 'ArrowLeft']) expect(press(key)).toEqual(kept);
    expect(press('d', { ctrlKey: true })).toEqual(used('theme'));
    expect(press('d', { metaKey: true })).toEqual(used('theme'));
  });

  it.each([
    '<button id="it">a</button>',
    '<a id="it" href="#a">a</a>',
    '<input id="it" type="checkbox">',
    '<input id="it" type="radio">',
    '<div id="it" role="button" tabindex="0"></div>',
  ])('that presses a button is left to it, a letter is not: %s', (body) => {
    const { press, at } = listening(body);
    at('#it');
    for (const key of [' ', 'Enter']) expect(press(key)).toEqual(kept);
    expect(press('s')).toEqual(used('smoke'));
  });

  it('that turns an adjuster is left to it, and to nothing else beside it', () => {
    const { press, at } = listening(
      '<div data-adjuster><div id="it" role="spinbutton" tabindex="0"></div><p id="beside" tabindex="0"></p></div>',
    );
    at('#it');
    for (const key of ['ArrowLeft', 'Enter', '+', '5']) expect(press(key)).toEqual(kept);
    expect(press(' ')).toEqual(used('mark'));
    at('#beside');
    expect(press('ArrowLeft')).toEqual(used('panLeft'));
  });

  it.each(['<input id="it" type="text">', '<textarea id="it"></textarea>', '<select id="it"><option>a</option></select>'])(
    'that takes something back takes it back in the field that is typed into, not in the run: %s',
    (body) => {
      const { press, at } = listening(body);
      at('#it');
      expect(press('z', { ctrlKey: true })).toEqual(kept);
      expect(press('z', { metaKey: true })).toEqual(kept);
      document.querySelector<HTMLElement>('#it')?.blur();
      expect(press('z', { ctrlKey: true })).toEqual(used('undo'));
    },
  );

  it.each(['range', 'radio'])('that moves a choice is left to it: %s', (type) => {
    const { press, at } = listening(`<input id="it" type="${type}">`);
    at('#it');
    for (const key of ['ArrowLeft', 'End', ' ']) expect(press(key)).toEqual(kept);
    expect(press('s')).toEqual(used('smoke'));
    expect(press('Escape')).toEqual(used('back'));
  });

  it('that ends letters still being composed is left to the field', () => {
    const { press, at } = listening('<input id="it">');
    at('#it');
    expect(press('Escape', { isComposing: true })).toEqual(kept);
    expect(press('Escape')).toEqual(used('back'));
  });

  it.each([
    ['a button', '<button id="it">a</button>'],
    ['a button of a dialog', '<dialog open><form><button id="it">a</button></form></dialog>'],
    ['a field of a dialog', '<dialog open><form><input id="it"><button>a</button></form></dialog>'],
    ['nothing', '<p id="it" tabindex="0"></p>'],
  ])('that stays down is one press, and does not press what the first one brought into focus: %s', (_, body) => {
    const { press, at } = listening(body);
    at('#it');
    expect(press('Enter', { repeat: true })).toEqual({ did: [], isLeft: false });
    if (document.querySelector('button#it') !== null) expect(press(' ', { repeat: true })).toEqual({ did: [], isLeft: false });
  });

  it('that stays down breaks lines and makes blanks where text is typed', () => {
    const { press, at } = listening('<dialog open><textarea id="lines"></textarea><input id="line"></dialog>');
    at('#lines');
    expect(press('Enter', { repeat: true })).toEqual(kept);
    at('#line');
    expect(press(' ', { repeat: true })).toEqual(kept);
  });

  it('with Alt, under an open dialog, or that someone has used already, is left alone', () => {
    const { press } = listening('<p>nothing has the focus</p>');
    expect(press('s')).toEqual(used('smoke'));
    expect(press('s', { altKey: true })).toEqual(kept);
    document.body.innerHTML = '<dialog open></dialog>';
    expect(press('s')).toEqual(kept);
    document.body.innerHTML = '<p id="it" tabindex="0"></p>';
    document.querySelector('#it')?.addEventListener('keydown', (event) => event.preventDefault());
    document.querySelector<HTMLElement>('#it')?.focus();
    expect(press('s').did).toEqual([]);
  });

  it('is not heard any more when the window has gone', () => {
    const { press } = listening('');
    stop();
    expect(press('s')).toEqual(kept);
  });
});

describe('keys that a workspace has', () => {
  it('Ctrl and a figure only, and only where workspaces are', () => {
    const { press, keys } = listening('');
    expect(press('2', { ctrlKey: true })).toEqual(kept);
    const opened: number[] = [];
    keys.onWorkspace((index) => opened.push(index));
    // what is used here is not the browser's as well: Ctrl and a figure would change its tab
    expect(['1', '2', '3', '4', '5', '0'].map((key) => press(key, { ctrlKey: true }).isLeft)).toEqual([
      false,
      false,
      false,
      false,
      true,
      true,
    ]);
    press('1');
    expect(opened).toEqual([0, 1, 2, 3]);
  });
});

describe('F6', () => {
  // the stand-in lays nothing out: every element is seen unless it says hidden
  beforeEach(() => {
    Object.defineProperty(HTMLElement.prototype, 'offsetParent', {
      configurable: true,
      get(this: HTMLElement) {
        return this.hidden ? null : document.body;
      },
    });
  });
  afterEach(() => void Reflect.deleteProperty(HTMLElement.prototype, 'offsetParent'));
  const focused = (): string | null | undefined => document.activeElement?.id;

  it('goes round the regions that are seen, in reading order, to the first thing that can be used', () => {
    document.body.innerHTML = `
      <div data-region="bar"><button id="bar">b</button></div>
      <div data-region="main"><button disabled>x</button><button tabindex="-1">y</button><input id="main"></div>
      <div data-region="tools" hidden><button id="tools">t</button></div>
      <div data-region="source"><a href="#x" id="source">s</a></div>`;
    const round: unknown[] = [];
    for (let press = 0; press < 4; press++) {
      focusNextRegion();
      round.push(focused());
    }
    expect(round).toEqual(['source', 'main', 'bar', 'source']);
  });

  it('goes on from where the focus is, and to a region itself that has nothing to use', () => {
    document.body.innerHTML = `
      <div data-region="source"><button id="one">a</button><button id="two">b</button></div>
      <div data-region="main" id="main"><p>read only</p></div>`;
    document.querySelector<HTMLElement>('#two')?.focus();
    focusNextRegion();
    expect(focused()).toBe('main');
    focusNextRegion();
    expect(focused()).toBe('one');
  });

  it('does nothing where there are no regions', () => {
    document.body.innerHTML = '<button id="only">a</button>';
    document.querySelector<HTMLElement>('#only')?.focus();
    focusNextRegion();
    expect(focused()).toBe('only');
  });
});

describe('a key of a button that is on screen', () => {
  function show() {
    const store = createAppStore();
    const parts = { store, keys: createKeys(() => store.getState().settings.keys) } as unknown as AppParts;
    const seen: string[] = [];
    const Button = ({ says, active }: { says: string; active: boolean }) => {
      useKey('smoke', () => seen.push(says), active);
      useDigits((digit) => seen.push(`${says} ${digit}`), active);
      return <output>{usePrinted('smoke')}</output>;
    };
    const page = (says: string, active = true) => (
      <AppContext value={parts}>
        <Button says={says} active={active} />
      </AppContext>
    );
    const { rerender, unmount } = render(page('first'));
    const press = (key: string): void =>
      void parts.keys.press({ key, ctrl: false, alt: false, repeat: false, focus: 'other', dialogOpen: false });
    return { store, seen, press, unmount, draw: (says: string, active?: boolean) => rerender(page(says, active)) };
  }

  it('does what the button says now, while it can be pressed, and nothing when it has gone', () => {
    const { seen, press, draw, unmount } = show();
    for (const key of ['s', '7']) press(key);
    draw('second');
    for (const key of ['s', '8']) press(key);
    draw('second', false);
    for (const key of ['s', '9']) press(key);
    draw('third');
    press('s');
    unmount();
    for (const key of ['s', '1']) press(key);
    expect(seen).toEqual(['first', 'first 7', 'second', 'second 8', 'third']);
  });

  it('is printed as it is set, at once when that is changed', () => {
    const { store } = show();
    expect(screen.getByRole('status').textContent).toBe('S');
    act(() => store.setState({ settings: Settings.parse({ keys: { smoke: 'Ctrl+ArrowLeft' } }) }));
    expect(screen.getByRole('status').textContent).toBe('Ctrl ←');
  });
});
