/** Nozzle stamps in their own units, the flow at each stage, and the derating aid, against the trade's table and hydraulics. */
import { describe, expect, it } from 'vitest';
import { findFuel } from '../../../../shared/combustion/fuel.ts';
import { derate, ratedGph, stageFirings, stampedLh } from '../../../../shared/tuning/set-up/stage-nozzle.ts';
import type { SetUpSheet } from '../../../../shared/tuning/set-up/set-up-sheet.ts';

const PSI = 6894.757; // NIST SP 811
const GALLON = 3.785412; // NIST SP 811, US gallon in L
const no2 = findFuel('no2')!;

describe('a nozzle as it is stamped', () => {
  // trade tables of nozzle flow, public pages: 0.85 gph stamped at 100 psi gives 1.01 at 140 and 1.04 at 150; 1.00 gives 1.18 at 140
  it.each([
    [0.85, 140, 1.01],
    [0.85, 150, 1.04],
    [1, 140, 1.18],
    [2, 125, 2.24],
  ])('%s gph at 100 psi is %s psi: %s gph', (value, psi, flow) => {
    const sheet: SetUpSheet = {
      lengthUnit: 'inch',
      rows: { nozzleFlowLh: { asFound: value * GALLON }, pumpPressurePa: { asFound: psi * PSI } },
    };
    expect(stageFirings(sheet, ['1'], no2)[0]?.firing?.flowGph).toBeCloseTo(flow, 2);
  });
  it('reads the same nozzle from its European stamp: 0.60 gph at 100 psi is 2.27 L/h, and at 10 bar 2.73 L/h, 2.3 kg/h', () => {
    // square root of 1 000 000 / 689 476 = 1.2043; 2.271 L/h x 1.2043 = 2.735; 0.84 kg/L: 2.30 kg/h
    const gph = ratedGph({ value: 0.6, unit: 'gph', atPa: 100 * PSI });
    expect(gph).toBeCloseTo(0.6, 6);
    expect(ratedGph({ value: 2.735, unit: 'l/h', atPa: 1_000_000 })).toBeCloseTo(0.6, 3);
    expect(ratedGph({ value: 2.297, unit: 'kg/h', atPa: 1_000_000 })).toBeCloseTo(0.6, 3);
    expect(stampedLh({ value: 0.6, unit: 'gph' })).toBeCloseTo(2.271, 3);
  });
});

describe('two stages', () => {
  const sheet = (stages: NonNullable<SetUpSheet['stages']>) => ({
    lengthUnit: 'mm' as const,
    rows: { nozzleFlowLh: { asFound: 0.6 * GALLON }, pumpPressurePa: { asFound: 1_000_000 } },
    stages: [...stages],
  });
  const flows = (stages: Parameters<typeof sheet>[0]) => stageFirings(sheet(stages), ['1', '2'], no2).map(({ firing }) => firing?.flowGph);
  it('one nozzle at two pressures: the second flows by the root of the ratio', () => {
    const [low, high] = flows([{ stage: '2', pumpPa: 2_250_000 }]);
    expect(high! / low!).toBeCloseTo(1.5, 6);
  });
  it('a second nozzle that burns beside the first adds to it; one that burns alone does not', () => {
    const second = { stage: '2', stamp: { value: 0.4, unit: 'gph' as const, atPa: 100 * PSI } };
    const [low, alone] = flows([second]);
    const [, both] = flows([{ ...second, adds: true }]);
    expect(alone! / low!).toBeCloseTo(0.4 / 0.6, 6);
    expect(both! / low!).toBeCloseTo(1 / 0.6, 6);
  });
  it('says nothing where the pressure is not known', () => {
    expect(stageFirings({ lengthUnit: 'mm', rows: {} }, ['1', '2'], no2).map(({ firing }) => firing)).toEqual([undefined, undefined]);
  });
});

describe('the derating aid', () => {
  // No. 2 oil: about 140 000 Btu per gallon HHV (common practice; the fuel table of this app is within 1 %)
  const wanted = (btu: number, plate?: number) =>
    derate({ fuel: no2, wantedKw: btu / 3412.142, ...(plate !== undefined && { plateKw: plate / 3412.142 }), basis: 'hhv' });
  it('140 000 Btu/h is about 1.0 gph at 100 psi and 0.85 at 140', () => {
    const at = (psi: number) => wanted(140_000).find(({ pressurePa }) => Math.abs(pressurePa / PSI - psi) < 0.5);
    expect(at(100)?.neededGph).toBeCloseTo(1, 1);
    expect(at(100)?.nozzle?.gph).toBe(1);
    expect(at(140)?.neededGph).toBeCloseTo(0.845, 1);
    expect(at(140)?.nozzle?.gph).toBe(0.85);
  });
  it('never goes over the plate where a smaller nozzle stays inside', () => {
    for (const { nozzle } of wanted(140_000, 138_000)) expect(nozzle?.overPlate).toBe(false);
    for (const { nozzle } of wanted(140_000, 138_000)) expect(nozzle!.inputKw * 3412.142).toBeLessThanOrEqual(138_100);
  });
});
