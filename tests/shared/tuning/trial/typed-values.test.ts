import { describe, expect, it } from 'vitest';
import { checkPosition, type Adjuster } from '../../../../shared/tuning/trial/adjuster.ts';
import { roundToStep, withPosition } from '../../../../shared/tuning/trial/setting.ts';
import { draftDropPa, storedDraft } from '../../../../shared/tuning/trial/draft.ts';
import { parseSmoke, smokeResult } from '../../../../shared/tuning/trial/smoke.ts';

describe('smoke', () => {
  it.each([
    ['3', 3],
    ['3.5', 3.5],
    ['3,5', 3.5],
    ['2½', 2.5],
    ['½', 0.5],
    ['1/2', 0.5],
    ['trace', 0.5],
    ['0', 0],
    ['9', 9],
  ] as const)('reads %s', (typed, number) => {
    expect(parseSmoke(typed)).toEqual({ ok: true, value: number });
  });
  it('refuses smoke 11 and says why', () => {
    expect(parseSmoke('11')).toEqual({ ok: false, error: { key: 'smoke-above-scale', typed: 11 } });
  });
  it.each([
    ['-1', 'smoke-below-scale'],
    ['3.3', 'smoke-not-half'],
    ['dark', 'smoke-unclear'],
    ['', 'smoke-unclear'],
  ] as const)('refuses %s as %s', (typed, key) => {
    const read = parseSmoke(typed);
    expect(read.ok ? undefined : read.error.key).toBe(key);
  });
  it('takes the mean of three, rounded to whole (1st BImSchV, Annex 2 no. 3.2)', () => {
    // (1 + 1 + 2)/3 = 1.33 -> 1; (1 + 2 + 2)/3 = 1.67 -> 2; (1 + 2 + 1.5)/3 = 1.5 -> 2
    const of = (numbers: number[]) =>
      smokeResult(
        numbers.map((number) => ({ number })),
        'mean-of-three-whole',
      ).number;
    expect([of([1, 1, 2]), of([1, 2, 2]), of([1, 2, 1.5])]).toEqual([1, 2, 2]);
  });
  it('leaves wet and uneven spots out, asks for more, and keeps their oil trace', () => {
    const result = smokeResult([{ number: 5, flaw: 'wet', oilTrace: true }, { number: 1 }, { number: 2 }], 'mean-of-three-whole');
    expect(result).toMatchObject({ mean: 1.5, usableSpots: 2, toRepeat: 1, stillNeeded: 1, oilTrace: true });
  });
  it('has no number without a usable spot', () => {
    expect(smokeResult([{ number: 5, flaw: 'uneven' }], 'single-spot').number).toBeUndefined();
  });
});

describe('draft sign', () => {
  const overFire = { place: 'over-fire', pressurised: false } as const;
  it('keeps a minus as suction whatever the habit', () => {
    for (const habit of ['minus', 'plain', 'unknown'] as const)
      expect(storedDraft({ ...overFire, typedPa: -5, habit })).toEqual({ kind: 'stored', pa: -5 });
  });
  it('turns a plain figure into suction for those who write it so', () => {
    // 0.02 in w.c. written without a sign and -0.02 mean the same suction: UFC 3-430-07 and NORA p 141 write it differently
    expect(storedDraft({ ...overFire, typedPa: 5, habit: 'plain' })).toEqual({ kind: 'stored', pa: -5 });
  });
  it('asks when a positive figure over the fire can mean both', () => {
    expect(storedDraft({ ...overFire, typedPa: 5, habit: 'unknown' })).toMatchObject({ kind: 'ask', suctionPa: -5, pressurePa: 5 });
    expect(storedDraft({ ...overFire, typedPa: 5, habit: 'minus' }).kind).toBe('ask');
    expect(storedDraft({ place: 'over-fire', pressurised: true, typedPa: 5, habit: 'plain' }).kind).toBe('ask');
  });
  it('believes pressure over the fire of a pressurised appliance', () => {
    expect(storedDraft({ place: 'over-fire', pressurised: true, typedPa: 5, habit: 'minus' })).toEqual({ kind: 'stored', pa: 5 });
  });
  it('never stores minus zero', () => {
    expect(Object.is((storedDraft({ ...overFire, typedPa: 0, habit: 'plain' }) as { pa: number }).pa, 0)).toBe(true);
  });
  it('is a drop when the breech pulls harder', () => {
    expect(draftDropPa({ overFirePa: -5, breechPa: -12 })).toBe(7);
    expect(draftDropPa({ breechPa: -12 })).toBeUndefined();
  });
});

describe('positions', () => {
  const shutter: Adjuster = { name: 'shutter', unit: '', min: 0, max: 10, step: 0.25, role: 'fine', kind: 'air' };
  it('refuses what is off the scale and changes nothing', () => {
    expect(checkPosition(shutter, 10.5)).toMatchObject({ ok: false, error: { key: 'position-above-scale', typed: 10.5, max: 10 } });
    expect(checkPosition(shutter, -1)).toMatchObject({ ok: false, error: { key: 'position-below-scale' } });
    expect(checkPosition(shutter, NaN).ok).toBe(false);
    expect(checkPosition(shutter, 10)).toEqual({ ok: true, value: 10 });
  });
  it('rounds to the step, from the start of the scale, inside it', () => {
    expect(roundToStep(shutter, 4.4)).toBe(4.5);
    expect(roundToStep({ ...shutter, min: 0.1, step: 0.2 }, 0.42)).toBe(0.5);
    expect(roundToStep(shutter, 12)).toBe(10);
  });
});

describe('one adjuster moved', () => {
  const at = (...positions: [string, number][]) => ({ stage: '2', positions: positions.map(([name, value]) => ({ name, value })) });
  it('leaves the others and the stage; a name in other capitals is no second adjuster', () => {
    expect(withPosition(at(['shutter', 7], ['band', 3]), 'Shutter', 6)).toEqual(at(['shutter', 6], ['band', 3]));
    expect(withPosition(at(['shutter', 7]), 'band', 3)).toEqual(at(['shutter', 7], ['band', 3]));
    expect(withPosition(at(['a', 7], ['A', 3]), 'A', 4)).toEqual(at(['a', 7], ['A', 4]));
  });
});
