import { describe, expect, it } from 'vitest';
import { isDarkEnough, judgeFlameMicroamps, judgeFlameOhm } from '../../../../shared/tuning/safety/safety-plan.ts';

describe('the flame detector', () => {
  // 300 to 1000 ohm usual, the control needs less than 1600 ohm, dark 100 kilo-ohm and more: public training article
  it.each([
    [20, 'shorted'],
    [300, 'usual'],
    [1000, 'usual'],
    [1001, 'weak'],
    [1599, 'weak'],
    [1600, 'too-weak'],
  ] as const)('of %d ohm with the flame is %s', (ohm, verdict) => {
    expect(judgeFlameOhm(ohm)).toBe(verdict);
  });
  it('is dark enough from 100 kilo-ohm on', () => {
    expect([99_999, 100_000].map(isDarkEnough)).toEqual([false, true]);
  });
  it('that gives a current is judged by the least on its control’s sheet alone', () => {
    expect(judgeFlameMicroamps(3, undefined)).toBeUndefined();
    expect(judgeFlameMicroamps(3, 0)).toBeUndefined();
    expect([1.4, 1.5, 2.2, 2.3].map((microamps) => judgeFlameMicroamps(microamps, 1.5))).toEqual(['too-weak', 'weak', 'weak', 'enough']);
  });
});
