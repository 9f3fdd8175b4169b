// @vitest-environment happy-dom
/** What is said under the figures computed now: CO2 that the instrument sends beside the one that follows, what makes the efficiency provisional. */
import { cleanup, render } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { DerivedRow } from '../../../renderer/views/tune/rows/DerivedRow.tsx';
import { derive } from '../../../shared/combustion/figures/derive.ts';
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

describe('what makes the efficiency provisional', () => {
  const reason = (states: Record<string, string>): string | null | undefined => {
    const derived = derive({ timeMs: 0, fuel: fuels.no2, o2PercentDry: 5, coPpmDry: 10, stackC: 200, airC: 20 });
    const rows = Object.entries(states).map(([channel, state]) => ({ channel, state })) as unknown as Parameters<
      typeof DerivedRow
    >[0]['rows'];
    render(<DerivedRow derived={derived} rows={rows} units="us" open={() => undefined} />);
    return document.querySelector('[data-derived="efficiencyHhvPercent"] .reason')?.textContent;
  };
  it.each([
    [{ o2: 'drifting', stackTemperature: 'settling', airTemperature: 'settled' }, 'O2 is drifting'],
    [{ o2: 'settled', stackTemperature: 'surging' }, 'stack is surging'],
    [{ o2: 'settling', stackTemperature: 'moving' }, 'stack still moving'],
    [{ o2: 'settling', stackTemperature: 'settled' }, 'O2 still settling'],
    [{ o2: 'settled', co: 'drifting', stackTemperature: 'settled' }, undefined],
  ])('%o: %s', (states, says) => {
    expect(reason(states)).toBe(says);
  });
});
