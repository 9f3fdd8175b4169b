// @vitest-environment happy-dom
/** The list of safety tests: what is said beside each, and how it is walked. */
import { cleanup, fireEvent, render } from '@testing-library/react';
import { afterEach, expect, it, vi } from 'vitest';
import { TestList } from '../../../renderer/views/visit/safety/SafetyParts.tsx';
import { safetyTests } from '../../../shared/tuning/safety/safety-plan.ts';
import type { SafetyResult } from '../../../shared/tuning/safety/safety-result.ts';
import { safetyWords } from '../../../shared/words/visit/safety-tests.ts';

afterEach(cleanup);

const results: SafetyResult[] = [
  { test: 'lockout-no-ignition', result: 'pass', wallMs: 1, seconds: 14.2, markedSeconds: 15 },
  { test: 'manual-reset', result: 'fail', wallMs: 2 },
  { test: 'relief-valve', result: 'not-applicable', wallMs: 2 },
];
const choose = vi.fn();
function show() {
  choose.mockClear();
  render(
    <TestList
      needed={safetyTests.filter(({ optional }) => optional === undefined)}
      latest={new Map(results.map((one) => [one.test, one]))}
      now="flame-failure"
      choose={choose}
      turn={null}
    />,
  );
  return [...document.querySelectorAll<HTMLButtonElement>('.safety-row')];
}
const rowOf = (rows: HTMLButtonElement[], test: (typeof safetyTests)[number]['id']): HTMLButtonElement =>
  rows[safetyTests.findIndex(({ id }) => id === test)]!;

it('each test is there, in order, by its name', () => {
  expect(show().map((row) => row.querySelector('.safety-name')?.textContent)).toEqual(safetyTests.map(({ id }) => safetyWords[id].title));
});
it('a result is said with its time, the one in front with its place, one that is not needed as such, an open one not at all', () => {
  const rows = show();
  const about = (test: Parameters<typeof rowOf>[1]): string => rowOf(rows, test).querySelector('.unwrapped')?.textContent ?? '';
  expect(about('lockout-no-ignition')).toMatch(/pass.*14\.2 s.*15/i);
  expect(about('manual-reset')).toMatch(/fail/i);
  expect(about('manual-reset')).not.toContain('·');
  expect(about('relief-valve')).toBe('not applicable');
  expect(about('flame-failure')).toBe('test 4 of 15');
  expect(about('low-water')).toBe('only where fitted');
  expect(about('switches')).toBe('');
});
it('one row is reached with Tab, the one in front; the others with arrows, Home and End', () => {
  const rows = show();
  expect(rows.map(({ tabIndex }) => tabIndex)).toEqual(safetyTests.map(({ id }) => (id === 'flame-failure' ? 0 : -1)));
  expect(rows.filter((row) => row.getAttribute('aria-current') === 'step')).toEqual([rowOf(rows, 'flame-failure')]);
  rowOf(rows, 'flame-failure').focus();
  const walk: [string, number][] = [
    ['ArrowDown', 4],
    ['ArrowUp', 3],
    ['Home', 0],
    ['ArrowUp', 0],
    ['End', rows.length - 1],
    ['ArrowDown', rows.length - 1],
  ];
  for (const [key, at] of walk) {
    fireEvent.keyDown(document.activeElement!, { key });
    expect(document.activeElement).toBe(rows[at]);
  }
  expect(choose).not.toHaveBeenCalled();
  fireEvent.click(rows[0]!);
  expect(choose).toHaveBeenCalledWith(safetyTests[0]!.id);
});
