// @vitest-environment happy-dom
/** Everybody's calls on one curve: numbered in the order of the calls, the newest curve first, and what cannot be drawn is listed with the reason. */
import { cleanup, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { ClassCurve } from '../../../renderer/views/warm-up/call-it/ClassCurve.tsx';
import type { CallResult } from '../../../shared/warm-up/call-it.ts';
import { warmUp as words } from '../../../shared/words/warm-up.ts';
import { inWindow, typeInto } from '../helpers/in-window.tsx';

afterEach(cleanup);

const seconds = [0, 60, 120];
const call = (trainee: string, calledS: number, more: Partial<CallResult> = {}): CallResult => ({
  format: 1,
  trainee,
  exercise: 'Cold start',
  wallMs: Date.UTC(2026, 2, 1),
  calledMs: calledS * 1000,
  points: 5,
  of: 'simulated cold-start 1',
  watched: { o2: { seconds, values: [8, 6, 5] }, stackTemperature: { seconds, values: [100, 200, 220] } },
  readyMs: 100_000,
  earlyS: 100 - calledS,
  ...more,
});
const timing = (earlyS: number | undefined): string => `early ${earlyS ?? '-'}`;
const show = (results: CallResult[]) => inWindow(<ClassCurve results={results} timing={timing} />, {});
const said = (): string[] => [...document.querySelectorAll('.debrief-list li')].map(({ textContent }) => textContent ?? '');
const drawn = (): string[] => [...document.querySelectorAll('svg g > text.halo')].map(({ textContent }) => textContent ?? '');

it('shows nothing where nobody called', () => {
  expect(show([]).page.textContent).toBe('');
});
it('numbers the calls in their order, on the curve and in the list', () => {
  show([call('B', 110), call('A', 40)]);
  expect(said()).toEqual([words.debriefSummary('1', 'A', 'early 60'), words.debriefSummary('2', 'B', 'early -10')]);
  expect(drawn()).toEqual(['1', '2']);
  expect(screen.getByText(words.debriefAbout('Cold start'))).toBeDefined();
  expect(document.body.textContent).toContain(words.debriefReady);
  expect(screen.queryByLabelText(words.debriefChoice)).toBeNull();
  expect(screen.queryByText(words.noCurveWhy)).toBeNull();
});
it('draws what was watched, and no time of readiness where there was none', () => {
  const { readyMs: _, ...never } = call('A', 40, { watched: { o2: { seconds, values: [8, 6, 5] } } });
  show([never]);
  expect(document.querySelectorAll('svg .stroke-o2')).toHaveLength(1);
  expect(document.querySelectorAll('svg .stroke-accent')).toHaveLength(0);
  expect(screen.getByText(words.debriefNever('Cold start'))).toBeDefined();
});
it('offers the other curves, the one that was called last first', () => {
  show([call('A', 40), call('B', 50, { of: 'replay r', exercise: 'Own run', wallMs: Date.UTC(2026, 2, 2) })]);
  const choice = screen.getByLabelText<HTMLSelectElement>(words.debriefChoice);
  expect([...choice.options].map(({ textContent }) => textContent)).toEqual([
    words.debriefOption('Own run', 1),
    words.debriefOption('Cold start', 1),
  ]);
  expect(said()).toEqual([words.debriefSummary('1', 'B', 'early 50')]);
  typeInto(words.debriefChoice, 'simulated cold-start 1');
  expect(said()).toEqual([words.debriefSummary('1', 'A', 'early 60')]);
});
it('lists calls whose curve was not saved', () => {
  const { watched: _, ...old } = call('C', 70);
  show([old]);
  expect(screen.getByRole('heading', { name: words.noCurveTitle(1) })).toBeDefined();
  expect(said()).toEqual([words.noCurveCall('2026-03-01', 'C', 'Cold start', 'early 30')]);
  expect(document.querySelector('svg')).toBeNull();
});
