import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { derive } from '../../../shared/combustion/figures/derive.ts';
import { explain, explainOne } from '../../../shared/combustion/figures/explain.ts';
import { fuels } from '../../../shared/combustion/fuel.ts';
import { derivedKeys } from '../../../shared/measurement/derived.ts';
import { expandedFromBudget } from './second-opinions.ts';

const input = { timeMs: 0, fuel: fuels['no2-2000s'], o2PercentDry: 5.3, coPpmDry: 85, stackC: 214, airC: 18, humidityKgPerKg: 0.007 };

describe('how is this computed', () => {
  const explained = explain(input);
  const { values, expanded } = derive(input);

  it('covers every figure, with formula and source', () => {
    expect(explained.map(({ key }) => key)).toEqual([...derivedKeys]);
    for (const { formula, source, label } of explained) for (const text of [formula, source, label]) expect(text.length).toBeGreaterThan(2);
  });

  it('shows the figure that was computed, and a budget that adds up to its uncertainty', () => {
    for (const { key, value, budget, expanded: u } of explained) {
      expect(value, key).toBe(values[key]);
      expect(u, key).toBe(expanded[key]);
      expect(expandedFromBudget(budget), key).toBeCloseTo(expanded[key] ?? NaN, 9);
      if (budget.length > 0)
        expect(
          budget.reduce((sum, { share }) => sum + share, 0),
          key,
        ).toBeCloseTo(1, 9);
      expect(
        [...budget].sort((a, b) => b.u - a.u),
        key,
      ).toEqual(budget);
    }
  });

  // the numbers put in must give the result: the arithmetic that is shown is worked out again
  it.each(derivedKeys.filter((key) => !['waterDewPointC', 'acidDewPointC', 'acidDewPointOkkesC'].includes(key)))(
    '%s: the sum that is shown comes out',
    (key) => {
      const text = explained.find((one) => one.key === key)?.withNumbers ?? '';
      const [left = '', right = ''] = text.split(' = ');
      const sum = left
        .replace(/\((?:CO2|N2|O2|Ar|SO2|CO)\)/g, '')
        .replaceAll('×', '*')
        .replaceAll('[', '(')
        .replaceAll(']', ')');
      expect(sum).toMatch(/^[\d\s.e()*/+-]+$/);
      const worked = Number(runInNewContext(sum));
      expect(Number.parseFloat(right)).toBeCloseTo(values[key] ?? NaN, 2);
      expect(Math.abs(worked - (values[key] ?? NaN))).toBeLessThan(2e-3 * Math.max(1, Math.abs(values[key] ?? 0)));
    },
  );

  it('says in words why a figure is blank', () => {
    const one = explainOne({ ...input, airC: undefined }, 'efficiencyHhvPercent');
    expect(one?.value).toBeUndefined();
    expect(one?.withNumbers).toBeUndefined();
    expect(one?.blank).toBe('no-air-temperature');
    expect(one?.blankText).toMatch(/air temperature/);
    expect(one?.budget).toEqual([]);
  });

  it('names CO2 as the source of uncertainty when CO2 was measured', () => {
    const { budget = [] } = explainOne({ ...input, o2PercentDry: undefined, co2PercentDry: 11.5 }, 'excessAirPercent') ?? {};
    expect(budget.map(({ name }) => name)).toContain('CO2');
    expect(budget.map(({ name }) => name)).not.toContain('O2');
  });
});

describe('how is this computed from the least that is measured', () => {
  // neither CO nor the humidity and pressure of the room: the sums that are shown are with the same figures as those computed
  const least = { timeMs: 0, fuel: fuels.no2, o2PercentDry: 4.5, stackC: 230, airC: 20 };
  const { values } = derive(least);
  const shown = explain(least).filter(({ key, value }) => value !== undefined && !/DewPoint\w*C$/.test(key));

  it('most figures are there, and none of CO', () => {
    expect(shown.length).toBeGreaterThan(10);
    expect(shown.map(({ key }) => key).filter((key) => /^co(AirFree|At|Mg)|lossCo/.test(key))).toEqual([]);
  });

  it.each(shown.map(({ key, withNumbers = '' }) => [key, withNumbers] as const))('%s: the sum that is shown comes out', (key, text) => {
    const [left = '', right = ''] = text.split(' = ');
    const sum = left
      .replace(/\((?:CO2|N2|O2|Ar|SO2|CO)\)/g, '')
      .replaceAll('×', '*')
      .replaceAll('[', '(')
      .replaceAll(']', ')');
    expect(sum).toMatch(/^[\d\s.e()*/+-]+$/);
    const value = values[key] ?? NaN;
    expect(Number.parseFloat(right)).toBeCloseTo(value, 2);
    expect(Math.abs(Number(runInNewContext(sum)) - value)).toBeLessThan(2e-3 * Math.max(1, Math.abs(value)));
  });
});
