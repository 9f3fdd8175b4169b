import { describe, expect, it } from 'vitest';
import type { SmokeSpot } from '../../../shared/measurement/mark.ts';
import { smokeText } from '../../../shared/report/record/trials.ts';
import type { Trial } from '../../../shared/tuning/trial/trial.ts';
import { newVisit } from '../../../shared/tuning/visit/visit.ts';
import { makeTrial } from '../tuning/make-trial.ts';
import { START } from './small-visit.ts';

const visit = newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: START, zoneMinutes: 0, unitPreset: 'us', adjusters: [] });
const spot = (number: number, more: Partial<SmokeSpot> = {}): SmokeSpot => ({ number, ...more });
const oily = { oilTrace: true };
const textOf = (spots: readonly SmokeSpot[], more: Partial<NonNullable<Trial['smoke']>> = {}): string =>
  smokeText({ ...visit, smokeRule: 'worst-spot' }, { ...makeTrial({ id: 't' }), smoke: { spots: [...spots], ...more } });

describe('the smoke of a trial on paper', () => {
  it.each([
    ['one spot', [spot(1)], '1'],
    ['two spots, and the worse of them', [spot(1), spot(2)], '1, 2; by the rule 2'],
    ['one of two is flawed: the other alone counts', [spot(1), spot(3, { flaw: 'wet' })], '1, 3 wet'],
    ['oil is said beside its spot', [spot(0, oily)], '0 oil'],
    ['flaw and oil', [spot(0, { ...oily, flaw: 'wet' }), spot(1), spot(0.5)], '0 wet oil, 1, ½; by the rule 1'],
  ])('%s', (_, spots, text) => expect(textOf(spots)).toBe(text));
  it('without a spot: not taken, where that was said, else a dash', () => {
    expect(textOf([], { notTaken: true })).toBe('not taken');
    expect(textOf([])).toBe('–');
    expect(smokeText(visit, makeTrial({ id: 't' }))).toBe('–');
  });
});
