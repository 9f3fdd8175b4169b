// @vitest-environment happy-dom
/** The table of trials: what a row says, and what keys and clicks do to it. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { readingText, TrialTable } from '../../../renderer/views/visit/curve/TrialTable.tsx';
import type { Trial } from '../../../shared/tuning/trial/trial.ts';
import { makeTrial } from '../../shared/tuning/make-trial.ts';
import { inWindow, oilVisit, rowsOf } from '../helpers/in-window.tsx';

afterEach(cleanup);

const adjuster = (name: string) => ({ name, unit: '', min: 0, max: 10, step: 0.25, role: 'fine', kind: 'air' }) as const;
const trials: readonly Trial[] = [
  makeTrial({ id: 'a', o2: 6, co: 20, stackC: 200, airC: 20, shutter: 5, band: 2, smoke: [1, 2], overFirePa: -5, breechPa: -10, atMs: 1 }),
  makeTrial({ id: 'b', o2: 4.5, co: 40, shutter: 4.25, breechPa: -10, settled: false, atMs: 2 }),
  { ...makeTrial({ id: 'c', shutter: 3, atMs: 3 }), smoke: { spots: [], notTaken: true } },
];
const visit = oilVisit({ trials: [...trials], adjusters: [adjuster('shutter'), adjuster('band'), adjuster('head')] });
type Props = Parameters<typeof TrialTable>[0];
const show = (more: Partial<Props> = {}, on = visit) =>
  inWindow(<TrialTable visit={on} trials={trials} units="us" {...more} />, { visit: on });
const rows = (): string[][] => rowsOf(/./);
const bodyRows = (): HTMLElement[] => screen.getAllByRole('row').slice(1);

describe('a row of the table', () => {
  it('has the positions of the adjusters that were read, O2 with its ±, CO2 from it, CO as read and at no air, smoke, draft and kind', () => {
    show();
    expect(rows()[0]?.slice(0, 3)).toEqual(['trial', 'shutter', 'band']);
    const [first, second, third] = rows().slice(1);
    expect(first?.slice(1, 3)).toEqual(['5', '2']);
    expect(first?.[3]).toMatch(/^6\.0 ±0\.2/);
    // balance: CO2 = CO2max (20.9 - O2)/20.9, CO2max of No. 2 oil 15.3 to 15.7: ASHRAE Handbook Fundamentals
    expect(Number(first?.[4])).toBeGreaterThan(10.8);
    expect(Number(first?.[4])).toBeLessThan(11.3);
    expect(first?.[5]).toBe('20');
    // 20 x 20.9/(20.9 - 6)
    expect(first?.[6]).toBe('28');
    expect(first?.[7]).toBe('1½');
    // over the fire before the breech; 1 in w.c. is 249.089 Pa
    expect(first?.[8]).toBe('−0.020');
    expect(first?.[9]).toBe('full');
    expect(second?.slice(1, 3)).toEqual(['4.25', '–']);
    expect(second?.slice(7)).toEqual(['–', '−0.040', 'by hand']);
    expect(third?.slice(3, 7)).toEqual(['–', '–', '–', '–']);
    expect(third?.slice(7)).toEqual(['–', '–', 'none yet']);
  });
  it('has temperatures instead of CO at no air where they are asked for, in the degrees of the window', () => {
    show({ temperatures: true });
    expect(rows()[0]?.slice(6, 8)).toEqual(['stack °F', 'air °F']);
    expect(rows()[1]?.slice(6, 8)).toEqual(['392', '68']);
    expect(rows()[2]?.slice(6, 8)).toEqual(['–', '–']);
    cleanup();
    show({ temperatures: true, units: 'metric' });
    expect(rows()[1]?.slice(6, 8)).toEqual(['200', '20']);
  });
  it('has no CO2 without a fuel', () => {
    const { fuelId: _none, ...unknown } = visit;
    show({}, unknown);
    expect(rows()[0]).toHaveLength(9);
    expect(rows()[0]).not.toContain('CO2 %');
  });
  it('is the one that is chosen, or stale with its reason, and no other', () => {
    show({ nowId: 'b', stale: new Map([['a', { kind: 'nozzle' } as never]]) });
    const [first, second, third] = bodyRows();
    expect([first, second, third].map((row) => row?.getAttribute('aria-current'))).toEqual([null, 'true', null]);
    expect([first, second, third].map((row) => row?.tabIndex)).toEqual([-1, 0, -1]);
    expect(first?.className).toBe('stale');
    expect(first?.lastElementChild?.textContent).toBe('stale');
    expect(second?.className).toBe('now');
    cleanup();
    show();
    expect(bodyRows().map((row) => row.tabIndex)).toEqual([0, -1, -1]);
  });
  it('says how its reading was taken', () => {
    expect(trials.map(readingText)).toEqual(['full', 'by hand', 'none yet']);
    expect(readingText(makeTrial({ id: 'd', o2: 5, co: 10 }))).toBe('gas');
  });
});

describe('keys and clicks', () => {
  it('up and down walk, to the first and the last with Home and End, and stop at the ends', () => {
    show();
    const [first, second, third] = bodyRows();
    first!.focus();
    const key = (name: string): void => void fireEvent.keyDown(document.activeElement!, { key: name });
    const walk: [string, HTMLElement | undefined][] = [
      ['ArrowUp', first],
      ['ArrowDown', second],
      ['ArrowDown', third],
      ['ArrowDown', third],
      ['ArrowUp', second],
      ['Home', first],
      ['End', third],
      ['a', third],
    ];
    for (const [name, at] of walk) {
      key(name);
      expect(document.activeElement).toBe(at);
    }
  });
  it('Enter opens the trial; Space chooses where something is to be chosen', () => {
    const choose = vi.fn();
    const { store } = show({ choose });
    fireEvent.keyDown(bodyRows()[1]!, { key: ' ' });
    expect(choose).toHaveBeenCalledWith('b');
    expect(store.getState().trialOpen).toBeUndefined();
    fireEvent.keyDown(bodyRows()[1]!, { key: 'Enter' });
    expect(store.getState().trialOpen).toBe('b');
  });
  it('a click chooses first and opens what is chosen; where nothing is chosen it opens', () => {
    const choose = vi.fn();
    const { store } = show({ choose, nowId: 'a' });
    fireEvent.click(bodyRows()[1]!);
    expect(choose).toHaveBeenCalledWith('b');
    expect(store.getState().trialOpen).toBeUndefined();
    fireEvent.click(bodyRows()[0]!);
    expect(choose).toHaveBeenCalledTimes(1);
    expect(store.getState().trialOpen).toBe('a');
    cleanup();
    const plain = show({ nowId: 'a' });
    fireEvent.click(bodyRows()[2]!);
    expect(plain.store.getState().trialOpen).toBe('c');
  });
});

describe('the row in force', () => {
  /** where things stand on the screen, px: the box from 100 to 300, of which the head takes 20 */
  function scrolled(top: number, more: Partial<Props> = {}): { box: number; afterResize: () => number } {
    vi.spyOn(Element.prototype, 'getBoundingClientRect').mockImplementation(function (this: Element) {
      if (this.matches('.table-scroll')) return new DOMRect(0, 100, 400, 200);
      return this.matches('thead') ? new DOMRect(0, 100, 400, 20) : new DOMRect(0, top, 400, 30);
    });
    const { page } = inWindow(
      <div className="table-scroll">
        <TrialTable visit={visit} trials={trials} units="us" nowId="b" {...more} />
      </div>,
      { visit },
    );
    const box = page.querySelector<HTMLElement>('.table-scroll')!;
    const afterResize = (): number => {
      box.scrollTop = 50;
      window.dispatchEvent(new Event('resize'));
      return box.scrollTop;
    };
    return { box: box.scrollTop, afterResize };
  }
  it.each([
    ['in sight stays where it is', 120, 0],
    ['in sight at the lower edge stays, too', 270, 0],
    ['below comes up to the lower edge', 290, 20],
  ] as const)('%s', (_, top, by) => expect(scrolled(top).box).toBe(by));
  it('above comes down to below the head, and a window that gets lower leaves none behind', () => {
    expect(scrolled(110).afterResize()).toBe(40);
    cleanup();
    expect(scrolled(290).afterResize()).toBe(70);
  });
  it('is left where it is where something else comes first, and where none is in force', () => {
    expect(scrolled(290, { follows: false }).afterResize()).toBe(50);
    cleanup();
    expect(scrolled(290, { nowId: undefined }).afterResize()).toBe(50);
  });
});
