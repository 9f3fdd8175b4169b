// @vitest-environment happy-dom
/** As left the last time beside as found now: figures in the units of the visit, the change with its sign, and what did not move said as such. */
import { cleanup } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { SinceTable } from '../../../renderer/views/visit/start/SinceLast.tsx';
import type { SinceLast, SinceRow } from '../../../shared/tuning/visit/since-last.ts';
import { sinceWords as words } from '../../../shared/words/visit/since-last.ts';
import { inWindow, oilVisit, rowsOf } from '../helpers/in-window.tsx';

afterEach(cleanup);

type Figure = Extract<SinceRow, { kind: 'figure' }>;
const figure = (
  quantity: Figure['quantity'],
  before: number,
  now: number,
  expanded: number | undefined,
  movement: Figure['movement'],
): Figure => ({
  kind: 'figure',
  quantity,
  before: { value: before, expanded },
  now: { value: now, expanded },
  change: { value: now - before, expanded },
  movement,
});
const shutter = (now: number, movement: SinceRow['movement']): SinceRow => ({
  kind: 'adjuster',
  name: 'shutter',
  unit: '',
  air: true,
  before: 4,
  now,
  movement,
});
function show(rows: readonly SinceRow[], units: 'us' | 'metric' = 'metric', more: object = {}) {
  const since = {
    rows,
    notes: [],
    last: { from: { kind: 'visit', number: 12, wallMs: Date.UTC(2025, 10, 3, 12), zoneMinutes: 0, signed: true } },
    ...more,
  } as unknown as SinceLast;
  const { page } = inWindow(<SinceTable since={since} foundNumber={1} />, { visit: oilVisit({ unitPreset: units }) });
  return { page, rows: rowsOf(words.title) };
}
const changes = (rows: readonly SinceRow[], units?: 'us' | 'metric'): string[] => {
  const texts = show(rows, units)
    .rows.slice(1)
    .map((row) => row.at(-1) ?? '');
  cleanup();
  return texts;
};

describe('the change', () => {
  it('of an adjuster is how far it was turned, with its sign', () => {
    expect(changes([shutter(4.5, 'up')])).toEqual(['+0.5']);
    expect(changes([shutter(3.25, 'down')])).toEqual(['−0.75']);
    expect(changes([shutter(4, 'same')])).toEqual([words.asLeft]);
  });
  it('of a figure has the sign of the figure, and the ± of the difference', () => {
    expect(changes([figure('o2Percent', 5, 6.5, 0.4, 'up')])).toEqual(['+1.5 ±0.4']);
    expect(changes([figure('o2Percent', 6.5, 5, 0.4, 'down')])).toEqual(['−1.5 ±0.4']);
    expect(changes([figure('smokeNumber', 2, 0.5, 0.5, 'down')])).toEqual(['−1½ ±0.5']);
  });
  it('is in the units of the visit: 1 K is 1.8 degF, and -12.5 Pa is -0.05 in w.c.', () => {
    expect(changes([figure('netStackK', 200, 220, 5, 'up')])).toEqual(['+20 ±5']);
    expect(changes([figure('netStackK', 200, 220, 5, 'up')], 'us')).toEqual(['+36 ±9']);
    const [draft] = changes([figure('breechPa', -5, -17.4545, 2.5, 'down')], 'us');
    expect(draft).toMatch(/^−0\.05\d? ±0\.01/);
  });
  it('that is no larger than its ± is said as that, and nothing is said to have moved', () => {
    expect(changes([figure('o2Percent', 5, 5.2, 0.4, 'same')])).toEqual([words.within('±0.4')]);
    expect(changes([figure('smokeNumber', 0, 0.5, 0.5, 'same')])).toEqual([words.within('±0.5')]);
  });
  it('without a ± is not known', () => {
    expect(changes([figure('o2Percent', 5, 8, undefined, 'up')])).toEqual([words.notKnown]);
    expect(changes([figure('o2Percent', 5, 8, 0.4, 'not-known')])).toEqual([words.notKnown]);
  });
  it('stands out where something moved, up or down, and only there', () => {
    const bold = (movement: SinceRow['movement']) => {
      const { page } = show([figure('o2Percent', 5, 6, 0.4, movement)]);
      const is = page.querySelector('tbody td:last-child b') !== null;
      cleanup();
      return is;
    };
    expect((['up', 'down', 'same', 'not-known'] as const).map(bold)).toEqual([true, true, false, false]);
  });
});

describe('the table', () => {
  it('has a row for each, named, before and now', () => {
    const { rows } = show([shutter(4.5, 'up'), figure('o2Percent', 5, 6.5, 0.4, 'up')]);
    expect(rows[1]!.slice(0, 3)).toEqual(['Shutter', '4', '4.5']);
    expect(rows[2]!.slice(1, 3)).toEqual(['5.0 ±0.4', '6.5 ±0.4']);
  });
  it('says where the figures before come from', () => {
    expect(show([]).rows[0]!.join(' ')).toContain(words.visit(12, '3 Nov 2025'));
    cleanup();
    const papers = show([], 'metric', { last: { from: { kind: 'papers', day: '2025-11-03' } } });
    expect(papers.page.textContent).toContain(words.papers('3 November 2025'));
  });
  it('draws the slot of what was left; what moved is joined to it by a line, what did not stays inside', () => {
    const drawn = (row: SinceRow) => {
      const { page } = show([row]);
      const found = [
        page.querySelectorAll('svg').length,
        page.querySelectorAll('svg rect.fill-accent-soft').length,
        page.querySelectorAll('svg .stroke-notice').length,
      ];
      cleanup();
      return found;
    };
    expect(drawn(figure('o2Percent', 5, 7, 0.4, 'up'))).toEqual([1, 0, 1]);
    expect(drawn(figure('o2Percent', 5, 5.1, 0.4, 'same'))).toEqual([1, 1, 0]);
    expect(drawn(figure('o2Percent', 5, 7, undefined, 'not-known'))).toEqual([0, 0, 0]);
    expect(drawn(shutter(4.5, 'up'))).toEqual([1, 0, 1]);
  });
});
