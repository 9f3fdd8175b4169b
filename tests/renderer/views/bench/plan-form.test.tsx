// @vitest-environment happy-dom
/** A plan of the bench: its steps in their order, each with its gas and its time; what cannot be carried out is not saved, and says why. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { PlanForm } from '../../../../renderer/views/bench/forms/PlanForm.tsx';
import type { BenchPlan } from '../../../../shared/bench/plan.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { button, field, press, typeInto } from '../../helpers/in-window.tsx';
import { onBench, pressed, saidBelow, saveButton } from './bench-parts.tsx';

afterEach(cleanup);

const words = bench.plan;
const of = (step: number, what: string): string => `${words.step(step)}: ${what}`;
const plan: BenchPlan = {
  format: 1,
  name: 'Two gases',
  steps: [
    { id: 's1', purpose: 'zero', slot: 'zero', holdS: 60 },
    { id: 's3', purpose: 'span', slot: 'high', holdS: 90 },
  ],
};
const known = { 'bench-plan': [{ id: 'p1', revision: 1, changedMs: 0, body: plan }] };
const order = (): string[] => screen.getAllByLabelText<HTMLSelectElement>(/: What for$/).map(({ value }) => value);

it('a new one has a step of fresh air, asks for its name, and is saved as typed', async () => {
  const { save, view } = onBench(<PlanForm id={undefined} />, { view: { kind: 'plan', id: undefined } });
  expect(saidBelow()).toBe('Name of the plan?');
  expect(saveButton().disabled).toBe(true);
  typeInto(words.name, ' Short ');
  expect(saidBelow()).toBe('1 step, 1 min');
  expect(await save()).toEqual({ format: 1, name: 'Short', steps: [{ id: 's1', purpose: 'fresh-air', slot: 'air', holdS: 60 }] });
  expect(view()).toEqual({ kind: 'home' });
});
it('one that is refused stays on the screen', async () => {
  const { save, view } = onBench(<PlanForm id="p1" />, { lists: known, view: { kind: 'plan', id: 'p1' }, saves: false });
  await save();
  expect(view()).toEqual({ kind: 'plan', id: 'p1' });
});
it('steps go up and down and away; a new one has a number of its own', async () => {
  const { save } = onBench(<PlanForm id="p1" />, { lists: known });
  expect(saidBelow()).toBe('2 steps, 2 min 30 s');
  for (const [step, what] of [
    [1, words.up],
    [2, words.down],
  ] as const)
    expect(button(of(step, what)).disabled).toBe(true);
  press(of(1, words.down));
  expect(order()).toEqual(['span', 'zero']);
  press(of(2, words.up));
  expect(order()).toEqual(['zero', 'span']);
  press(words.addStep);
  expect(order()).toEqual(['zero', 'span', 'point']);
  expect(await save()).toMatchObject({ steps: [{ id: 's1' }, { id: 's3' }, { id: 's4', purpose: 'point', slot: 'low', holdS: 60 }] });
  press(of(1, words.removeStep));
  press(of(1, words.removeStep));
  expect(order()).toEqual(['point']);
  expect(button(of(1, words.removeStep)).disabled).toBe(true);
});
it('a step is what is chosen; only repeatability has a number of readings, twenty unless typed', async () => {
  const { save } = onBench(<PlanForm id="p1" />, { lists: known });
  expect(screen.queryByLabelText(/: Readings$/)).toBeNull();
  typeInto(of(2, words.purpose), 'repeatability');
  typeInto(of(2, words.gas), 'mid');
  typeInto(of(2, words.hold), '120');
  const step = { id: 's3', purpose: 'repeatability', slot: 'mid', holdS: 120 };
  expect(await save()).toMatchObject({ steps: [{}, { ...step, readings: 20 }] });
  typeInto(of(2, words.readings), '10');
  expect(await save()).toMatchObject({ steps: [{}, { ...step, readings: 10 }] });
});
it.each([
  [words.hold, '29'],
  [words.hold, '45.5'],
  [words.hold, '604801'],
  [words.readings, '2'],
  [words.readings, '51'],
])('"%s" of %s is said to be wrong and not saved', (what, text) => {
  onBench(<PlanForm id="p1" />, { lists: known });
  typeInto(of(1, words.purpose), 'repeatability');
  typeInto(of(1, what), text);
  expect(field(of(1, what)).getAttribute('aria-invalid')).toBe('true');
  expect(saveButton().disabled).toBe(true);
});
it.each([
  [words.hold, '30'],
  [words.hold, '604800'],
  [words.readings, '3'],
  [words.readings, '50'],
])('"%s" of %s is the most or the least that can be saved', (what, text) => {
  onBench(<PlanForm id="p1" />, { lists: known });
  typeInto(of(1, words.purpose), 'repeatability');
  typeInto(of(1, what), text);
  expect(saveButton().disabled).toBe(false);
});
it('a number of readings that no step shows any more blocks nothing', () => {
  onBench(<PlanForm id="p1" />, { lists: known });
  typeInto(of(1, words.purpose), 'repeatability');
  typeInto(of(1, words.readings), '2');
  typeInto(of(1, words.purpose), 'point');
  expect(saveButton().disabled).toBe(false);
});
it('an example is copied under a name of its own', async () => {
  const { save, sent } = onBench(<PlanForm id={undefined} />, {
    view: { kind: 'plan', id: undefined, copyOf: { ...plan, example: true } },
  });
  expect(await save()).toEqual({ ...plan, name: 'Two gases, own' });
  expect(sent('document.save')).not.toHaveProperty('id');
});
it('one of its own can be removed; a new one has nothing to remove', async () => {
  const { sent, view } = onBench(<PlanForm id="p1" />, { lists: known, view: { kind: 'plan', id: 'p1' } });
  await pressed(button(bench.home.remove));
  expect(sent('document.remove')).toEqual({ kind: 'bench-plan', id: 'p1' });
  expect(view()).toEqual({ kind: 'home' });
  cleanup();
  onBench(<PlanForm id={undefined} />);
  expect(() => button(bench.home.remove)).toThrow(/^0 buttons/);
});
it('a window that may only look changes nothing', () => {
  onBench(<PlanForm id="p1" />, { lists: known, state: { role: 'viewer' } });
  expect(saveButton().disabled).toBe(true);
  expect(button(bench.home.remove).disabled).toBe(true);
});
it('Enter in a field saves', () => {
  const { asked } = onBench(<PlanForm id="p1" />, { lists: known });
  fireEvent.keyDown(field(words.name), { key: 'Enter' });
  expect(asked.map(({ name }) => name)).toContain('document.save');
});
