// @vitest-environment happy-dom
/** The set-up sheet, one thing at a time: what the field writes into the visit, what Space does next, and how the list is walked. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { GeometryLead } from '../../../renderer/views/geometry/GeometryLead.tsx';
import { GeometryFar } from '../../../renderer/views/geometry/GeometryFar.tsx';
import { useLead, type Lead } from '../../../renderer/views/geometry/use-lead.ts';
import type { AppState } from '../../../renderer/state/store.ts';
import type { GeometryRecord } from '../../../shared/geometry/record.ts';
import type { HandStepId } from '../../../shared/geometry/steps.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { stepWords } from '../../../shared/words/geometry/geometry-steps.ts';
import { makeTrial } from '../../shared/tuning/make-trial.ts';
import { inWindow, oilVisit } from '../helpers/in-window.tsx';

afterEach(cleanup);

const GALLON = 3.785411784;
const [metricCard, inchCard] = trainingCards;
let lead: Lead;
const finished: string[] = [];
function Page() {
  lead = useLead({ name: 'On to As-found', run: () => void finished.push('yes') });
  return <GeometryLead lead={lead} toTable={() => undefined} />;
}
type Start = { visit?: Partial<Visit>; setUp?: Partial<Visit['setUp']>; state?: Partial<AppState> };
function show(step: HandStepId, geometry: Partial<GeometryRecord> = {}, { visit = {}, setUp = {}, state = {} }: Start = {}) {
  finished.length = 0;
  const at = geometry.at ?? { step, side: 'asFound' as const };
  const sheet: Visit['setUp'] = {
    lengthUnit: 'mm',
    rows: {},
    ...setUp,
    geometry: { card: metricCard, tubeEnd: 'straight', ...geometry, at },
  };
  return inWindow(<Page />, { visit: oilVisit({ setUp: sheet, unitPreset: 'metric', ...visit }), ...state });
}
const input = (): HTMLInputElement => document.querySelector<HTMLInputElement>('.fraction-field input')!;
const type = (value: string): void => void fireEvent.change(input(), { target: { value } });
const main = (): HTMLButtonElement => document.querySelector<HTMLButtonElement>('.button.main')!;
const said = (): string => document.querySelector('.says')?.textContent ?? '';
const at = (step: HandStepId, side: 'asFound' | 'asLeft' = 'asFound') => ({ path: ['setUp', 'geometry', 'at'], after: { step, side } });

describe('a figure in the field', () => {
  it('is written as typed, with its time, to the side that is measured; emptied, both go', () => {
    const { edits } = show('gap');
    type('3.5');
    expect(edits).toEqual([{ path: ['setUp', 'geometry', 'rows', 'electrodeGap'], after: { asFound: '3.5', foundMs: 5 } }]);
    cleanup();
    const again = show('gap', {
      rows: { electrodeGap: { asFound: '3.5', foundMs: 1, asLeft: '4', leftMs: 2 } },
      at: { step: 'gap', side: 'asLeft' },
    });
    type('3');
    expect(again.edits[0]?.after).toEqual({ asFound: '3.5', foundMs: 1, asLeft: '3', leftMs: 5 });
    again.edits.length = 0;
    type('');
    expect(again.edits[0]?.after).toEqual({ asFound: '3.5', foundMs: 1, asLeft: undefined, leftMs: undefined });
  });
  it('one that cannot be read, or is impossible, stays in the field, says so and is not written', () => {
    for (const wrong of ['three', '-1', '90']) {
      const { edits, store } = show('gap', { rows: { electrodeGap: { asFound: '3.5' } } });
      type(wrong);
      expect(edits).toEqual([]);
      expect(store.getState().fieldTexts['geometry-gap-asFound']).toBe(wrong);
      expect(input().value).toBe(wrong);
      expect(screen.getByRole('alert').textContent).not.toBe('');
      expect(said()).toBe('Correct the figure. 3.5 counts until then.');
      expect(main().textContent).toContain('Next: correct it');
      expect(lead.verdict).toBeUndefined();
      // an impossible figure is not gone past
      fireEvent.click(main());
      expect(edits).toEqual([]);
      cleanup();
    }
  });
  it('a part that was moved after air readings makes them old once, and only what is set as left moves it', () => {
    const trials = [{ ...makeTrial({ id: 'a', o2: 5, co: 10, shutter: 4 }), takenWallMs: 2 }];
    const left = { step: 'gap', side: 'asLeft' } as const;
    const rows = { electrodeGap: { asFound: '5', foundMs: 1 } };
    const { edits } = show('gap', { rows, at: left }, { visit: { trials } });
    type('3.5');
    expect(edits[1]).toMatchObject({ path: ['changes', 0], after: { wallMs: 5, kind: 'electrodes' } });
    cleanup();
    const same = show('gap', { rows, at: left }, { visit: { trials } });
    type('5');
    expect(same.edits).toHaveLength(1);
    cleanup();
    const found = show('gap', {}, { visit: { trials } });
    type('3.5');
    expect(found.edits).toHaveLength(1);
    cleanup();
    const head = show(
      'head-to-tube-end',
      { rows: { headToTubeEnd: { asFound: '14' } }, at: { step: 'head-to-tube-end', side: 'asLeft' } },
      { visit: { trials } },
    );
    type('15');
    expect(head.edits[1]).toMatchObject({ after: { kind: 'head' } });
  });
});

describe('arrows and buttons', () => {
  const nudged = (key: string, step: HandStepId, geometry: Partial<GeometryRecord>, setUp: Partial<Visit['setUp']> = {}): unknown => {
    const { edits } = show(step, geometry, { setUp });
    fireEvent.keyDown(input(), { key });
    cleanup();
    return Object.entries(edits[0]?.after ?? {}).find(([name]) => name === 'asFound')?.[1];
  };
  it('are half a millimetre, a thirty-second of an inch, or a quarter of a mark', () => {
    const gap = (asFound: string): Partial<GeometryRecord> => ({ rows: { electrodeGap: { asFound } } });
    expect(nudged('ArrowUp', 'gap', gap('3.5'))).toBe('4');
    expect(nudged('ArrowDown', 'gap', gap('3.5'))).toBe('3');
    expect(nudged('ArrowUp', 'gap', { card: inchCard, ...gap('1/8') }, { lengthUnit: 'inch' })).toBe('5/32');
    expect(nudged('ArrowDown', 'gap', { card: inchCard, ...gap('1/8') }, { lengthUnit: 'inch' })).toBe('3/32');
    const head = { rows: { headSetting: { asFound: '3' } } };
    expect(nudged('ArrowUp', 'adjuster-as-found', head)).toBe('3.25');
    expect(nudged('ArrowDown', 'adjuster-as-found', head)).toBe('2.75');
  });
  it('begin from the figure of the card while nothing is typed, and never go below nothing', () => {
    expect(nudged('ArrowUp', 'gap', {})).toBe('4');
    expect(nudged('ArrowDown', 'adjuster-as-found', { rows: { headSetting: { asFound: '0' } } })).toBe('0');
  });
  it('the two buttons beside the field do the same', () => {
    const { edits } = show('gap', { rows: { electrodeGap: { asFound: '3.5' } } });
    fireEvent.click(screen.getByRole('button', { name: 'more' }));
    fireEvent.click(screen.getByRole('button', { name: 'less' }));
    expect(edits.map(({ after }) => (after as { asFound: string }).asFound)).toEqual(['4', '3']);
  });
});

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
    expect(steps[0]).toMatch(/, inside the card, 3\.5$/);
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

describe('the same from two metres', () => {
  function Far() {
    lead = useLead({ name: 'On to As-found', run: () => void finished.push('yes') });
    return <GeometryFar lead={lead} />;
  }
  const far = (step: HandStepId, geometry: Partial<GeometryRecord> = {}, more: Partial<AppState> = {}) => {
    const sheet: Visit['setUp'] = {
      lengthUnit: 'mm',
      rows: {},
      geometry: { card: metricCard, tubeEnd: 'straight', at: { step, side: 'asFound' }, ...geometry },
    };
    return inWindow(<Far />, { visit: oilVisit({ setUp: sheet, unitPreset: 'metric' }), ...more });
  };
  it('has the title, the side, the card and its figure, and the word that leads', () => {
    far('gap', { rows: { electrodeGap: { asFound: '3.5' } } });
    expect(document.querySelector('h1')?.textContent).toBe(stepWords('gap', metricCard?.adjuster).title);
    expect(document.querySelector('.far-head')?.textContent).toMatch(/1 of 7.*as found · Training card A/);
    expect(document.querySelector('.card-figure')?.textContent).toMatch(/3\.5.*0\.5/);
    expect(main().textContent).toMatch(/^Next Space|^Next$|^Next /);
    expect(main().textContent).not.toContain(':');
    expect(document.querySelector('.sentence')?.textContent).toBe(stepWords('height', metricCard?.adjuster).title);
  });
  it('outside the card it says what to do, and then to measure again', () => {
    const { edits } = far('gap', { rows: { electrodeGap: { asFound: '5' } } });
    expect(document.querySelector('.far-foot')?.textContent).toMatch(/Then measure again\./);
    expect(main().textContent).toContain('Measure again');
    fireEvent.click(main());
    expect(edits).toEqual([at('gap', 'asLeft')]);
  });
  it('a step without a figure has its work and its list; what is loose is counted at the top', () => {
    far('look-over', { done: ['take-out'] });
    const text = stepWords('look-over', metricCard?.adjuster);
    expect(document.body.textContent).toContain(text.does);
    for (const line of text.list ?? []) expect(document.body.textContent).toContain(line);
    expect(document.querySelector('.far-loose')?.textContent).toContain('2 loose');
    expect(document.querySelector('.fraction-field')).toBeNull();
    cleanup();
    far('power-off');
    expect(document.querySelector('.far-loose')).toBeNull();
  });
  it('its corner leads back', () => {
    const { store } = far('gap', {}, { far: true });
    fireEvent.click(screen.getByRole('button', { name: 'Far view' }));
    expect(store.getState().far).toBe(false);
  });
  it('where the adjuster stands as found has no figure of the card beside it, and a two-step one says how it is read', () => {
    far('adjuster-as-found', { rows: { headSetting: { asFound: '3' } } });
    expect(document.querySelector('.far-card')).toBeNull();
    cleanup();
    far('adjuster-to-zero', { card: inchCard });
    expect(document.querySelector('h1')?.textContent).toBe(stepWords('adjuster-to-zero', inchCard?.adjuster).title);
    expect(stepWords('adjuster-to-zero', inchCard?.adjuster)).not.toEqual(stepWords('adjuster-to-zero', metricCard?.adjuster));
  });
});
