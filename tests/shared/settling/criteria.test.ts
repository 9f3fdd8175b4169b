/**
 * The published criteria, each against its own words.
 * @source field: German BImSchV, Annex 2 no. 1.3 (two minutes of undisturbed running; the limit of the slope is ours)
 * @source lab: 10 CFR 430 subpart B, appendix O: three readings 15 min apart within 5 °F (2.8 °C)
 */
import { describe, expect, it } from 'vitest';
import { createFieldCriterion, createLabCriterion, type Criterion } from '../../../shared/settling/criteria.ts';

const BLOCK_S = 2;
/** @returns the first time at which it is met */
function firstMet(criterion: Criterion, stack: (timeS: number) => number, untilS: number, fromS = 0): number | undefined {
  for (let timeS = fromS; timeS <= untilS; timeS += BLOCK_S) {
    criterion.add(timeS, stack(timeS));
    if (criterion.met()) return timeS;
  }
  return undefined;
}
const steady = (): number => 210;
const drift = (cPerMin: number) => (timeS: number) => 200 + (cPerMin * timeS) / 60;

describe('the laboratory’s: three readings 15 min apart within 2.8 °C', () => {
  it('needs half an hour, however still the stack is', () => {
    const at = firstMet(createLabCriterion(), steady, 3600) ?? NaN;
    expect(at).toBeGreaterThanOrEqual(1800);
    expect(at).toBeLessThanOrEqual(1900);
  });

  // a steady slope changes by half an hour of itself between the first and the third reading
  it.each([
    [2.7, true],
    [2.9, false],
    [-2.7, true],
    [-2.9, false],
  ])('a stack that changes by %f °C in half an hour: %s', (inHalfAnHour, isMet) => {
    expect(firstMet(createLabCriterion(), drift(inHalfAnHour / 30), 7200) !== undefined).toBe(isMet);
  });

  it('a middle reading that is off is seen too', () => {
    const hump = (timeS: number): number => (timeS > 600 && timeS < 1500 ? 214 : 210);
    const at = firstMet(createLabCriterion(), hump, 7200) ?? NaN;
    // the last of the hump is out of all three only half an hour after it
    expect(at).toBeGreaterThanOrEqual(1500 + 1800);
  });

  it('is met where one time constant says so', () => {
    // 200 K to go, tau 300 s: 200 e^(-t/300) (1 - e^-6) = 2.8 at t = 1280 s, the third reading half an hour later; means of 30 s
    const at = firstMet(createLabCriterion(), (timeS) => 220 - 200 * Math.exp(-timeS / 300), 7200) ?? NaN;
    expect(at).toBeGreaterThanOrEqual(1280 + 1800 - 30);
    expect(at).toBeLessThanOrEqual(1280 + 1800 + 90);
  });

  it('one wild sample is a small part of its mean', () => {
    const wild = (timeS: number): number => (timeS === 1000 ? 230 : 210);
    expect(firstMet(createLabCriterion(), wild, 2000)).toBeLessThanOrEqual(1900);
  });

  it('no reading is made up where nothing was read a quarter of an hour ago', () => {
    const criterion = createLabCriterion();
    expect(firstMet(criterion, steady, 800)).toBeUndefined();
    // a gap over the middle of the next three
    expect(firstMet(criterion, steady, 1980, 1100)).toBeUndefined();
  });

  it('a mean with a gap of twenty seconds in it is none: the third reading comes half a minute after the gap', () => {
    const criterion = createLabCriterion();
    const gap = { fromS: 1794, toS: 1814 };
    expect(firstMet(criterion, steady, gap.fromS)).toBeUndefined();
    const at = firstMet(criterion, steady, 3600, gap.toS + BLOCK_S) ?? NaN;
    expect(at).toBeGreaterThanOrEqual(gap.toS + 30);
    expect(at).toBeLessThanOrEqual(gap.toS + 60);
  });

  it('a gap of a few seconds holds nothing up', () => {
    const criterion = createLabCriterion();
    expect(firstMet(criterion, steady, 1794)).toBeUndefined();
    expect(firstMet(criterion, steady, 3600, 1800)).toBeLessThanOrEqual(1832);
  });

  it('begins anew after a reset', () => {
    const criterion = createLabCriterion();
    expect(criterion.met()).toBe(false);
    firstMet(criterion, steady, 3600);
    criterion.reset();
    expect(criterion.met()).toBe(false);
    expect(firstMet(criterion, steady, 3700 + 1700, 3700)).toBeUndefined();
  });

  it('goes on for hours', () => {
    const criterion = createLabCriterion();
    expect(firstMet(criterion, drift(0.5), 6 * 3600)).toBeUndefined();
    expect(firstMet(criterion, steady, 6 * 3600 + 1700, 6 * 3600 + 2)).toBeUndefined();
    expect(firstMet(criterion, steady, 6 * 3600 + 2000, 6 * 3600 + 1702)).toBeDefined();
  });
});

describe('the field’s: two minutes undisturbed, and the stack no longer rises', () => {
  it('needs two minutes, however still the stack is', () => {
    expect(firstMet(createFieldCriterion(), steady, 600)).toBe(120);
  });

  it('counts the two minutes from the last disturbance', () => {
    const criterion = createFieldCriterion();
    firstMet(criterion, steady, 100);
    criterion.disturbed(100);
    expect(firstMet(criterion, steady, 600, 102)).toBe(220);
  });

  it.each([
    [0.9, true],
    [1.1, false],
    [-0.9, true],
    [-1.1, false],
  ])('a slope of %f °C a minute: %s', (cPerMin, isMet) => {
    expect(firstMet(createFieldCriterion(), drift(cPerMin), 1200) !== undefined).toBe(isMet);
  });

  it('a slope that scatters so much that nobody can say is not met', () => {
    const scatter = (timeS: number): number => 210 + 8 * Math.sin(timeS * 1.7) + 5 * Math.sin(timeS * 0.37);
    expect(firstMet(createFieldCriterion(), scatter, 130)).toBeUndefined();
  });

  it('is met when the slope of one time constant has come down, judged over the last 90 s', () => {
    // 200 K, tau 120 s: 200/120 e^(-t/120) K/s = 1 K/min at 552 s in the middle of the window, 45 s before its end
    const at = firstMet(createFieldCriterion(), (timeS) => 220 - 200 * Math.exp(-timeS / 120), 3600) ?? NaN;
    expect(at).toBeGreaterThan(552);
    expect(at).toBeLessThan(552 + 90);
  });

  it('needs most of its 90 s after a gap and after a reset', () => {
    const criterion = createFieldCriterion();
    expect(criterion.met()).toBe(false);
    firstMet(criterion, steady, 118);
    expect(firstMet(criterion, steady, 400 + 78, 400)).toBeUndefined();
    expect(firstMet(criterion, steady, 400 + 90, 400 + 80)).toBeDefined();
    criterion.reset();
    expect(firstMet(criterion, steady, 1000 + 118, 1000)).toBeUndefined();
    expect(firstMet(criterion, steady, 1200, 1120)).toBe(1120);
  });
});
