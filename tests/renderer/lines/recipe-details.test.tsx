// @vitest-environment happy-dom
/** What few instruments need, in the editor of a recipe: each field changes its own part of the recipe and nothing else. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { useState } from 'react';
import { afterEach, describe, expect, it } from 'vitest';
import { blankRecipe, withRole } from '../../../renderer/views/lines/recipe/recipe-edit.ts';
import { RecipeDetails } from '../../../renderer/views/lines/recipe/RecipeDetails.tsx';
import { LineRecipe } from '../../../shared/measurement/recipe.ts';
import { recipeWords as words } from '../../../shared/words/lines/lines.ts';
import { field, typeInto } from '../helpers/in-window.tsx';

afterEach(cleanup);

const start = withRole(blankRecipe('Own'), 0, 'o2');
let recipe: LineRecipe;
function Page({ from }: { from: LineRecipe }) {
  const [now, change] = useState(from);
  recipe = now;
  return <RecipeDetails recipe={now} change={change} />;
}
const show = (from: LineRecipe = start): void => void render(<Page from={from} />);
const pick = (label: string, value: string): void => void fireEvent.change(screen.getByLabelText(label), { target: { value } });
const tick = (label: string): void => void fireEvent.click(screen.getByLabelText(label));
/** the recipe after it, usable, with what is different from before */
function changed(): Partial<LineRecipe> {
  expect(LineRecipe.safeParse(recipe).error?.issues).toBeUndefined();
  return Object.fromEntries(
    Object.entries(recipe).filter(([key, value]) => JSON.stringify(value) !== JSON.stringify(start[key as keyof LineRecipe])),
  );
}

describe('an instrument that answers only', () => {
  it('is asked with a usual question that can be changed, and no longer when that is taken back', () => {
    show();
    expect(screen.queryByLabelText(words.command)).toBeNull();
    tick(words.polled);
    expect(changed()).toEqual({ polling: { command: 'READ?\r\n', intervalMs: 1000, retries: 2 } });
    expect(field(words.command).value).toBe('READ?<CR><LF>');
    typeInto(words.command, 'M<CR>');
    typeInto(words.interval, '2,5');
    typeInto(words.retries, '3 times');
    expect(changed()).toEqual({ polling: { command: 'M\r', intervalMs: 2500, retries: 3 } });
    tick(words.polled);
    expect(changed()).toEqual({});
    expect('polling' in recipe).toBe(false);
  });
  it('a time that is no number is none, which the recipe then refuses', () => {
    show();
    tick(words.polled);
    typeInto(words.interval, 'often');
    expect(recipe.polling?.intervalMs).toBe(0);
    expect(LineRecipe.safeParse(recipe).success).toBe(false);
  });
});

describe('words for no value', () => {
  it('are taken as they are typed; a line that is not understood is named, stays in its field and changes nothing', () => {
    show();
    typeInto(words.noValue, '---- = blank');
    expect(changed()).toEqual({ words: { '----': 'blank' } });
    typeInto(words.noValue, '---- = blank\nERR');
    expect(changed()).toEqual({ words: { '----': 'blank' } });
    expect(field(words.noValue).getAttribute('aria-invalid')).toBe('true');
    expect(document.querySelector('.field-error')?.textContent).toContain('ERR');
    fireEvent.blur(field(words.noValue));
    expect(field(words.noValue).value).toBe('---- = blank\nERR');
    typeInto(words.noValue, '---- = blank');
    expect(document.querySelector('.field-error')).toBeNull();
  });
  it('of a status are asked for only where a piece is the status', () => {
    show();
    expect(screen.queryByLabelText(words.statusWords)).toBeNull();
    cleanup();
    show(withRole(start, 1, 'status'));
    typeInto(words.statusWords, 'W = warming up');
    expect(recipe.status).toMatchObject({ at: 1, words: { W: 'warming-up' } });
    typeInto(words.statusWords, 'W = asleep');
    expect(document.querySelector('.field-error')?.textContent).toContain('W = asleep');
    expect(recipe.status?.words).toEqual({ W: 'warming-up' });
  });
});

describe('the line', () => {
  it('ends, is coded and is as long as it is said to be', () => {
    show();
    const ends = screen.getByLabelText<HTMLSelectElement>(words.terminator);
    const own = [...ends.options].map(({ value }) => value).find((value) => value !== 'any')!;
    pick(words.terminator, own);
    expect(changed()).toEqual({ framing: { ...start.framing, terminator: own } });
    pick(words.terminator, 'any');
    expect(changed()).toEqual({});
    typeInto(words.longest, '120 characters');
    expect(changed()).toEqual({ framing: { ...start.framing, longestLine: 120 } });
  });
  it('an end of its own that a recipe came with is in the list', () => {
    show({ ...start, framing: { ...start.framing, terminator: '\u0002' } });
    const ends = screen.getByLabelText<HTMLSelectElement>(words.terminator);
    expect(ends.value).toBe('\u0002');
    expect(ends.selectedOptions[0]?.text).toMatch(/^<.+>$/);
  });
  it('is left out when it begins in a way that is written here, one a line', () => {
    show();
    typeInto(words.ignore, '#\n\n$H');
    expect(changed()).toEqual({ ignore: { ...start.ignore, prefixes: ['#', '$H'] } });
    cleanup();
    show();
    tick(words.onKey);
    expect(changed()).toEqual({ onKey: true });
  });
  it('has a clock of its own only where a piece is the time', () => {
    show();
    expect(screen.queryByLabelText(words.clock)).toBeNull();
    cleanup();
    show(withRole(start, 1, 'time'));
    const clock = screen.getByLabelText<HTMLSelectElement>(words.clock);
    const other = [...clock.options].map(({ value }) => value).find((value) => value !== 'clock')!;
    pick(words.clock, other);
    expect(recipe.time).toMatchObject({ kind: 'field', at: 1, format: other });
  });
  it('is checked by a sum, with as many digits as that has; what was said of it stays when the sum is another one', () => {
    show();
    expect(screen.queryByLabelText(words.checkSkip)).toBeNull();
    pick(words.check, 'xor');
    expect(changed().check).toMatchObject({ kind: 'xor', lead: '*', skip: 1, digits: 2, as: 'hex' });
    typeInto(words.checkLead, '#');
    typeInto(words.checkSkip, '2');
    const crc = [...screen.getByLabelText<HTMLSelectElement>(words.check).options]
      .map(({ value }) => value)
      .find((value) => value.startsWith('crc16'))!;
    pick(words.check, crc);
    expect(changed().check).toMatchObject({ kind: crc, lead: '#', skip: 2 });
    pick(words.check, 'none');
    expect(changed()).toEqual({});
    pick(words.check, crc);
    expect(changed().check).toMatchObject({ kind: crc, lead: '*', skip: 0, digits: 4 });
  });
});
