// @vitest-environment happy-dom
/** Beside as-left: what was gained over as-found, what it saves in a year's fuel, and whether it held after tightening. */
import { cleanup, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { AsLeftRight } from '../../../../renderer/views/visit/steps/AsLeftRight.tsx';
import type { Trial } from '../../../../shared/tuning/trial/trial.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { leftScreen as words } from '../../../../shared/words/visit/screens/as-left.ts';
import { makeTrial } from '../../../shared/tuning/make-trial.ts';
import { field, inWindow, oilVisit, typeInto } from '../../helpers/in-window.tsx';

afterEach(cleanup);

const trial = (id: string, atMs: number, o2: number, stackC: number): Trial =>
  makeTrial({ id, atMs, o2, co: 20, stackC, airC: 20, smoke: 0 });
const [found, left, echo] = [trial('a', 1, 9, 280), trial('b', 2, 5, 230), trial('c', 3, 5, 230)];

function show(stage: Partial<Visit['stages'][number]>, more: Partial<Visit> = {}, asLeft: Trial | undefined = left) {
  const stages = [{ ...oilVisit().stages[0]!, ...stage }];
  return inWindow(<AsLeftRight asLeft={asLeft} />, { visit: oilVisit({ trials: [found, left, echo], stages, ...more }) });
}
const region = (name: string): string | undefined => screen.queryByRole('region', { name })?.textContent ?? undefined;

it('compares as-left with as-found, and saves the fuel of a year in gallons', () => {
  const { edits } = show({ asFoundTrialId: 'a', asLeftTrialId: 'b' });
  expect(region(words.beforeAfter)).toBeDefined();
  typeInto(words.annual, '800');
  typeInto(words.annual, '');
  expect(edits).toEqual([
    { path: ['annualFuelGal'], after: 800 },
    { path: ['annualFuelGal'], after: undefined },
  ]);
});
it('takes and shows litres where those are usual', () => {
  // 1 US gal is 3.785 L
  const { edits } = show({ asFoundTrialId: 'a', asLeftTrialId: 'b' }, { unitPreset: 'metric', annualFuelGal: 1000 });
  expect(field(words.annual).value).toBe('3785');
  typeInto(words.annual, '3785.41');
  expect(edits).toEqual([{ path: ['annualFuelGal'], after: expect.closeTo(1000, 2) as number }]);
});
it('compares nothing with itself, nor with a trial that is not there', () => {
  show({ asFoundTrialId: 'b', asLeftTrialId: 'b' });
  expect(region(words.beforeAfter)).toBeUndefined();
  cleanup();
  show({ asLeftTrialId: 'b' });
  expect(region(words.beforeAfter)).toBeUndefined();
});
it('says whether it held once it was read again', () => {
  show({ asLeftTrialId: 'b' });
  expect(region(words.lockEcho)).toContain(words.echoSame);
  cleanup();
  show({ asLeftTrialId: 'b', echoTrialId: 'c' });
  expect(region(words.lockEcho)).not.toContain(words.echoSame);
});
