// @vitest-environment happy-dom
/** The main button of the air curve, pressed: what it says is what happens. */
import { cleanup } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { AirCurveStep } from '../../../renderer/views/visit/steps/AirCurveStep.tsx';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { cautionKeys } from '../../../shared/tuning/advice/cautions.ts';
import { LEAST_RESERVE_CO2_POINTS, MOST_RESERVE_CO2_POINTS } from '../../../shared/tuning/curve/reserve.ts';
import { curveScreen as words } from '../../../shared/words/visit/screens/air-curve.ts';
import { makeTrial } from '../../shared/tuning/make-trial.ts';
import { button, inWindow, oilVisit, press } from '../helpers/in-window.tsx';
import { recordWith, stateOf } from '../helpers/records.ts';

afterEach(cleanup);

const shutter = { name: 'shutter', unit: '', min: 0, max: 10, step: 0.25, role: 'fine', kind: 'air' } as const;
const trial = (id: string, atMs: number, o2: number, at: number) => ({
  ...makeTrial({ id, atMs, o2, co: 20, shutter: at, smoke: 0 }),
  runId: 'run-1',
});
function show(more: Partial<Visit>, hasRun: boolean, role: 'operator' | 'viewer' = 'operator') {
  const visit = oilVisit({
    adjusters: [shutter],
    runs: [{ id: 'run-1', startWallMs: 0, source: 'port' }],
    cautions: cautionKeys.map((key) => ({ key, wallMs: 1 })),
    trials: [trial('a', 1, 9, 7), trial('b', 2, 8, 6)],
    ...more,
  });
  const record = recordWith(
    { states: [stateOf('o2', 'settled', { value: 8 }), stateOf('co', 'settled', { value: 20 })] },
    { visitId: 'v' },
  );
  return inWindow(<AirCurveStep record={hasRun ? record : undefined} deeds={undefined} />, {
    visit,
    role,
    visitStep: 'air-curve',
    ...(hasRun && { runs: { 'run-1': record }, runId: 'run-1' }),
  });
}

it('without an instrument it leads to the choice of one', () => {
  const { store } = show({}, false);
  press(/^Connect/);
  expect(store.getState().panel).toBe('source');
});
it('without an adjuster of the air it leads to where adjusters are entered', () => {
  const { store } = show({ adjusters: [] }, true);
  expect(store.getState().panel).toBeUndefined();
  press(/adjuster/i);
  expect(store.getState().panel).toBe('settings');
});
it('the setting that is advised is marked as it is advised, and nothing else is', () => {
  const { marks, page } = show({}, true);
  const main = page.querySelector<HTMLButtonElement>('.button.main')!;
  const to = Number(/(\d+(?:\.\d+)?)/.exec(main.textContent ?? '')?.[1]);
  expect(to).toBeLessThan(6);
  main.click();
  expect(marks).toEqual([{ kind: 'adjustment', setting: { stage: '1', positions: [{ name: 'shutter', value: to }] } }]);
});

describe('the reserve above the onset', () => {
  const stageWith = (reserveCo2Points: number) => ({ stages: [{ name: '1', reserveCo2Points }] });
  const to = (reserveCo2Points: number) => [{ path: ['stages', 0, 'reserveCo2Points'], after: reserveCo2Points }];

  it('goes by quarters of a point of CO2, from where it is', () => {
    const { edits } = show(stageWith(1), true);
    expect([button(words.less).disabled, button(words.more).disabled]).toEqual([false, false]);
    press(words.less);
    expect(edits).toEqual(to(0.75));
    press(words.more);
    expect(edits.slice(1)).toEqual(to(1.25));
  });
  // 0.5 to 2 points: never.md has no less, and more only wastes fuel
  it('ends at half a point and at two', () => {
    show(stageWith(LEAST_RESERVE_CO2_POINTS), true);
    expect([button(words.less).disabled, button(words.more).disabled]).toEqual([true, false]);
    cleanup();
    show(stageWith(MOST_RESERVE_CO2_POINTS), true);
    expect([button(words.less).disabled, button(words.more).disabled]).toEqual([false, true]);
  });
  it('is for whoever works: a window that looks on sees it and does not change it', () => {
    const { edits, page } = show(stageWith(1), true, 'viewer');
    expect(page.querySelector('.stepper-value b')?.textContent).toBe('1.0');
    expect([button(words.less).disabled, button(words.more).disabled]).toEqual([true, true]);
    press(words.less);
    expect(edits).toEqual([]);
  });
});
