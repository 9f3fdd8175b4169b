import { describe, expect, it } from 'vitest';
import { advise } from '../../shared/tuning/advice/advise.ts';
import { readPlainVisit } from '../../shared/tuning/visit/plain-visit.ts';
import { anyCase } from './random-visits.ts';
import { VISITS, answerOf, at, coJudged, holds, plainVisit, type PlainTrial, type PlainVisit } from './visits.ts';

/** CO of an instrument of which nothing is said: the larger of 20 ppm and 5 %, half-width. */
const uOf = ({ co_ppm, o2_pct }: PlainTrial): number => (Math.max(20, 0.05 * co_ppm!) * 20.9) / (20.9 - o2_pct!);

const mayBeChilled = (trials: readonly PlainTrial[]): boolean => {
  const [before, now] = [trials.at(-2), trials.at(-1)];
  if (before === undefined || now === undefined || now.o2_pct === null || before.o2_pct === null) return false;
  if (now.co_ppm === null || before.co_ppm === null || now.o2_pct < 6 || now.smoke !== 0 || before.o2_pct <= now.o2_pct) return false;
  return coJudged(before)! - coJudged(now)! > Math.max(uOf(now), uOf(before));
};

describe('law 1: less air is never advised into danger', () => {
  it('not with CO at the alarm, smoke over the limit, oil on the paper, or O2 at the floor', () => {
    let exceptions = 0;
    const { tried, met } = holds('law 1', anyCase, ({ visit }, { advice, because }) => {
      const now = visit.trials.at(-1);
      if (now === undefined) return false;
      const co = coJudged(now);
      const isAlarm = co !== undefined && co >= visit.alarm_co_air_free_ppm;
      const isOil = visit.trials.some(({ oil }) => oil);
      const isSmoky = now.smoke !== null && now.smoke > visit.smoke_limit;
      const isLow = now.o2_pct !== null && now.o2_pct <= visit.o2_floor_pct;
      if (!isAlarm && !isOil && !isSmoky && !isLow) return false;
      if (advice === 'less-air') {
        const own = visit.trials.filter(({ stage }) => stage === now.stage);
        expect({ isOil, isSmoky, isLow, isChilled: mayBeChilled(own) }).toEqual({
          isOil: false,
          isSmoky: false,
          isLow: false,
          isChilled: true,
        });
        expect(because).toContain('co-falls-towards-less-air');
        exceptions++;
      }
      expect(advice).not.toBe('leave');
      return true;
    });
    console.info(`law 1: ${exceptions} small steps towards less air for a flame chilled by air`);
    expect(tried).toBeGreaterThanOrEqual(2000);
    expect(met).toBeGreaterThan(VISITS / 5);
    expect(exceptions).toBeGreaterThan(0);
  });

  it('nor while the instrument shows CO at the alarm, or O2 at the floor, whatever the trials say', () => {
    let lessAirBefore = 0;
    const { tried } = holds('law 1, live', anyCase, ({ visit }, { advice }) => {
      const read = readPlainVisit(visit);
      if (!read.ok) throw new Error('not read');
      const facts = read.value.advice;
      for (const live of [{ coOverRange: true }, { o2: visit.o2_floor_pct, coPpm: 0 }])
        expect(advise({ ...facts, live }).advice).not.toBe('less-air');
      for (const live of [{ coOverRange: true }, { coAirFreePpm: visit.alarm_co_air_free_ppm }])
        expect(['stop', 'more-air']).toContain(advise({ ...facts, live }).advice);
      if (advice === 'less-air') lessAirBefore++;
      return advice === 'less-air';
    });
    expect(tried).toBeGreaterThanOrEqual(2000);
    expect(lessAirBefore).toBeGreaterThan(50);
  });

  it('nor back to a setting, or beyond it, that was read in danger', () => {
    const { tried, met } = holds('law 1, seen before', anyCase, ({ visit }, { advice, adjuster, from, to }) => {
      if (advice !== 'less-air' || adjuster === null || to === null) return false;
      const now = visit.trials.at(-1)!;
      const elsewhere = ({ [adjuster]: _, ...others }: Record<string, number>): string => JSON.stringify(Object.entries(others).sort());
      const read = new Map<number, PlainTrial>();
      for (const trial of visit.trials)
        if (trial.stage === now.stage && elsewhere(trial.setting) === elsewhere(now.setting)) read.set(trial.setting[adjuster]!, trial);
      const onTheWay = [...read].filter(([place]) => (to < from! ? place >= to && place < from! : place <= to && place > from!));
      for (const [, trial] of onTheWay) {
        expect(coJudged(trial) ?? 0).toBeLessThan(visit.alarm_co_air_free_ppm);
        expect(trial.smoke ?? 0).toBeLessThanOrEqual(visit.smoke_limit);
        expect(trial.o2_pct ?? 21).toBeGreaterThan(visit.o2_floor_pct);
      }
      return onTheWay.length > 0;
    });
    expect(tried).toBeGreaterThanOrEqual(2000);
    expect(met).toBeGreaterThan(20);
  });

  it('smoke that is not known is not taken for none where it was seen before, and CO below nothing is no CO', () => {
    const blue = (...trials: Partial<PlainTrial>[]) => answerOf(plainVisit(trials, { flame: 'blue' })).because;
    expect(blue(at(8, 9.5, { smoke: 4 }), at(7, 8, { smoke: null }))).toContain('smoke-first');
    expect(blue(at(8, 9.5), at(7, 8, { co_ppm: -300 }))).toContain('co-not-possible');
  });

  it('the visit that was seen: O2 5.5 with CO 40, then O2 3 with CO 900 and smoke 0', () => {
    const visit = seen([
      { setting: { shutter: 5 }, o2_pct: 5.5, co_ppm: 40, smoke: 0 },
      { setting: { shutter: 3 }, o2_pct: 3, co_ppm: 900, smoke: 0 },
    ]);
    const read = readPlainVisit(visit);
    expect(read.ok && advise(read.value.advice)).toMatchObject({ advice: 'more-air', adjuster: 'shutter', from: 3, to: 5 });
  });

  it('a flame chilled by air gets one small step, and only when the fall of CO was measured', () => {
    const steps = (first: number): unknown => {
      const read = readPlainVisit(
        seen([
          { setting: { shutter: 9 }, o2_pct: 10, co_ppm: first, smoke: 0 },
          { setting: { shutter: 8 }, o2_pct: 9, co_ppm: 350, smoke: 0 },
        ]),
      );
      return read.ok ? advise(read.value.advice) : undefined;
    };
    expect(steps(500)).toMatchObject({ advice: 'less-air', adjuster: 'shutter', from: 8 });
    expect(steps(330)).toMatchObject({ advice: 'stop' });
    expect(steps(200)).toMatchObject({ advice: expect.stringMatching(/stop|more-air/) as string });
  });

  it('no such step where CO was lower with more air', () => {
    const answer = answerOf(plainVisit([at(9, 11, { co_ppm: 120 }), at(8, 10, { co_ppm: 500 }), at(7, 9, { co_ppm: 350 })]));
    expect(answer).toMatchObject({ advice: 'more-air', from: 7, to: 9 });
  });

  it('a reading of which nobody said that it had settled is no ground for less air', () => {
    const settled = [at(6, 8), at(5, 7)];
    expect(answerOf(plainVisit(settled)).advice).toBe('less-air');
    const last = { ...at(5, 7), settled: null } as unknown as PlainTrial;
    expect(answerOf(plainVisit([settled[0]!, last]))).toMatchObject({ advice: 'none', because: ['not-settled', 'as-left-not-settled'] });
  });
});

const seen = (trials: Omit<PlainTrial, 'oil' | 'settled'>[]): Partial<PlainVisit> => ({
  id: 'seen',
  fuel: 'no2',
  flame: 'yellow',
  adjusters: [{ name: 'shutter', kind: 'air', min: 0, max: 10, step: 0.5 }],
  trials: trials.map((trial) => ({ ...trial, oil: false, settled: true })),
});
