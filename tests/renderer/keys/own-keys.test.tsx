// @vitest-environment happy-dom
/** Parts of the window that hear Enter or Space themselves: one press is one deed, and a key that ends letters still being composed is none. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { AppContext, useParts } from '../../../renderer/app-parts.ts';
import { Field } from '../../../renderer/components/Field.tsx';
import { BenchFrame } from '../../../renderer/views/bench/BenchFrame.tsx';
import { FractionField } from '../../../renderer/views/geometry/cards/FractionField.tsx';
import type { LeadField } from '../../../renderer/views/geometry/use-lead.ts';
import { SettingsPanel } from '../../../renderer/views/settings/SettingsPanel.tsx';
import { useMarkKeys } from '../../../renderer/views/tune/mark-bar/MarkBar.tsx';
import type { PendingDeeds } from '../../../renderer/views/tune/mark-bar/use-pending-mark.ts';
import { BypassList } from '../../../renderer/views/visit/safety/BypassList.tsx';
import { settingsWords } from '../../../shared/words/settings.ts';
import { safetyScreen } from '../../../shared/words/visit/screens/safety.ts';
import { field, inWindow, oilVisit, typeInto } from '../helpers/in-window.tsx';

afterEach(cleanup);

const noPress = [{ isComposing: true }, { repeat: true }] as const;

describe('Enter', () => {
  it('in a field of the bench does what its main button says, once', () => {
    const run = vi.fn();
    inWindow(
      <BenchFrame title="Plan" says="" main={{ text: 'Go on', run }}>
        <input aria-label="gas" />
      </BenchFrame>,
      {},
    );
    for (const more of [...noPress, { metaKey: true }]) fireEvent.keyDown(field('gas'), { key: 'Enter', ...more });
    expect(run).not.toHaveBeenCalled();
    fireEvent.keyDown(field('gas'), { key: 'Enter' });
    expect(run).toHaveBeenCalledOnce();
  });

  it('in a long field sends its form once', () => {
    const send = vi.fn((event: Event) => event.preventDefault());
    const { page } = inWindow(
      <form>
        <Field label="why" value="" change={() => undefined} long />
      </form>,
      {},
    );
    page.querySelector('form')?.addEventListener('submit', send);
    for (const more of noPress) fireEvent.keyDown(field('why'), { key: 'Enter', ...more });
    expect(send).not.toHaveBeenCalled();
    fireEvent.keyDown(field('why'), { key: 'Enter' });
    expect(send).toHaveBeenCalledOnce();
  });

  it('that ends a word of a jumper does not write the jumper down', () => {
    const { edits } = inWindow(<BypassList offered />, { visit: oilVisit() });
    typeInto(safetyScreen.bypassWhat, 'cad cell');
    fireEvent.keyDown(field(safetyScreen.bypassWhat), { key: 'Enter', isComposing: true });
    expect(edits).toEqual([]);
    fireEvent.keyDown(field(safetyScreen.bypassWhat), { key: 'Enter' });
    expect(edits).toHaveLength(1);
  });
});

it('Space that ends a composed letter does not go on to the next measure', () => {
  const act = vi.fn();
  const one: LeadField = {
    label: 'Gap',
    text: '',
    unit: 'mm',
    isLength: true,
    error: undefined,
    hint: '',
    change: () => undefined,
    nudge: () => undefined,
  };
  inWindow(<FractionField field={one} act={act} disabled={false} size="near" focusKey="gap" />, {});
  fireEvent.keyDown(field('Gap'), { key: ' ', isComposing: true });
  expect(act).not.toHaveBeenCalled();
  fireEvent.keyDown(field('Gap'), { key: ' ' });
  expect(act).toHaveBeenCalledOnce();
});

it('Ctrl and Z take back the step of an adjuster that is not marked yet, and the mark before it only after that', () => {
  const cancel = vi.fn();
  const undoMark = vi.fn();
  function Bar({ isPending }: { isPending: boolean }) {
    const pending = isPending ? { name: 'Shutter', text: '5', firstMs: 0, typed: false, error: undefined } : undefined;
    useMarkKeys({ pending, adjusters: [], cancel, commit: () => undefined } as unknown as PendingDeeds, true, { current: null });
    const { keys } = useParts();
    keys.on('undo', undoMark);
    return (
      <button
        type="button"
        onClick={() => keys.press({ key: 'z', ctrl: true, alt: false, repeat: false, focus: 'other', dialogOpen: false })}
      >
        z
      </button>
    );
  }
  inWindow(<Bar isPending />, {});
  fireEvent.click(screen.getByText('z'));
  expect([cancel.mock.calls.length, undoMark.mock.calls.length]).toEqual([1, 0]);
  cleanup();
  inWindow(<Bar isPending={false} />, {});
  fireEvent.click(screen.getByText('z'));
  expect([cancel.mock.calls.length, undoMark.mock.calls.length]).toEqual([1, 1]);
});

it.each([
  ['F9', {}, ['F9']],
  ['m', { ctrlKey: true }, ['Ctrl+M']],
  ['Backspace', {}, ['']],
  ['Shift', {}, []],
  ['Control', { ctrlKey: true }, []],
  ['Dead', {}, []],
])('as a foot switch %s %j is saved as %j: a key that is held for capitals would press it while a name is typed', (key, more, saved) => {
  const changeSettings = vi.fn();
  function Page() {
    const parts = useParts();
    return (
      <AppContext value={{ ...parts, actions: { ...parts.actions, changeSettings } }}>
        <SettingsPanel />
      </AppContext>
    );
  }
  inWindow(<Page />, {});
  fireEvent.keyDown(field(settingsWords.footKey), { key, ...more });
  expect(changeSettings.mock.calls.map(([patch]) => (patch as { foot: { key: string } }).foot.key)).toEqual(saved);
});
