/** The thread of a visit: the report is done only when the visit is closed, every other step when nothing of it is missing. */
import { expect, it } from 'vitest';
import { stepStates } from '../../../renderer/views/visit/visit-facts.ts';
import { cautionsOf } from '../../../shared/tuning/advice/cautions.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { smallVisit } from '../../shared/report/small-visit.ts';

const cautions = [...new Set(Object.values(cautionsOf).flat())].map((key) => ({ key, wallMs: 1 }));
/** nothing of its report is missing */
const whole = (more: Partial<Visit> = {}): Visit =>
  smallVisit({ kind: 'training', signature: undefined, endedWallMs: undefined, cautions, ...more });
const states = (visit: Visit): Record<string, string> =>
  Object.fromEntries(stepStates(visit, undefined, undefined).map(({ id, state }) => [id, state]));

it('the report of a visit that goes on is open, though nothing of it is missing; that of one that ended is done', () => {
  const going = stepStates(whole(), undefined, undefined).find(({ id }) => id === 'report');
  expect(going).toMatchObject({ state: 'open', missing: [] });
  expect(states(whole({ endedWallMs: 2 }))['report']).toBe('done');
});
it('a step with nothing missing is done while the visit goes on', () => {
  expect(states(whole())).toMatchObject({ start: 'open', 'as-found': 'done', 'air-curve': 'done', safety: 'done' });
  expect(states(whole({ safety: [] }))['safety']).toBe('open');
});
it('a report that lacks something stays open when the visit has ended', () => {
  expect(states(whole({ endedWallMs: 2, cautions: [] }))['report']).toBe('open');
});
