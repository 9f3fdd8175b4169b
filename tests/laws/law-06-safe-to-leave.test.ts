import { describe, expect, it } from 'vitest';
import { anyCase, coJudged, holds } from './visits.ts';

describe('law 6: safe is judged from everything that is known', () => {
  it('anything unsafe: no. Anything that is not known: not yes', () => {
    let yes = 0;
    const { tried, met } = holds('law 6', anyCase, ({ visit }, { safe, words }) => {
      const left = visit.as_left === null ? undefined : visit.trials[visit.as_left];
      const co = left && coJudged(left);
      const latest = [...new Map(visit.safety.map((one) => [one.test, one.result])).values()];
      const isUnsafe =
        (visit.room_co_ppm ?? 0) >= 35 ||
        (co ?? 0) >= visit.alarm_co_air_free_ppm ||
        latest.some((result) => result === 'fail' || result === 'open') ||
        visit.bypass_in_place ||
        visit.trials.some(({ oil }) => oil) ||
        (left?.smoke ?? 0) > visit.smoke_limit;
      if (isUnsafe) {
        expect(safe).toBe('no');
        expect(words).toContain('Not safe to leave running');
        return true;
      }
      const isUnknown =
        visit.room_co_ppm === null ||
        left === undefined ||
        left.co_ppm === null ||
        left.o2_pct === null ||
        left.o2_pct > 15 ||
        left.smoke === null ||
        latest.length === 0;
      if (isUnknown) expect(safe).not.toBe('yes');
      if (safe === 'yes') yes++;
      return isUnknown;
    });
    console.info(`law 6: ${yes} burners safe to leave running`);
    expect(tried).toBeGreaterThanOrEqual(2000);
    expect(met).toBeGreaterThan(1000);
    expect(yes).toBeGreaterThan(50);
  });
});
