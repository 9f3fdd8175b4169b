import { describe, expect, it } from 'vitest';
import { burnerCase } from './random-visits.ts';
import { holds, coJudged } from './visits.ts';

/** An advisor that only says "none" obeys every law and helps nobody. */
describe('the advice is of use', () => {
  it('with two settled trials of one air adjuster, nothing missing and no alarm, there is something to do nine times of ten', () => {
    let [asked, answered] = [0, 0];
    const kinds = new Map<string, number>();
    const { tried } = holds('use', burnerCase, ({ visit }, { advice }) => {
      const now = visit.trials.at(-1);
      const own = visit.trials.filter(({ stage }) => stage === now?.stage);
      const places = new Set(own.filter(({ o2_pct, settled }) => settled && o2_pct !== null).map(({ setting }) => setting['shutter']));
      const o2 = own.flatMap(({ o2_pct }) => o2_pct ?? []);
      const isWhole =
        now !== undefined &&
        now.settled &&
        now.o2_pct !== null &&
        now.co_ppm !== null &&
        now.smoke !== null &&
        now.o2_pct < 12 &&
        !visit.trials.some(({ oil }) => oil);
      if (!isWhole || places.size < 2 || Math.max(...o2) - Math.min(...o2) < 1 || coJudged(now)! >= visit.alarm_co_air_free_ppm)
        return false;
      if (visit.adjusters.length > 1 || visit.fuel === 'natural-gas' || visit.fuel === 'propane' || (visit.room_co_ppm ?? 0) >= 35)
        return false;
      asked++;
      if (advice !== 'none') answered++;
      kinds.set(advice, (kinds.get(advice) ?? 0) + 1);
      return true;
    });
    console.info(`use: ${answered} of ${asked} answered, ${[...kinds].map(([kind, count]) => `${kind} ${count}`).join(', ')}`);
    expect(tried).toBeGreaterThanOrEqual(2000);
    expect(asked).toBeGreaterThan(100);
    expect(answered / asked).toBeGreaterThan(0.9);
  });
});
