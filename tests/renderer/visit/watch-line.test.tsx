// @vitest-environment happy-dom
/** A stopwatch that runs while another screen is looked at: its time is in sight, and one press stops it or leads back to it. */
import { cleanup } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { WatchLine } from '../../../renderer/views/visit/safety/WatchLine.tsx';
import { inWindow, oilVisit, press } from '../helpers/in-window.tsx';

afterEach(cleanup);

const show = () =>
  inWindow(<WatchLine test="flame-failure" />, {
    visit: oilVisit(),
    workspace: 'records',
    visitStep: 'report',
    panel: 'settings',
    far: true,
    watches: { 'flame-failure': { elapsedS: 12.34, running: false, laps: [], heardAt: 0 } },
  });
const there = { workspace: 'tune', visitStep: 'safety', safetyTest: 'flame-failure', panel: undefined, far: false };

it('says which test it times, and its time', () => {
  const { page } = show();
  expect(page.querySelector('.strip-figure')?.textContent).toBe('12.3 s');
  expect(page.querySelector('section')?.getAttribute('aria-label')).toBe(page.querySelector('b')?.textContent);
});
it('leads back to its test from whatever is in front, without a press on the watch', () => {
  const { store, asked } = show();
  press(/back/i);
  expect(store.getState()).toMatchObject(there);
  expect(asked).toEqual([]);
});
it('is stopped from here, and its test is in front', () => {
  const { store, asked } = show();
  press('Stop the watch');
  expect(asked).toEqual([{ name: 'visit.watch', input: { test: 'flame-failure', act: 'press' } }]);
  expect(store.getState()).toMatchObject(there);
});
