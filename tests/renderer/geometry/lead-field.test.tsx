// @vitest-environment happy-dom
/** The set-up sheet: what a typed figure writes into the visit, what keys and buttons do, and how it looks from two metres. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { describe, expect, it } from 'vitest';
import { GeometryFar } from '../../../renderer/views/geometry/GeometryFar.tsx';
import { useLead } from '../../../renderer/views/geometry/use-lead.ts';
import type { AppState } from '../../../renderer/state/store.ts';
import type { GeometryRecord } from '../../../shared/geometry/record.ts';
import type { HandStepId } from '../../../shared/geometry/steps.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { stepWords } from '../../../shared/words/geometry/geometry-steps.ts';
import { makeTrial } from '../../shared/tuning/make-trial.ts';
import { inWindow, oilVisit } from '../helpers/in-window.tsx';
import { metricCard, inchCard, lead, finished, show, input, type, main, said, at, inAFreshSheet } from './lead-parts.tsx';

inAFreshSheet();

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

describe('the same from two metres', () => {
  function Far() {
    return <GeometryFar lead={useLead({ name: 'On to As-found', run: () => void finished.push('yes') })} />;
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
