// @vitest-environment happy-dom
/** The safety run-through: from the tests to air and venting and back, and which test is in front. */
import { act, cleanup } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { SafetyStep } from '../../../renderer/views/visit/steps/SafetyStep.tsx';
import type { AppState } from '../../../renderer/state/store.ts';
import type { SafetyResult } from '../../../shared/tuning/safety/safety-result.ts';
import { cautionKeys } from '../../../shared/tuning/advice/cautions.ts';
import { button, field, inWindow, oilVisit, press, typeInto } from '../helpers/in-window.tsx';

afterEach(cleanup);

const passed = (test: SafetyResult['test']): SafetyResult => ({ test, result: 'pass', wallMs: 1 });
const show = (safety: SafetyResult[] = [], more: Partial<AppState> = {}) =>
  inWindow(<SafetyStep />, {
    visit: oilVisit({ safety, cautions: cautionKeys.map((key) => ({ key, wallMs: 1 })) }),
    visitStep: 'safety',
    ...more,
  });
const pressed = (name: string): string | null => button(name).getAttribute('aria-pressed');

it('turns to air and venting and back to the tests', () => {
  show();
  expect([pressed('Safety tests'), pressed('Air and venting')]).toEqual(['true', 'false']);
  press('Air and venting');
  expect([pressed('Safety tests'), pressed('Air and venting')]).toEqual(['false', 'true']);
  press('Safety tests');
  expect(pressed('Safety tests')).toBe('true');
});
it('begins at the first test without a result, at the one that is timed, or where this window was', () => {
  expect(show([passed('room-co-before')]).store.getState().safetyTest).toBe('lockout-no-ignition');
  cleanup();
  const watches = { 'flame-failure': { elapsedS: 1, running: true, laps: [], heardAt: 0 } };
  expect(show([], { watches }).store.getState().safetyTest).toBe('flame-failure');
  cleanup();
  expect(show([], { watches, safetyTest: 'switches' }).store.getState().safetyTest).toBe('switches');
});
it('after a verdict the next open test is in front; from the last one it goes round to what was left out', () => {
  const one = show([], { safetyTest: 'manual-reset' });
  press(/^Pass/);
  expect(one.edits[0]).toMatchObject({ path: ['safety', 0], after: { test: 'manual-reset', result: 'pass' } });
  expect(one.store.getState().safetyTest).toBe('flame-failure');
  cleanup();
  const last = show([], { safetyTest: 'restarts' });
  press(/^Not applicable/);
  expect(last.edits[0]).toMatchObject({ after: { test: 'restarts', result: 'not-applicable' } });
  expect(last.store.getState().safetyTest).toBe('leaks-covers-room-co');
  cleanup();
  const round = show([passed('leaks-covers-room-co')], { safetyTest: 'restarts' });
  press(/^Fail/);
  expect(round.edits[0]).toMatchObject({ after: { test: 'restarts', result: 'fail' } });
  expect(round.store.getState().safetyTest).toBe('room-co-before');
});

it('keeps a note that is typed while another test is looked at, and saves it with its own test only', () => {
  const { store, edits } = show([], { safetyTest: 'manual-reset' });
  press(/^Note/);
  typeInto('Note', 'reset is stiff');
  act(() => store.getState().safetyTestChosen('flame-failure'));
  expect(document.querySelector('input[value="reset is stiff"]')).toBeNull();
  act(() => store.getState().safetyTestChosen('manual-reset'));
  expect(field('Note').value).toBe('reset is stiff');
  press(/^Pass/);
  expect(edits[0]).toMatchObject({ after: { test: 'manual-reset', result: 'pass', note: 'reset is stiff' } });
  expect(store.getState().fieldTexts).toEqual({});
});
