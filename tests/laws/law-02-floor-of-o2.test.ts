import { describe, expect, it } from 'vitest';
import { exampleCards } from '../../shared/tuning/card/example-cards.ts';
import { limitsInForce } from '../../shared/tuning/advice/limits-in-force.ts';
import { anyCase, burnerCase } from './random-visits.ts';
import { answerOf, at, holds, plainVisit, type Answer } from './visits.ts';

describe('law 2: there is a floor of O2', () => {
  it('nothing is aimed at below it', () => {
    const { tried, met } = holds('law 2', anyCase, ({ visit }, { aim_o2_pct }) => {
      if (aim_o2_pct === null) return false;
      expect(aim_o2_pct[0]).toBeGreaterThanOrEqual(visit.o2_floor_pct - 1e-9);
      expect(aim_o2_pct[1]).toBeGreaterThanOrEqual(aim_o2_pct[0]);
      return true;
    });
    expect(tried).toBeGreaterThanOrEqual(2000);
    expect(met).toBeGreaterThan(500);
  });
  it('and following the advice at a burner does not lead under it', () => {
    let smallSteps = 0;
    const { tried, met } = holds('law 2, expected O2 and O2 as it comes to be', burnerCase, ({ visit, o2At }, answer) => {
      if (answer.advice !== 'less-air') return false;
      const { expected_o2_pct: expected } = answer as unknown as { expected_o2_pct: [number, number] | null };
      if (expected === null) smallSteps++;
      else expect(expected[0]).toBeGreaterThanOrEqual(visit.o2_floor_pct - 1e-9);
      // what was read differs from the truth by a few hundredths, and by more where an interval is told
      const { setting } = visit.trials.at(-1)!;
      expect(o2At!({ ...setting, [answer.adjuster!]: answer.to! })).toBeGreaterThan(visit.o2_floor_pct - 0.1);
      return true;
    });
    console.info(`law 2: ${smallSteps} small steps of which no O2 is told`);
    expect(tried).toBeGreaterThanOrEqual(2000);
    expect(met).toBeGreaterThan(500);
    expect(smallSteps).toBeGreaterThan(50);
  });
  it('no step into the closed end where the air may fall away', () => {
    const scale = { adjusters: [{ name: 'shutter', kind: 'air', min: 1, max: 5, step: 1 }], o2_floor_pct: 4 };
    // the air of that burner is at 0.6 % O2 with the shutter at 1
    expect(answerOf(plainVisit([at(5, 11.7), at(4, 10.8), at(2, 7.6)], scale))).toMatchObject({ advice: 'none', to: null });
    // a step that ends half-way to it on a finer hand is one
    expect(
      answerOf(plainVisit([at(5, 11.7), at(4, 10.8), at(2, 7.6)], { ...scale, adjusters: [{ ...scale.adjusters[0], step: 0.5 }] })),
    ).toMatchObject({
      advice: 'less-air',
      to: 1.5,
    });
  });
  it('an interval that reaches below it is not gone to, nor rounded into', () => {
    const marks = { adjusters: [{ name: 'shutter', kind: 'air', min: 0, max: 4, step: 1, more_air: 'down' }], o2_floor_pct: 6 };
    expect(answerOf(plainVisit([at(2, 10.7), at(3, 9)], marks)).to).not.toBe(4);
  });
  it('is 2 %, or the card’s low limit where that is higher', () => {
    const card = exampleCards.find(({ id }) => id === 'example-minnesota')!;
    expect(limitsInForce({}).o2FloorPercent).toBe(2);
    expect(limitsInForce({ targetCard: card }).o2FloorPercent).toBe(4);
    expect(limitsInForce({ o2FloorPercent: 5, targetCard: card }).o2FloorPercent).toBe(5);
  });
  it('trials that end on a level stretch do not lead to the end of the scale', () => {
    const answer = answerOf(
      plainVisit([at(3.75, 5.4), at(4.5, 5.2), at(5, 5.2), at(3, 5.9), at(1, 6.2), at(0, 6.5), at(5, 5.2)], { o2_floor_pct: 4 }),
    ) as Answer & { expected_o2_pct: [number, number] };
    expect(answer.advice).toBe('less-air');
    expect(answer.to).toBeLessThanOrEqual(7.5);
    expect(answer.expected_o2_pct[1] - answer.expected_o2_pct[0]).toBeGreaterThan(0.3);
  });
  it('what is expected beyond the last trial is as sure at either end of the scale', () => {
    const widthOf = (isUp: boolean): number => {
      const steps = [at(2, 8), at(3, 7.4), at(4, 6.4), at(4.4, 6)];
      const trials = isUp ? steps : steps.map(({ setting, ...rest }) => ({ ...rest, setting: { shutter: 10 - setting!['shutter']! } }));
      const { expected_o2_pct: expected } = answerOf(plainVisit(trials)) as Answer & { expected_o2_pct: [number, number] };
      return expected[1] - expected[0];
    };
    expect(widthOf(true)).toBeCloseTo(widthOf(false), 2);
  });
  it('where the next step would go below it, the search for smoke ends and the reserve is set', () => {
    const answer = answerOf(plainVisit([at(6, 6.2), at(4, 4.2)], { o2_floor_pct: 4 }));
    expect(answer).toMatchObject({ advice: 'more-air', from: 4, because: ['floor-is-near'] });
    expect(answer.words).toContain('No definite smoke so far, and another step could go below 4.0\u2009%.');
  });
  it('an O2 that no flue can have takes no part', () => {
    expect(answerOf(plainVisit([at(5, 25, { smoke: 2 }), at(4, 2.05, { smoke: 9 })])).aim_o2_pct?.[1]).toBeLessThan(8);
  });
  it('at the floor without smoke: check pump and paper, or set by the maker’s figure', () => {
    const trial = (shutter: number, o2_pct: number) => ({ setting: { shutter }, o2_pct, co_ppm: 20, smoke: 0, oil: false, settled: true });
    const answer = answerOf({
      id: 'floor',
      fuel: 'no2',
      flame: 'yellow',
      adjusters: [{ name: 'shutter', kind: 'air', min: 0, max: 10, step: 0.5 }],
      trials: [trial(5, 4), trial(3, 2.1)],
      as_left: null,
      alarm_co_air_free_ppm: 400,
      o2_floor_pct: 2,
      smoke_limit: 1,
      room_co_ppm: 0,
      safety: [],
      bypass_in_place: false,
    });
    expect(answer.advice).toBe('more-air');
    expect(answer.words).toContain('No smoke by 2 % O2. Check smoke pump and paper, or set by the maker’s CO2 or O2.');
  });
  it('at the floor with a trace on the paper nobody says that there was no smoke', () => {
    const trials = [at(5.8, 7), at(3.8, 4.73), at(3.2, 3.83), at(2.7, 3.02), at(2.3, 2.36, { smoke: 0.5 }), at(2.2, 2.05, { smoke: 0.5 })];
    const answer = answerOf(plainVisit(trials));
    expect(answer).toMatchObject({ advice: 'more-air', from: 2.2, aim_o2_pct: [3.3, 4.3] });
    expect(answer.because).toContain('floor-is-near');
    expect(answer.words).toContain('No definite smoke so far');
    expect(answer.words).not.toContain('No smoke by');
  });
});
