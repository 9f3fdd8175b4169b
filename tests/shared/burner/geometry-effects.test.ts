/** What a burner that was left wrong does in the simulator: each fault has its own pattern (own choice, MODEL.md); nothing is wrong inside the card. */
import { describe, expect, it } from 'vitest';
import { effectsOf, ignitionOf } from '../../../shared/burner/geometry-effects.ts';
import { asTheCardWants } from '../../../shared/geometry/left.ts';
import type { GeometryLeft } from '../../../shared/measurement/geometry-left.ts';

const left = (more: Partial<GeometryLeft>): GeometryLeft => ({ ...asTheCardWants, ...more });
/** @returns the delay without its scatter */
const delay = (more: Partial<GeometryLeft>, start: { fromCold?: boolean; index?: number; phase?: 0 | 1 } = {}): number =>
  ignitionOf(left(more), { fromCold: true, index: 0, phase: 0, ...start }, () => 0.5).delayS;

describe('ignition', () => {
  it('is at once with everything inside the card', () => {
    for (const fromCold of [true, false])
      expect(ignitionOf(asTheCardWants, { fromCold, index: 3, phase: 1 }, () => 0.9)).toEqual({ delayS: 0, share: 0 });
  });
  it.each([{ electrodeGap: -1 }, { electrodeGap: 1 }, { heightAboveCentreline: -1 }, { heightAboveCentreline: 1 }, { tipDifference: 1 }])(
    'is late every time with %j',
    (fault) => {
      for (const fromCold of [true, false])
        for (const index of [0, 1, 5]) {
          expect(delay(fault, { fromCold, index })).toBeGreaterThan(1.5);
          expect(delay(fault, { fromCold, index })).toBe(delay(fault));
        }
    },
  );
  it('is later the further a part is off, up to 4 mm', () => {
    for (const item of ['electrodeGap', 'heightAboveCentreline', 'tipDifference'] as const) {
      expect(delay({ [item]: 3 })).toBeGreaterThan(delay({ [item]: 1 }));
      expect(delay({ [item]: 30 })).toBe(delay({ [item]: 4 }));
    }
    // tips above the spray wait longest, until it has filled the chamber
    expect(delay({ heightAboveCentreline: 1 })).toBeGreaterThan(2 * delay({ heightAboveCentreline: -1 }));
  });
  it('grows later start by start where carbon grows on the tips, and stops growing', () => {
    const starts = [0, 1, 2, 3, 4].map((index) => delay({ aheadOfNozzle: 2 }, { index }));
    expect(starts).toEqual([1, 2, 4, 8, 8]);
  });
  it('is late from cold alone where the spark is behind the spray, and warm alone where a crack opens', () => {
    expect([true, false].map((fromCold) => delay({ aheadOfNozzle: -2 }, { fromCold }) > 0)).toEqual([true, false]);
    expect([true, false].map((fromCold) => delay({ porcelainCracked: true }, { fromCold }) > 0)).toEqual([false, true]);
  });
  it('is late every second time where the spark may jump to the head, and not where the tips are only too far from it', () => {
    const late = (phase: 0 | 1) => [0, 1, 2, 3].map((index) => delay({ tipToMetal: -1 }, { index, phase }) > 0);
    expect(late(0)).toEqual([true, false, true, false]);
    expect(late(1)).toEqual([false, true, false, true]);
    expect(delay({ tipToMetal: 1 })).toBe(0);
  });
  it('goes by the worst of several faults, a tenth more or less from start to start', () => {
    const both = left({ electrodeGap: 1, heightAboveCentreline: 2 });
    const at = (uniform: number) => ignitionOf(both, { fromCold: true, index: 0, phase: 0 }, () => uniform);
    expect(at(0.5)).toEqual({ delayS: delay({ heightAboveCentreline: 2 }), share: 1 });
    expect(at(0).delayS / at(0.5).delayS).toBeCloseTo(0.9, 9);
    expect(at(1).delayS / at(0.5).delayS).toBeCloseTo(1.1, 9);
  });
});

describe('the flame', () => {
  const clean = {
    partSmokeShiftO2: 0,
    onsetShiftO2: 0,
    slopeFactor: 1,
    extraCoPpm: 0,
    airFactor: 1,
    flutterFraction: 0,
    oiliness: 0,
    unevenShare: 0,
  };
  it('burns as it should with everything inside the card', () => {
    expect(effectsOf(asTheCardWants)).toEqual({ ...clean, oilFactor: 1 });
  });
  // what each fault changes and leaves as it is
  it.each([
    [{ offCentre: 2 }, ['partSmokeShiftO2', 'slopeFactor', 'unevenShare']],
    [{ tipDifference: 2 }, ['partSmokeShiftO2', 'slopeFactor']],
    [{ nozzleToHead: 2 }, ['oiliness', 'partSmokeShiftO2', 'slopeFactor']],
    [{ nozzleToHead: -2 }, ['partSmokeShiftO2', 'slopeFactor']],
    [{ heightAboveCentreline: -2 }, ['oiliness']],
    [{ heightAboveCentreline: 2 }, []],
    [{ headToTubeEnd: 2 }, ['extraCoPpm', 'partSmokeShiftO2', 'slopeFactor']],
    [{ headToTubeEnd: -2 }, ['airFactor', 'extraCoPpm']],
    [{ headSetting: 1 }, ['airFactor', 'partSmokeShiftO2', 'slopeFactor']],
    [{ headSetting: -1 }, ['airFactor', 'extraCoPpm', 'flutterFraction']],
    [{ electrodeGap: 2 }, []],
    [{ nozzleShare: 0.8 }, ['oilFactor']],
    [{ nozzleShare: 1.2 }, ['oilFactor', 'onsetShiftO2']],
  ] as const)('%j changes %j', (fault, changed) => {
    const now = effectsOf(left(fault));
    const before = effectsOf(asTheCardWants);
    expect((Object.keys(now) as (keyof typeof now)[]).filter((key) => now[key] !== before[key]).sort()).toEqual(changed);
  });
  it('burns more oil through a larger nozzle, by its stamped flow', () => {
    expect(effectsOf(left({ nozzleShare: 1.25 })).oilFactor).toBe(1.25);
  });
  it('gets more air past an open head and one that is too far forward, less past a closed one', () => {
    expect(effectsOf(left({ headSetting: 1 })).airFactor).toBeGreaterThan(1);
    expect(effectsOf(left({ headToTubeEnd: -2 })).airFactor).toBeGreaterThan(1);
    expect(effectsOf(left({ headSetting: -1 })).airFactor).toBeLessThan(1);
  });
  it('is worse the further off, and of several faults the worst counts', () => {
    const smoke = (more: Partial<GeometryLeft>) => effectsOf(left(more)).partSmokeShiftO2;
    for (const item of ['offCentre', 'tipDifference', 'nozzleToHead', 'headToTubeEnd', 'headSetting'] as const)
      expect(smoke({ [item]: 1.5 }), item).toBeGreaterThan(smoke({ [item]: 0.5 }));
    expect(smoke({ offCentre: 3, tipDifference: 1 })).toBe(smoke({ offCentre: 3 }));
    const co = (more: Partial<GeometryLeft>) => effectsOf(left(more)).extraCoPpm;
    for (const fault of [{ headToTubeEnd: 1 }, { headToTubeEnd: -1 }, { headSetting: -1 }])
      expect(co(Object.fromEntries(Object.entries(fault).map(([key, value]) => [key, 2 * value])))).toBeGreaterThan(co(fault));
  });
});
