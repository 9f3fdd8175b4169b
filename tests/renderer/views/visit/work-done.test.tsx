// @vitest-environment happy-dom
/** Work done, defects left, who was told and the next visit: each press and each field is saved with the visit as it was meant. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { WorkDone } from '../../../../renderer/views/visit/WorkDone.tsx';
import type { AppState } from '../../../../renderer/state/store.ts';
import { defectWeights, workKinds } from '../../../../shared/tuning/visit/work-done.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { labelWords } from '../../../../shared/words/paper/label.ts';
import { changedWords, workWords as words } from '../../../../shared/words/tune/trade.ts';
import { button, field, inWindow, oilVisit, press, typeInto } from '../../helpers/in-window.tsx';

afterEach(cleanup);

const show = (visit: Partial<Visit> = {}, state: Partial<AppState> = {}) => inWindow(<WorkDone />, { visit: oilVisit(visit), ...state });
const [first, second] = workKinds;
const work: Visit['work'] = [
  { wallMs: 1, kind: first },
  { wallMs: 2, kind: second, note: 'brushed', part: 'A-1' },
];
const defects: Visit['defects'] = [
  { wallMs: 1, text: 'Cracked door', weight: 'repair-soon', tag: 'T-4' },
  { wallMs: 2, text: 'No air supply', weight: defectWeights[0] },
];

describe('work', () => {
  it('of every kind is saved by one press, the first and the next', () => {
    const { edits } = show();
    for (const kind of workKinds) press(words.kinds[kind]);
    expect(edits).toEqual(workKinds.map((kind) => ({ path: ['work'], after: [{ wallMs: 5, kind }] })));
    cleanup();
    const more = show({ work });
    press(words.kinds[first]);
    expect(more.edits).toEqual([{ path: ['work', 2], after: { wallMs: 5, kind: first } }]);
  });
  it('has a note and a part, which can be emptied again', () => {
    const { edits } = show({ work });
    const what = words.kinds[second];
    expect([words.note(what), words.part(what)].map((label) => field(label).value)).toEqual(['brushed', 'A-1']);
    typeInto(words.note(words.kinds[first]), 'cleaned');
    typeInto(words.note(what), '');
    typeInto(words.part(what), 'B-2');
    expect(edits).toEqual([
      { path: ['work', 0], after: { ...work[0], note: 'cleaned' } },
      { path: ['work', 1], after: { wallMs: 2, kind: second, part: 'A-1' } },
      { path: ['work', 1], after: { ...work[1], part: 'B-2' } },
    ]);
  });
  it('that was entered by mistake is removed', () => {
    const { edits } = show({ work });
    press(`${changedWords.remove}: ${words.kinds[first]}`);
    expect(edits).toEqual([{ path: ['work'], after: [work[1]] }]);
  });
});

describe('defects', () => {
  it('are none until one is typed; a press or Enter saves it, to be repaired soon', () => {
    const { edits } = show();
    expect(screen.getByText(words.noDefects)).toBeDefined();
    expect(button(words.addDefect).disabled).toBe(true);
    typeInto(words.defect, '  ');
    fireEvent.submit(document.querySelector('form')!);
    expect(edits).toEqual([]);
    typeInto(words.defect, ` ${'x'.repeat(310)} `);
    fireEvent.submit(document.querySelector('form')!);
    expect(edits).toEqual([{ path: ['defects'], after: [{ wallMs: 5, text: 'x'.repeat(300), weight: 'repair-soon' }] }]);
    expect(field(words.defect).value).toBe('');
    cleanup();
    const more = show({ defects });
    expect(screen.queryByText(words.noDefects)).toBeNull();
    typeInto(words.defect, 'Rust');
    press(words.addDefect);
    // the press submits the form
    fireEvent.submit(document.querySelector('form')!);
    expect(more.edits[0]).toEqual({ path: ['defects', 2], after: { wallMs: 5, text: 'Rust', weight: 'repair-soon' } });
  });
  it('have a weight and a tag, and can be removed', () => {
    const { edits } = show({ defects });
    const weight = field(`${words.weight}: Cracked door`) as unknown as HTMLSelectElement;
    expect([weight.value, [...weight.options].map(({ value }) => value)]).toEqual(['repair-soon', [...defectWeights]]);
    expect(field(`${words.tag}: Cracked door`).value).toBe('T-4');
    typeInto(`${words.weight}: Cracked door`, defectWeights[0]);
    typeInto(`${words.tag}: Cracked door`, '');
    typeInto(`${words.tag}: No air supply`, 'T-5');
    press(`${changedWords.remove}: No air supply`);
    expect(edits).toEqual([
      { path: ['defects', 0], after: { ...defects[0], weight: defectWeights[0] } },
      { path: ['defects', 0], after: { wallMs: 1, text: 'Cracked door', weight: 'repair-soon' } },
      { path: ['defects', 1], after: { ...defects[1], tag: 'T-5' } },
      { path: ['defects'], after: [defects[0]] },
    ]);
  });
});

describe('who was told', () => {
  it('is saved with the time, in person unless it is said otherwise', () => {
    const { edits } = show();
    expect(screen.queryByLabelText(words.how)).toBeNull();
    typeInto(words.whom, 'the tenant');
    expect(edits).toEqual([{ path: ['ownerTold'], after: { wallMs: 5, whom: 'the tenant', how: 'in-person' } }]);
  });
  it('keeps its time and way when the name is corrected, and is gone when that is emptied', () => {
    const told = { wallMs: 3, whom: 'tenant', how: 'by-phone' } as const;
    const { edits } = show({ ownerTold: told });
    typeInto(words.whom, 'owner');
    typeInto(words.how, 'in-person');
    typeInto(words.whom, '');
    expect(edits).toEqual([
      { path: ['ownerTold'], after: { ...told, whom: 'owner' } },
      { path: ['ownerTold'], after: { ...told, how: 'in-person' } },
      { path: ['ownerTold'] },
    ]);
  });
});

describe('the next visit', () => {
  const stored = {
    id: 'a',
    revision: 3,
    appliance: { format: 1, name: 'Boiler', kind: 'boiler-water' },
  } as unknown as AppState['appliance'];

  it('is saved with the visit and with its appliance, when it is a day', () => {
    const { edits, asked } = show({ applianceId: 'a', startedWallMs: Date.UTC(2026, 10, 24, 9) }, { appliance: stored });
    typeInto(words.next, 'spring');
    expect(edits).toEqual([]);
    expect(screen.getByRole('alert').textContent).toBe(words.nextWrong);
    for (const no of ['2027-02-30', '2027-13-01']) {
      typeInto(words.next, no);
      expect(screen.getByRole('alert').textContent).toBe(words.nextWrong);
    }
    // the day of the visit itself, and one before it
    for (const past of ['2026-11-24', '2020-04-01']) {
      typeInto(words.next, past);
      expect(screen.getByRole('alert').textContent).toBe(words.nextPast);
    }
    expect(edits).toEqual([]);
    typeInto(words.next, ' 2027-04-01 ');
    expect(edits).toEqual([{ path: ['nextDue'], after: '2027-04-01' }]);
    expect(asked).toEqual([
      { name: 'appliance.save', input: { id: 'a', revision: 3, appliance: { ...stored?.appliance, nextDue: '2027-04-01' } } },
    ]);
  });
  it('leaves another appliance alone, and its own when it is emptied', () => {
    const other = show({ applianceId: 'b' }, { appliance: stored });
    typeInto(words.next, '2027-04-01');
    expect(other.edits).toHaveLength(1);
    expect(other.asked).toEqual([]);
    cleanup();
    const own = show({ applianceId: 'a', nextDue: '2027-04-01' }, { appliance: stored });
    typeInto(words.next, '');
    expect(own.edits).toEqual([{ path: ['nextDue'] }]);
    expect(own.asked).toEqual([]);
  });
  it('is on the label, or that there is none', () => {
    show();
    expect(screen.getByText(labelWords.noDue)).toBeDefined();
    cleanup();
    show({ nextDue: '2027-04-01' });
    expect(screen.queryByText(labelWords.noDue)).toBeNull();
    expect(document.querySelector('.summary')?.textContent).toContain('2027');
  });
});

it('nothing is changed from a window that may only look', () => {
  show({ work, defects, ownerTold: { wallMs: 3, whom: 'tenant', how: 'in-person' } }, { role: 'viewer' });
  const open = [...document.querySelectorAll<HTMLInputElement>('input, textarea, select, button')].filter(({ disabled }) => !disabled);
  expect(open.map((one) => one.getAttribute('aria-label') ?? one.textContent)).toEqual([]);
});
