// @vitest-environment happy-dom
/** The window of one trial: what is typed becomes marks of its own setting, and nothing that stood there is lost. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { TrialWindow } from '../../../renderer/views/visit/curve/TrialWindow.tsx';
import type { Mark, MarkBody } from '../../../shared/measurement/mark.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import type { Trial } from '../../../shared/tuning/trial/trial.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { makeTrial } from '../../shared/tuning/make-trial.ts';
import { button, field, inWindow, oilVisit, settled, typeInto } from '../helpers/in-window.tsx';
import { recordWith } from '../helpers/records.ts';

afterEach(cleanup);

// 1 in w.c. is 249.089 Pa: NIST SP 811
const IN_WC = 249.089;
type Start = { trial?: Partial<Trial>; visit?: Partial<Visit>; info?: Partial<RunInfo>; marks?: Mark[]; refused?: boolean };
function show({ trial = {}, visit = {}, info = {}, marks = [], refused = false }: Start = {}) {
  const one: Trial = { ...makeTrial({ id: 'a', o2: 5, co: 10, shutter: 4, atMs: 10_000 }), runId: 'run-1', ...trial };
  const made = inWindow(
    <TrialWindow />,
    {
      visit: oilVisit({ trials: [one], draftHabit: 'minus', ...visit }),
      runs: { 'run-1': recordWith({ marks }, info) },
      runId: 'run-1',
      trialOpen: 'a',
    },
    { 'run.editMark': {} },
  );
  const sent: { body: MarkBody; where: { trialId?: string; timeMs?: number } }[] = [];
  made.onMark.current = (body, where) => {
    sent.push({ body: body as MarkBody, where: where as { timeMs?: number } });
    return refused ? undefined : { markId: 'new' };
  };
  return { ...made, sent };
}
const save = async (): Promise<void> => {
  fireEvent.submit(document.querySelector('form')!);
  await settled();
};
const text = (): string => document.body.textContent ?? '';

describe('smoke', () => {
  it('is marked with what the paper shows, for this trial; then the window closes', async () => {
    const { sent, store } = show();
    typeInto('Spot 1', '2');
    typeInto('Spot 2', '1½');
    fireEvent.click(screen.getAllByLabelText('Oil trace')[1]!);
    fireEvent.change(screen.getAllByLabelText('Paper')[0]!, { target: { value: 'uneven' } });
    expect(text()).toContain('Mean');
    await save();
    expect(sent.map(({ body }) => body)).toEqual([
      {
        kind: 'smoke',
        spots: [
          { number: 2, flaw: 'uneven' },
          { number: 1.5, oilTrace: true },
        ],
      },
    ]);
    expect(sent[0]?.where).toMatchObject({ trialId: 'a' });
    expect(sent[0]?.where.timeMs).toBeUndefined();
    expect(store.getState().trialOpen).toBeUndefined();
  });
  it('that cannot be read stops the saving and says why', async () => {
    const { sent, store } = show();
    typeInto('Spot 1', '12');
    await save();
    expect(sent).toEqual([]);
    expect(store.getState().trialOpen).toBe('a');
    expect(document.querySelector('.field-error')).not.toBeNull();
  });
  it('typed anew takes the place of what stood in this setting, after it was saved and not before', async () => {
    const markAt = (id: string, timeMs: number, kind: 'smoke' | 'note' = 'smoke'): Mark => ({
      id,
      timeMs,
      body: kind === 'smoke' ? { kind, spots: [{ number: 3 }] } : { kind, text: 'x' },
    });
    const marks = [
      markAt('before', 9999),
      markAt('first', 10_000),
      markAt('note', 15_000, 'note'),
      markAt('last', 19_999),
      markAt('after', 20_000),
    ];
    const trial = { smoke: { spots: [{ number: 3 }] }, toMs: 20_000 };
    const { sent, asked } = show({ trial, marks });
    expect(field('Spot 1').value).toBe('3');
    typeInto('Spot 1', '1');
    await save();
    expect(sent).toHaveLength(1);
    expect(asked.map(({ input }) => (input as { edit: { markId: string } }).edit.markId)).toEqual(['first', 'last']);
    cleanup();
    const refused = show({ trial, marks, refused: true });
    typeInto('Spot 1', '1');
    await save();
    expect(refused.asked).toEqual([]);
    expect(refused.store.getState().trialOpen).toBe('a');
  });
  it('that was not touched is not marked again', async () => {
    const { sent } = show({ trial: { smoke: { spots: [{ number: 3 }] } } });
    typeInto('Note', ' band moved a hair ');
    await save();
    expect(sent.map(({ body }) => body)).toEqual([{ kind: 'note', text: 'band moved a hair' }]);
  });
  it('not taken is said as such', async () => {
    const { sent, store } = show();
    fireEvent.click(button('Smoke not taken'));
    await settled();
    expect(sent[0]?.body).toEqual({ kind: 'smoke', spots: [], notTaken: true });
    expect(store.getState().trialOpen).toBeUndefined();
  });
  it('the newest three spots are shown', () => {
    show({ trial: { smoke: { spots: [{ number: 4 }, { number: 3, flaw: 'wet' }, { number: 2, oilTrace: true }, { number: 1 }] } } });
    expect([1, 2, 3].map((at) => field(`Spot ${at}`).value)).toEqual(['3', '2', '1']);
    expect(screen.getAllByLabelText<HTMLInputElement>('Oil trace').map(({ checked }) => checked)).toEqual([false, true, false]);
  });
});

describe('a mark of a trial that is over', () => {
  it('comes right after its reading and inside its setting, so that it stays with it', async () => {
    const when = async (toMs: number, readTo: number | undefined): Promise<number | undefined> => {
      const trial = makeTrial({ id: 'a', o2: 5, co: 10, atMs: 10_000 });
      const { reading: _none, ...bare } = trial;
      const one = readTo === undefined ? bare : { ...trial, reading: { ...trial.reading!, toMs: readTo } };
      const { sent } = show({
        trial: { ...one, runId: 'run-1', toMs, ...(readTo === undefined && { reading: undefined }) },
      });
      typeInto('Note', 'x');
      await save();
      cleanup();
      return sent[0]?.where.timeMs;
    };
    expect(await when(60_000, 40_000)).toBe(40_001);
    expect(await when(40_000, 40_000)).toBe(39_999);
    expect(await when(60_000, undefined)).toBe(59_999);
    expect(await when(60_000, 5000)).toBe(10_000);
  });
  it('cannot be made once its run has ended, nor by a viewer of it', () => {
    show({ info: { phase: 'ended' } });
    expect(text()).toContain('The run of this trial has ended: nothing more can be entered for it.');
    expect(button(/^Save/).disabled).toBe(true);
    expect(button('Smoke not taken').disabled).toBe(true);
    expect(field('Spot 1').disabled).toBe(true);
  });
});

describe('draft', () => {
  it('over the fire and at the breech go to their own places', async () => {
    const { sent } = show();
    typeInto('Draft over fire', '-0.02');
    typeInto('Draft at breech', '-0.04');
    expect(text()).toContain('Saved as −0.020');
    await save();
    const [mark] = sent;
    expect(sent).toHaveLength(1);
    expect(mark?.body).toMatchObject({ kind: 'draft' });
    const { overFirePa, breechPa } = mark!.body as { overFirePa: number; breechPa: number };
    expect(overFirePa).toBeCloseTo(-0.02 * IN_WC, 2);
    expect(breechPa).toBeCloseTo(-0.04 * IN_WC, 2);
  });
  it('that could be suction or pressure is asked about; the answer is saved, and how this person writes with it', async () => {
    const { sent, edits } = show({ visit: { draftHabit: 'unknown' } });
    typeInto('Draft over fire', '0.02');
    typeInto('Draft at breech', '0.04');
    await save();
    expect(sent).toEqual([]);
    const asked = screen.getAllByRole('alert');
    expect(asked).toHaveLength(2);
    fireEvent.click(asked[0]!.querySelectorAll('button')[0]!);
    await settled();
    expect(edits).toEqual([{ path: ['draftHabit'], after: 'plain' }]);
    const { overFirePa, breechPa } = sent[0]!.body as { overFirePa: number; breechPa: number };
    expect(overFirePa).toBeCloseTo(-0.02 * IN_WC, 2);
    expect(breechPa).toBeCloseTo(-0.04 * IN_WC, 2);
    cleanup();
    const other = show({ visit: { draftHabit: 'unknown' } });
    typeInto('Draft over fire', '0.02');
    await save();
    fireEvent.click(screen.getByRole('alert').querySelectorAll('button')[1]!);
    await settled();
    expect(other.edits).toEqual([{ path: ['draftHabit'], after: 'minus' }]);
    expect((other.sent[0]!.body as { overFirePa: number }).overFirePa).toBeCloseTo(0.02 * IN_WC, 2);
  });
  it('that cannot be read stops the saving', async () => {
    const { sent } = show();
    typeInto('Draft at breech', 'some');
    typeInto('Note', 'x');
    await save();
    expect(sent).toEqual([]);
  });
  it('of a trial is shown with the drop through the appliance', () => {
    show({ trial: { draft: { overFirePa: -5, breechPa: -12.5 } } });
    expect(text()).toMatch(/Drop through the appliance 0\.030/);
  });
});

it('nothing typed is nothing saved, and said so', async () => {
  const { sent, store } = show();
  await save();
  expect(sent).toEqual([]);
  expect(text()).toContain('Type what you measured, or close.');
  expect(store.getState().trialOpen).toBe('a');
});
it('a setting that was entered later says so, with its positions', () => {
  show({ trial: { inferred: true } });
  expect(text()).toContain('The setting was entered later.');
  expect(text()).toMatch(/shutter.*4/i);
});
