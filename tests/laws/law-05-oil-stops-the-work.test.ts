import { describe, expect, it } from 'vitest';
import type { Mark } from '../../shared/measurement/mark.ts';
import { oilOnPaper } from '../../shared/tuning/trial/oil.ts';
import { trialsOf } from '../../shared/tuning/trial/trials.ts';
import { makeTrial } from '../shared/tuning/make-trial.ts';
import { anyCase } from './random-visits.ts';
import { holds } from './visits.ts';

describe('law 5: oil on the paper stops the work', () => {
  it('no next setting, not safe, and the sentence that says what to do', () => {
    const { tried, met } = holds('law 5', anyCase, ({ visit }, { advice, adjuster, to, words, safe, because }) => {
      if (!visit.trials.some(({ oil }) => oil)) return false;
      expect([advice, adjuster, to, safe]).toEqual(['stop', null, null, 'no']);
      expect(because).toContain('oil');
      // with CO in the room people come first, and the oil is not passed over
      expect(words).toContain('Oil on the paper. Take the probe out. Find the cause before another reading.');
      if (visit.room_co_ppm === null || visit.room_co_ppm < 35) expect(words.startsWith('Oil on the paper.')).toBe(true);
      return true;
    });
    expect(tried).toBeGreaterThanOrEqual(2000);
    expect(met).toBeGreaterThan(200);
  });
  it('stands until the cause was entered and a later paper is free of oil', () => {
    const paper = (id: string, atMs: number, oilTrace: boolean) => ({
      ...makeTrial({ id, atMs, o2: 5, co: 10, shutter: 4 }),
      smoke: { spots: [{ number: 0, ...(oilTrace ? { oilTrace } : {}) }] },
    });
    const oily = [paper('a', 1, true), paper('b', 5, false)];
    expect(oilOnPaper({ trials: oily }).state).toBe('found');
    expect(oilOnPaper({ trials: oily.slice(0, 1), oilCauses: [{ wallMs: 2, text: 'nozzle loose' }] }).state).toBe('cause-known');
    expect(oilOnPaper({ trials: oily, oilCauses: [{ wallMs: 2, text: 'nozzle loose' }] }).state).toBe('none');
    expect(oilOnPaper({ trials: [...oily, paper('c', 9, true)], oilCauses: [{ wallMs: 2, text: 'nozzle loose' }] }).state).toBe('found');
  });
  describe('at one setting', () => {
    const spot = (id: string, timeMs: number, oilTrace: boolean, count = 1): Mark => ({
      id,
      timeMs,
      body: { kind: 'smoke', spots: Array.from({ length: count }, () => ({ number: 0, ...(oilTrace && { oilTrace }) })) },
    });
    const startSetting = { stage: '1', positions: [{ name: 'shutter', value: 4 }] };
    const stateAfter = (marks: Mark[], causeMs?: number): string =>
      oilOnPaper({
        trials: trialsOf({ runId: 'r', startWallMs: 0, startSetting, marks, edits: [], readings: [] }),
        ...(causeMs !== undefined && { oilCauses: [{ wallMs: causeMs, text: 'nozzle loose' }] }),
      }).state;
    const oil = spot('a', 20, true);
    it('another smoke, free of oil and after the cause, lets the work go on; one before the cause does not', () => {
      expect(stateAfter([oil])).toBe('found');
      expect(stateAfter([oil], 30)).toBe('cause-known');
      expect(stateAfter([oil, spot('b', 40, false)], 30)).toBe('none');
      expect(stateAfter([oil, spot('b', 25, false)], 30)).toBe('cause-known');
      expect(stateAfter([oil, spot('b', 40, false)])).toBe('found');
    });
    it('oil that is seen after the cause was entered stops it again', () => {
      expect(stateAfter([oil, spot('b', 40, true)], 30)).toBe('found');
    });
    it('nor is it pumped away: nine clean spots later it is still there', () => {
      const clean = [40, 50, 60].map((timeMs) => spot(`c${timeMs}`, timeMs, false, 3));
      expect(stateAfter([oil, ...clean])).toBe('found');
    });
  });
});
