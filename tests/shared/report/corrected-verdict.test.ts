/** A correction after signing that makes the burner not safe: page 1, the owner's page and the label follow. */
import { expect, it } from 'vitest';
import { makeReport } from '../../../shared/report/make-report.ts';
import { signVisit } from '../../../shared/tuning/visit/sign-visit.ts';
import { editVisit } from '../../../shared/tuning/visit/visit.ts';
import { smallVisit, START } from './small-visit.ts';

const signed = () => {
  const done = signVisit(smallVisit(), { name: 'A. Sample', wallMs: START + 1, hash: 'x' });
  if (!done.ok) throw new Error(done.error.key);
  return done.value;
};
const reportWith = (ppm: number) => {
  const edited = editVisit(signed(), {
    wallMs: START + 2,
    by: 'A. Sample',
    path: ['roomCo', '-'],
    after: { wallMs: START + 2, ppm },
    reason: 'was not written down',
  });
  if (!edited.ok) throw new Error(edited.error.code);
  return makeReport({ visit: edited.value, runs: [], appVersion: '0' });
};

it('says that it is not safe, first and everywhere', () => {
  const { first, owner, label } = reportWith(120);
  expect(first.verdict.headline).toContain('Not safe to leave running');
  expect(JSON.stringify(owner)).toContain('Not safe to leave running');
  expect(label.warning).toBeDefined();
});
it('leaves what was signed where the correction changes nothing of that', () => {
  const before = makeReport({ visit: signed(), runs: [], appVersion: '0' });
  expect(reportWith(1).first.verdict).toEqual(before.first.verdict);
});
