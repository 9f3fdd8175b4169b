/** Where the safety run-through stands, and a lockout time against the time on the control. */
import { describe, expect, it } from 'vitest';
import {
  HAND_TIMING_EXPANDED_S,
  judgeFlameMicroamps,
  judgeFlameOhm,
  judgeTiming,
  safetyState,
  safetyTestIds,
  testsNeeded,
  type SafetyTestId,
} from '../../../../shared/tuning/safety/safety-plan.ts';
import type { SafetyResult } from '../../../../shared/tuning/safety/safety-result.ts';
import type { Appliance } from '../../../../shared/tuning/visit/appliance.ts';

const resultOf = (test: SafetyTestId, result: SafetyResult['result'], wallMs = 1): SafetyResult => ({ test, result, wallMs });
const allPassed = safetyTestIds.map((test) => resultOf(test, 'pass'));

describe('the run-through', () => {
  it('is complete when every test has a result, none failed and every jumper is out', () => {
    expect(safetyState(allPassed, [])).toMatchObject({ complete: true, open: [], failed: [] });
    expect(safetyState(allPassed, [{ what: 'limit', openedWallMs: 1, closedWallMs: 2 }]).complete).toBe(true);
  });
  it('is not while a jumper is in place, a test failed or one has no result', () => {
    const bridged = safetyState(allPassed, [{ what: 'limit', openedWallMs: 1 }]);
    expect(bridged).toMatchObject({ complete: false, bypassesOpen: ['limit'] });
    expect(safetyState([...allPassed, resultOf('flame-failure', 'fail', 2)], [])).toMatchObject({
      complete: false,
      failed: ['flame-failure'],
    });
    expect(
      safetyState(
        allPassed.filter(({ test }) => test !== 'flame-failure'),
        [],
      ),
    ).toMatchObject({ complete: false, open: ['flame-failure'] });
    expect(safetyState([], []).open).toEqual(safetyTestIds);
  });
  it('counts the last word on a test: one that failed and was passed later is done', () => {
    const state = safetyState([resultOf('flame-failure', 'fail', 1), ...allPassed], []);
    expect(state).toMatchObject({ complete: true, failed: [] });
    expect(state.done).toContain('flame-failure');
    expect(safetyState([...allPassed, resultOf('flame-failure', 'not-applicable', 3)], [])).toMatchObject({
      notApplicable: ['flame-failure'],
    });
  });
});

describe('a lockout time against the mark on the control', () => {
  // fail above the marking: NORA Oilheat Technicians Manual p 241; the notes are common practice
  it.each([
    [{ seconds: 12 }, 'no-mark', []],
    [{ seconds: 12, markedSeconds: 15 }, 'pass', []],
    [{ seconds: 17, markedSeconds: 15 }, 'fail', []],
    [{ seconds: 15 + HAND_TIMING_EXPANDED_S, markedSeconds: 15 }, 'too-close', []],
    [{ seconds: 15 - HAND_TIMING_EXPANDED_S, markedSeconds: 15 }, 'too-close', []],
    [{ seconds: 7.4, markedSeconds: 15 }, 'pass', ['far-below-mark']],
    [{ seconds: 7.5, markedSeconds: 15 }, 'pass', []],
    [{ seconds: 12.1, markedSeconds: 15, lastVisitSeconds: 10 }, 'pass', ['differs-from-last-visit']],
    [{ seconds: 12, markedSeconds: 15, lastVisitSeconds: 10 }, 'pass', []],
    [{ seconds: 7.9, lastVisitSeconds: 10 }, 'no-mark', ['differs-from-last-visit']],
  ] as const)('%j is %s', (times, verdict, notes) => {
    expect(judgeTiming(times)).toEqual({ verdict, notes });
  });
});

describe('a flame signal', () => {
  // 300 to 1000 ohm usual, the control needs less than 1600 ohm: public training article, as cited in the app
  it.each([
    [49, 'shorted'],
    [50, 'usual'],
    [1000, 'usual'],
    [1001, 'weak'],
    [1599, 'weak'],
    [1600, 'too-weak'],
  ] as const)('of %s ohm is %s', (ohm, verdict) => expect(judgeFlameOhm(ohm)).toBe(verdict));
  it('as a current is judged against the least of the control only', () => {
    expect([0.9, 1, 1.49, 1.5].map((current) => judgeFlameMicroamps(current, 1))).toEqual(['too-weak', 'weak', 'weak', 'enough']);
    expect(judgeFlameMicroamps(5, undefined)).toBeUndefined();
    expect(judgeFlameMicroamps(5, 0)).toBeUndefined();
  });
});

describe('the tests that an appliance needs', () => {
  const left = (kind: Appliance['kind'] | undefined, stages?: number): string[] => {
    const needed = new Set(testsNeeded(kind && { kind }, stages).map(({ id }) => id));
    return safetyTestIds.filter((id) => !needed.has(id));
  };
  // a relief valve is on every closed boiler, a low-water cut-off on every steam boiler: common practice
  it.each([
    [undefined, ['low-water', 'relief-valve', 'blocked-vent', 'switch-over']],
    ['furnace', ['low-water', 'relief-valve', 'blocked-vent', 'switch-over']],
    ['boiler-water', ['low-water', 'blocked-vent', 'switch-over']],
    ['boiler-steam', ['blocked-vent', 'switch-over']],
  ] as const)('%s: all but %j', (kind, offered) => expect(left(kind)).toEqual(offered));
  it('the change of stages is tested where there are two', () => {
    expect(left('boiler-steam', 1)).toContain('switch-over');
    expect(left('boiler-steam', 2)).toEqual(['blocked-vent']);
  });
});
