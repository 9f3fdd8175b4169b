// @vitest-environment happy-dom
/** A card of limits of the bench: every line says where it is from, a person chooses the rule, and percents are saved as parts. */
import { cleanup, fireEvent, screen, within } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { LimitsForm } from '../../../../renderer/views/bench/forms/LimitsForm.tsx';
import type { BenchLimits } from '../../../../shared/bench/limits.ts';
import { decisionRules } from '../../../../shared/measurement/decision-rule.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { button, field, press, typeInto } from '../../helpers/in-window.tsx';
import { onBench, pressed, saidBelow, saveButton } from './bench-parts.tsx';

afterEach(cleanup);

const words = bench.limits;
/** the legend of O2 has its 2 lowered */
const part = (name: string) =>
  within([...document.querySelectorAll('fieldset')].find((one) => one.querySelector('legend')?.textContent === name)!);
const typeIn = (channel: string, label: string, value: string): void =>
  void fireEvent.change(part(channel).getByLabelText(label), { target: { value } });
const card: BenchLimits = {
  format: 1,
  name: 'Own',
  date: '2026-01-01',
  decisionRule: 'simple',
  lines: [
    {
      channel: 'co',
      errorAbsolute: 20,
      errorRelative: 0.05,
      repeatabilityPart: 0.25,
      linearityPercentOfSpan: 2,
      stabilityPercentOfSpan: 3,
      crossEffectPart: 0.5,
      t90S: 90,
      source: 'the maker',
    },
  ],
};
const known = { 'bench-limits': [{ id: 'l1', revision: 1, changedMs: 0, body: card }] };

it('asks for its name, its rule and the source of every line, one after the other', async () => {
  const { save } = onBench(<LimitsForm id={undefined} />, { view: { kind: 'limits', id: undefined } });
  expect(saidBelow()).toBe('Name of the card?');
  typeInto(words.name, ' Own ');
  expect(saidBelow()).toBe(bench.noRule);
  typeInto(words.rule, 'guarded-acceptance');
  expect(saidBelow()).toBe(words.sourceNeeded);
  typeIn('O2', words.source, 'own');
  expect(saidBelow()).toBe(words.sourceNeeded);
  expect(saveButton().disabled).toBe(true);
  typeIn('CO', words.source, ' own ');
  expect(saidBelow()).toBe(bench.ruleSentences['guarded-acceptance']);
  expect(await save()).toEqual({
    format: 1,
    name: 'Own',
    date: expect.stringMatching(/^\d{4}-\d{2}-\d{2}$/) as string,
    decisionRule: 'guarded-acceptance',
    lines: [
      { channel: 'o2', source: 'own' },
      { channel: 'co', source: 'own' },
    ],
  });
});
it('shows parts as percents, each figure in its unit, and saves them as they were', async () => {
  const { save, sent, view } = onBench(<LimitsForm id="l1" />, { lists: known, view: { kind: 'limits', id: 'l1' } });
  const fields = [...document.querySelectorAll<HTMLInputElement>('fieldset input')];
  expect(fields.map(({ value, parentElement }) => `${value} ${parentElement?.querySelector('.unit')?.textContent ?? ''}`.trim())).toEqual([
    '20 ppm',
    '5 %',
    '25 %',
    '2 %',
    '3 %',
    '50 %',
    '90 s',
    'the maker',
  ]);
  expect(await save()).toMatchObject({ decisionRule: 'simple', lines: card.lines });
  expect(sent('document.save')).toMatchObject({ id: 'l1', kind: 'bench-limits' });
  expect(view()).toEqual({ kind: 'home' });
});
it('an example is copied under a name of its own, and the rule is chosen anew', () => {
  const { sent } = onBench(<LimitsForm id={undefined} />, { view: { kind: 'limits', id: undefined, copyOf: { ...card, example: true } } });
  expect(field(words.name).value).toBe('Own, own');
  expect(saidBelow()).toBe(bench.noRule);
  const offered = [...screen.getByLabelText<HTMLSelectElement>(words.rule).options].map(({ value }) => value);
  expect(offered).toEqual(['', ...decisionRules]);
  typeInto(words.rule, 'simple');
  press(/^Save$/);
  expect(sent('document.save')).not.toHaveProperty('id');
});
it.each([words.absolute, words.relative, words.repeatability, words.linearity, words.stability, words.cross, words.t90])(
  '"%s" of nothing is said to be wrong, and not saved',
  (label) => {
    onBench(<LimitsForm id="l1" />, { lists: known });
    typeIn('CO', label, '0');
    expect(part('CO').getByLabelText(label).getAttribute('aria-invalid')).toBe('true');
    expect(saveButton().disabled).toBe(true);
    typeIn('CO', label, '');
    expect(saveButton().disabled).toBe(false);
  },
);
it('lines are added for the channels that are left, and removed down to the last', () => {
  onBench(<LimitsForm id="l1" />, { lists: known });
  expect(button(`${bench.home.remove} CO`).disabled).toBe(true);
  for (let more = 0; more < 5; more += 1) press(words.addLine);
  expect(() => button(words.addLine)).toThrow(/^0 buttons/);
  press(`${bench.home.remove} CO`);
  expect(screen.queryByRole('group', { name: 'CO' })).toBeNull();
  expect(button(words.addLine)).toBeDefined();
});
it('one of its own can be removed, but not from a window that may only look', async () => {
  const { sent, view } = onBench(<LimitsForm id="l1" />, { lists: known, view: { kind: 'limits', id: 'l1' } });
  await pressed(button(bench.home.remove));
  expect(sent('document.remove')).toEqual({ kind: 'bench-limits', id: 'l1' });
  expect(view()).toEqual({ kind: 'home' });
  cleanup();
  onBench(<LimitsForm id="l1" />, { lists: known, state: { role: 'viewer' } });
  expect(button(bench.home.remove).disabled).toBe(true);
  expect(saveButton().disabled).toBe(true);
});
