import { describe, expect, it } from 'vitest';
import { coAirFreePpm, mgPerKwhPerPpmAirFree } from '../../../shared/combustion/carbon-monoxide.ts';
import { derive } from '../../../shared/combustion/figures/derive.ts';
import { fuels } from '../../../shared/combustion/fuel.ts';
import { coAtReferenceO2Ppm, coMgPerKwh } from './second-opinions.ts';

describe('CO on its scales', () => {
  it('85 ppm at O2 6.2 %: 120.85 ppm air-free, 103.50 ppm at 3 % (definition, 20.9)', () => {
    expect(coAirFreePpm(85, 6.2)).toBeCloseTo(120.85, 2);
    expect(coAtReferenceO2Ppm(85, 6.2, 3)).toBeCloseTo(103.5, 2);
  });

  it.each([
    { id: 'no2', ours: 1.109, en267: 1.11, at3: 1.294 },
    { id: 'natural-gas', ours: 1.076, en267: 1.074, at3: 1.256 },
  ] as const)('$id: 1 ppm air-free is $ours mg/kWh (EN 267: $en267, from memory)', ({ id, ours, en267, at3 }) => {
    expect(mgPerKwhPerPpmAirFree(fuels[id])).toBeCloseTo(ours, 3);
    expect(Math.abs(mgPerKwhPerPpmAirFree(fuels[id]) / en267 - 1)).toBeLessThan(0.003);
    expect(coMgPerKwh(fuels[id], 1, 3)).toBeCloseTo(at3, 3);
  });

  it.each([
    [0, 1173],
    [3, 1005],
  ])('the statutory 1300 mg/kWh for oil burners (1. BImSchV sections 7, 8) are, at O2 %s %%, %s ppm within 1', (o2PercentDry, coPpmDry) => {
    const at = (ppm: number): number => derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry, coPpmDry: ppm }).values.coMgPerKwh ?? NaN;
    expect([at(coPpmDry - 1) < 1300, at(coPpmDry + 1) > 1300]).toEqual([true, true]);
  });

  it.each([
    [100, 0.038],
    [400, 0.153],
    [1000, 0.382],
  ])('%s ppm at O2 5 %% lose %s %% (independent program)', (coPpmDry, loss) => {
    const { values } = derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: 5, coPpmDry, stackC: 200, airC: 20 });
    expect(values.lossCoPercent).toBeCloseTo(loss, 3);
  });

  it('says in `derive` what the functions say', () => {
    const { values } = derive({ timeMs: 0, fuel: fuels.b20, o2PercentDry: 4.4, coPpmDry: 63, stackC: 180, airC: 18 });
    expect(values.coAirFreePpm).toBeCloseTo(coAirFreePpm(63, 4.4), 9);
    expect(values.coAt3PercentO2Ppm).toBeCloseTo(coAtReferenceO2Ppm(63, 4.4, 3), 9);
    expect(values.coMgPerKwh).toBeCloseTo(coMgPerKwh(fuels.b20, 63, 4.4), 9);
  });
});
