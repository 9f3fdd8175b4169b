// @vitest-environment happy-dom
/** CO2 that the instrument sends, beside the one that follows from O2 and the fuel. */
import { cleanup, render } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { DerivedRow } from '../../../renderer/views/tune/DerivedRow.tsx';
import { derive } from '../../../shared/combustion/derive.ts';
import { fuels } from '../../../shared/combustion/fuel.ts';

afterEach(cleanup);

const show = (co2PercentDry: number | undefined): string => {
  const derived = derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: 5, coPpmDry: 10, stackC: 200, airC: 20, co2PercentDry });
  render(<DerivedRow derived={derived} rows={[]} units="metric" open={() => undefined} />);
  return document.querySelector('[data-derived="co2Percent"]')?.textContent ?? '';
};

// No. 2 oil at 5 % O2 gives 11.8 % CO2: CO2max 15.5 (1 - 5 / 20.946)
it.each([
  [11.7, 'measured 11.7: they agree'],
  [9.8, 'measured 9.8, 2.0 less: check fuel, cells and probe'],
  [13.9, 'measured 13.9, 2.1 more: check fuel, cells and probe'],
])('measured %s %%: %s', (percent, says) => {
  expect(show(percent)).toContain(says);
});
it('nothing is said where none is measured', () => {
  expect(show(undefined)).not.toContain('measured');
});
