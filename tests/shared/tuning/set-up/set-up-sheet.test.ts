import { describe, expect, it } from 'vitest';
import { findFuel } from '../../../../shared/combustion/fuel.ts';
import { firingRate } from '../../../../shared/tuning/trial/firing-rate.ts';
import { implausible, setUpVerdict, type SetUpSheet } from '../../../../shared/tuning/set-up/set-up-sheet.ts';

const sheet = (rows: SetUpSheet['rows'], more: Partial<SetUpSheet> = {}): SetUpSheet => ({ lengthUnit: 'mm', rows, ...more });

describe('set-up sheet', () => {
  it.each([
    [{ maker: { nominal: 4, tolerance: 0.5 }, asFound: 4.5 }, 'in'],
    [{ maker: { nominal: 4, tolerance: 0.5 }, asFound: 4.6 }, 'out'],
    [{ maker: { low: 3, high: 5 }, asFound: 2.9 }, 'out'],
    [{ maker: { low: 3 }, asFound: 30 }, 'in'],
    [{ maker: { nominal: 4 }, asFound: 4 }, 'not-given'],
    [{ asFound: 4 }, 'not-given'],
    [{ maker: { nominal: 4, tolerance: 0.5 } }, 'not-measured'],
  ] as const)('%j is %s', (row, verdict) => {
    expect(setUpVerdict(row, 'asFound')).toBe(verdict);
  });
  it('is in when a ruler reading sits on the limit: 5/32 in with 1/8 ± 1/32 in', () => {
    expect(setUpVerdict({ maker: { nominal: 25.4 / 8, tolerance: 25.4 / 32 }, asFound: (5 * 25.4) / 32 }, 'asFound')).toBe('in');
  });
  it('hints at the unusual without a verdict, with the source', () => {
    const hints = implausible(
      sheet({ electrodeGapMm: { asFound: 9 }, heightAboveCentrelineMm: { asFound: 10 }, aheadOfNozzleMm: { asFound: 3 } }),
      'asFound',
    );
    expect(hints.map(({ item }) => item)).toEqual(['electrodeGapMm']);
    expect(hints[0]!.source).toContain('1/8 to 3/16');
    expect(implausible(sheet({ electrodeGapMm: { asFound: 4.8 }, clearanceToMetalMm: { asFound: 7 } }), 'asFound')).toEqual([]);
    expect(
      implausible(sheet({ electrodeGapMm: { asFound: 8 }, clearanceToMetalMm: { asFound: 7 } }), 'asFound').map(({ item }) => item),
    ).toContain('clearanceToMetalMm');
  });
  it.each([
    ['electrodeGapMm', 25.4 / 8, '1/8 in'],
    ['electrodeGapMm', 3, '3 mm'],
    ['electrodeGapMm', 5, '5 mm'],
    ['pumpPressurePa', 100 * 6894.757293, '100 psi'],
    ['pumpPressurePa', 700_000, '7 bar'],
    ['pumpPressurePa', 1_000_000, '10 bar'],
  ] as const)('finds nothing unusual in %s %d: %s, common practice', (...[item, asFound]) => {
    expect(implausible(sheet({ [item]: { asFound } }), 'asFound')).toEqual([]);
  });
  it.each([
    ['electrodeGapMm', 2.4],
    ['electrodeGapMm', 5.6],
    ['pumpPressurePa', 80 * 6894.757293],
  ] as const)('still asks about %s %d', (item, asFound) => {
    expect(implausible(sheet({ [item]: { asFound } }), 'asFound').map((hint) => hint.item)).toEqual([item]);
  });
  it('computes flow and input: 0.85 gph stamped at 100 psi gives x 1.183 at 140 psi (square root of the pressure)', () => {
    const fuel = findFuel('no2')!;
    const rate = firingRate(
      sheet({ nozzleFlowLh: { asFound: 0.85 * 3.785411784 }, pumpPressurePa: { asFound: 140 * 6894.757293 } }),
      fuel,
    )!;
    expect(rate.flowGph).toBeCloseTo(0.85 * Math.sqrt(1.4), 6);
    // 0.138325 MMBtu/gal of No. 2 oil (40 CFR 98 Table C-1 gives 0.138): 1.0057 gph is 139.1 kBtu/h
    expect(rate.inputHhvBtuPerH / 1000).toBeCloseTo(1.0057 * 138.3, 0);
    expect(rate.inputLhvKw).toBeLessThan(rate.inputHhvKw);
  });
  it('uses as left before as found, and the pressure at which the nozzle was stamped', () => {
    const fuel = findFuel('no2')!;
    const rows: SetUpSheet['rows'] = { nozzleFlowLh: { asFound: 5, asLeft: 3 }, pumpPressurePa: { asLeft: 1_000_000 } };
    expect(firingRate(sheet(rows, { ratedPressurePa: 1_000_000 }), fuel)!.flowLPerH).toBeCloseTo(3, 9);
    expect(firingRate(sheet({ nozzleFlowLh: { asFound: 3 } }), fuel)).toBeUndefined();
  });
});
