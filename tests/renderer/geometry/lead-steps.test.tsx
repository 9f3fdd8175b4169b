// @vitest-environment happy-dom
/** The set-up sheet: what comes next, the way through the steps, and the nozzle. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { describe, expect, it } from 'vitest';
import type { HandStepId } from '../../../shared/geometry/steps.ts';
import { stepWords } from '../../../shared/words/geometry/geometry-steps.ts';
import { metricCard, lead, finished, show, input, type, main, said, at, inAFreshSheet } from './lead-parts.tsx';

inAFreshSheet();

const GALLON = 3.785411784;

describe('the next thing', () => {
  it('is to measure while nothing was typed: the field is taken, nothing is written', () => {
    const { edits } = show('gap');
    expect(said()).toBe('Type what you measure.');
    input().blur();
    fireEvent.click(main());
    expect(document.activeElement).toBe(input());
    expect(edits).toEqual([]);
  });
  it('is to go on once the figure is inside the card: the step is done and the next is in front', () => {
    const { edits } = show('gap', { rows: { electrodeGap: { asFound: '3.5' } } });
    expect(main().textContent).toMatch(/^Next: /);
    fireEvent.keyDown(input(), { key: ' ' });
    expect(edits).toEqual([{ path: ['setUp', 'geometry', 'done'], after: ['gap'] }, at('height')]);
  });
  it('a key that repeats by itself is no press; with Ctrl it belongs to the browser', () => {
    const { edits } = show('gap', { rows: { electrodeGap: { asFound: '3.5' } } });
    fireEvent.keyDown(input(), { key: 'Enter', repeat: true });
    fireEvent.keyDown(input(), { key: 'Enter', ctrlKey: true });
    fireEvent.keyDown(input(), { key: 'ArrowUp', ctrlKey: true });
    expect(edits).toEqual([]);
    fireEvent.keyDown(input(), { key: 'Enter' });
    expect(edits).toHaveLength(2);
  });
  it('outside the card it is measured again, as left; or it is left as it is', () => {
    const { edits } = show('gap', { rows: { electrodeGap: { asFound: '5' } } });
    expect(main().textContent).toContain('Next: measure again');
    expect(said()).toMatch(/Then measure again\.$/);
    fireEvent.click(main());
    expect(edits).toEqual([at('gap', 'asLeft')]);
    edits.length = 0;
    fireEvent.click(screen.getByRole('button', { name: /^Leave as it is/ }));
    expect(edits).toEqual([{ path: ['setUp', 'geometry', 'done'], after: ['gap'] }, at('height')]);
  });
  it('a step that was done is not written a second time; one that loosens a part asks for it again', () => {
    const { edits } = show('gap', { rows: { electrodeGap: { asFound: '3.5' } }, done: ['gap'] });
    fireEvent.click(main());
    expect(edits).toEqual([at('height')]);
    cleanup();
    const loose = show('gap', { rows: { electrodeGap: { asFound: '3.5' } }, tight: ['leftElectrodeClamp', 'headLock'] });
    fireEvent.click(main());
    expect(loose.edits[1]).toEqual({ path: ['setUp', 'geometry', 'tight'], after: ['headLock'] });
  });
  it('what is loose is tightened part by part; nothing loose, it goes on; after the last step it is over', () => {
    const { edits } = show('all-tight', { done: ['take-out'], tight: ['headLock'] });
    expect(said()).toBe('2 parts are loose: tighten this one.');
    fireEvent.click(main());
    expect(edits).toEqual([{ path: ['setUp', 'geometry', 'tight'], after: ['headLock', 'oilLine'] }]);
    cleanup();
    const last = show('as-left', {});
    expect(said()).toBe('The geometry is set. Nothing is loose.');
    expect(main().textContent).toContain('On to As-found');
    fireEvent.click(main());
    expect(last.edits).toEqual([{ path: ['setUp', 'geometry', 'done'], after: ['as-left'] }]);
    expect(finished).toEqual(['yes']);
  });
  it('a viewer changes nothing', () => {
    const { edits } = show('gap', { rows: { electrodeGap: { asFound: '3.5' } } }, { state: { role: 'viewer' } });
    expect(main().disabled).toBe(true);
    lead.act();
    expect(edits).toEqual([]);
    expect(lead.leave).toBeUndefined();
  });
});

describe('the way through the steps', () => {
  it('back is the step before, and there is none before the first', () => {
    const { edits } = show('height');
    fireEvent.click(screen.getByRole('button', { name: /^Back/ }));
    expect(edits).toEqual([at('gap')]);
    cleanup();
    show('power-off');
    expect(screen.queryByRole('button', { name: /^Back/ })).toBeNull();
  });
  it('a step that has a figure as left is come back to there', () => {
    const { edits } = show('height', { rows: { electrodeGap: { asFound: '5', asLeft: '3.5' } } });
    lead.back?.();
    expect(edits).toEqual([at('gap', 'asLeft')]);
  });
  it('the list opens the group in front and says of each step where it is', () => {
    show('height', { rows: { electrodeGap: { asFound: '3.5' }, heightAboveCentreline: { asFound: '11' } }, done: ['gap'] });
    const list = screen.getByRole('navigation', { name: 'Steps of the setting' });
    const groups = [...list.querySelectorAll('[aria-expanded]')];
    expect(groups.map((one) => one.getAttribute('aria-expanded'))).toEqual(['false', 'false', 'false', 'true', 'false', 'false', 'false']);
    const here = list.querySelector('[aria-current="step"]');
    expect(here?.textContent).toMatch(/now$/);
    const steps = [...list.querySelectorAll('ol ol button')].map((one) => one.textContent);
    expect(steps).toHaveLength(7);
    expect(steps[0]).toMatch(/, within limits, 3\.5$/);
    expect(document.body.textContent).toMatch(/2 of 7/);
  });
  it('groups that are all done before it are folded into one line, which leads to the first', () => {
    const done: HandStepId[] = ['power-off', 'oil-shut', 'cool-and-dry', 'hands-and-eyes', 'adjuster-as-found', 'mark-parts', 'photo'];
    const { edits } = show('take-out', { done });
    fireEvent.click(screen.getByRole('button', { name: /Steps 1 to 2/ }));
    expect(edits).toEqual([at('power-off')]);
    cleanup();
    show('take-out', { done: done.slice(1) });
    expect(screen.queryByRole('button', { name: /Steps 1 to 2/ })).toBeNull();
    expect(screen.getAllByText('done')).toHaveLength(1);
  });
  it('the list says how the adjuster was found where it is looked at as found, and how it is now where it is set', () => {
    const rows = { headSetting: { asFound: '3', asLeft: '5' } };
    const saidOf = (now: HandStepId, name: HandStepId): string => {
      show(now, { rows });
      const wanted = stepWords(name, metricCard?.adjuster).name;
      const row = [...document.querySelectorAll('.hand-steps ol ol button')].find((one) => one.textContent?.includes(wanted));
      cleanup();
      return row?.querySelector('.small')?.textContent ?? '';
    };
    expect(saidOf('mark-parts', 'adjuster-as-found')).toBe('3');
    expect(saidOf('shutter-start', 'head-setting')).toBe('5');
  });
  it('a step of the list goes to its own side', () => {
    const { edits } = show('height', { rows: { electrodeGap: { asFound: '5', asLeft: '3.5' } } });
    const first = document.querySelector<HTMLButtonElement>('.hand-steps ol ol button')!;
    fireEvent.click(first);
    expect(edits).toEqual([at('gap', 'asLeft')]);
  });
});

describe('the nozzle', () => {
  it('its flow is written to the sheet; as left another one is a change that puts the head in doubt', () => {
    const { edits } = show('nozzle-stamp', {}, { visit: { unitPreset: 'us' } });
    type('0.85');
    expect(edits.map(({ path }) => path.join('.'))).toEqual(['setUp.rows.nozzleFlowLh']);
    expect((edits[0]!.after as { asFound: number }).asFound).toBeCloseTo(0.85 * GALLON, 4);
    cleanup();
    const rows = { nozzleFlowLh: { asFound: 0.85 * GALLON } };
    const left = show('nozzle-stamp', { at: { step: 'nozzle-stamp', side: 'asLeft' } }, { visit: { unitPreset: 'us' }, setUp: { rows } });
    type('0.75');
    expect((left.edits[0]!.after as { asLeft: number }).asLeft).toBeCloseTo(0.75 * GALLON, 4);
    expect(left.edits[1]).toEqual({ path: ['setUp', 'geometry', 'changed'], after: [{ what: 'nozzle', wallMs: 5 }] });
  });
  it('a flow of nothing, or one that is no number, is not written; an arrow is 0.05', () => {
    const { edits } = show(
      'nozzle-stamp',
      {},
      { visit: { unitPreset: 'us' }, setUp: { rows: { nozzleFlowLh: { asFound: 0.85 * GALLON } } } },
    );
    type('0');
    type('much');
    expect(edits).toEqual([]);
    type('0.85');
    edits.length = 0;
    fireEvent.keyDown(input(), { key: 'ArrowUp' });
    expect((edits[0]!.after as { asFound: number }).asFound).toBeCloseTo(0.9 * GALLON, 4);
  });
  it('a new one is typed as left, once the old one is known', () => {
    show('nozzle-stamp');
    expect(screen.queryByRole('button', { name: /^New nozzle/ })).toBeNull();
    expect(said()).toBe('Type what you measure.');
    cleanup();
    const { edits } = show('nozzle-stamp', {}, { setUp: { rows: { nozzleFlowLh: { asFound: 3 } } } });
    fireEvent.click(screen.getByRole('button', { name: /^New nozzle/ }));
    expect(edits).toEqual([at('nozzle-stamp', 'asLeft')]);
  });
});
