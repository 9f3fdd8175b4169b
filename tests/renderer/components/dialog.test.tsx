// @vitest-environment happy-dom
/**
 * Small windows: Enter in a field and the main button are one deed, and it is done once. Enter presses the first submit button of the form, and does
 * nothing where that one is off (HTML Living Standard, "Implicit submission").
 */
import { cleanup, fireEvent } from '@testing-library/react';
import type { ReactElement } from 'react';
import { afterEach, describe, expect, it } from 'vitest';
import { Sure } from '../../../renderer/views/records/Sure.tsx';
import { DraftEntry } from '../../../renderer/views/tune/entries/DraftEntry.tsx';
import { NoteEntry } from '../../../renderer/views/tune/entries/NoteEntry.tsx';
import { SmokeEntry } from '../../../renderer/views/tune/entries/SmokeEntry.tsx';
import { ValuesEntry } from '../../../renderer/views/tune/entries/ValuesEntry.tsx';
import { OilCause, RoomAgain } from '../../../renderer/views/visit/WayOutDialogs.tsx';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import { live } from '../../../shared/words/tune/live.ts';
import { channelWords } from '../../../shared/words/tune/states.ts';
import { wayOutWords } from '../../../shared/words/tune/way-out.ts';
import { button, inWindow, oilVisit, press, settled, typeInto } from '../helpers/in-window.tsx';
import { recordWith } from '../helpers/records.ts';

afterEach(cleanup);

// a practice burner: its windows have one button more
const record = recordWith({}, { source: { kind: 'simulated', scenario: 's' } as unknown as RunInfo['source'] });
const close = (): void => undefined;
function enter(): void {
  const first = document.querySelector<HTMLButtonElement>('form button:not([type]), form [type="submit"]');
  if (first?.disabled === false) fireEvent.click(first);
}

type Case = [name: string, part: ReactElement, field: string | RegExp, typed: string, button: string];
const entries: Case[] = [
  ['a note', <NoteEntry close={close} />, live.noteDialog.field, 'cold start', live.noteDialog.use],
  ['draft', <DraftEntry record={record} close={close} />, live.draftDialog.overFire, '0.02', live.draftDialog.use],
  ['smoke', <SmokeEntry record={record} close={close} />, live.smokeDialog.spot(1), '1', live.smokeDialog.use],
  ['values', <ValuesEntry record={record} close={close} />, channelWords.o2.name, '5', live.typeDialog.use],
  ['air of the room', <RoomAgain close={close} />, wayOutWords.roomField, '12', wayOutWords.roomSave],
  ['cause of oil', <OilCause close={close} />, wayOutWords.oilField, 'worn nozzle', wayOutWords.oilSave],
];
const open = (part: ReactElement) => inWindow(part, { visit: oilVisit(), runs: { 'run-1': record }, runId: 'run-1' });

describe('Enter', () => {
  it.each(entries)('saves %s as its button does, once', async (_name, part, field, typed, name) => {
    const saved = [];
    for (const go of [enter, () => press(name)]) {
      const { marks, asked, edits } = open(part);
      typeInto(field, typed);
      go();
      await settled();
      saved.push([...marks, ...asked, ...edits]);
      cleanup();
    }
    expect(saved[0]).toHaveLength(1);
    expect(saved[1]).toEqual(saved[0]);
  });

  it.each(entries.filter(([name]) => /room|oil/.test(name)))(
    'saves nothing where %s is not typed: its button is off',
    (_name, part, _field, _typed, name) => {
      const { edits } = open(part);
      expect(button(name).disabled).toBe(true);
      enter();
      expect(edits).toEqual([]);
    },
  );

  it('pressed again while the host has not answered yet does nothing; where it was refused, it saves', async () => {
    const { marks, onMark } = open(<NoteEntry close={close} />);
    let refuse = (): void => undefined;
    onMark.current = () => new Promise((done) => (refuse = () => done(undefined)));
    typeInto(live.noteDialog.field, 'cold start');
    enter();
    enter();
    await settled();
    press(live.noteDialog.use);
    expect(marks).toHaveLength(1);
    refuse();
    await settled();
    enter();
    expect(marks).toHaveLength(2);
  });

  it('lets a thing go once, however often it is pressed', () => {
    let gone = 0;
    open(<Sure title="Title" about="About" yes="Yes" run={() => new Promise(() => (gone += 1))} close={close} />);
    press('Yes');
    press('Yes');
    expect(gone).toBe(1);
  });
});
