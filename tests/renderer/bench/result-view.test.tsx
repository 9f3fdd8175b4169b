// @vitest-environment happy-dom
/** Every kind of step of the full round shows on the result screen: OIML R 144-2 nos. 1.3, 1.4, 1.10, 1.19 and the noise of the workshop's own. */
import { cleanup, fireEvent, render, screen, within } from '@testing-library/react';
import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { benchScreenOf } from '../../../renderer/views/bench/bench-screen.ts';
import { ResultView } from '../../../renderer/views/bench/result/ResultView.tsx';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { examplePlans } from '../../../shared/bench/plan.ts';
import { runPlan } from '../../shared/bench/run-plan.ts';

let full: BenchTest;
beforeAll(() => {
  full = runPlan('bench-healthy', 7510, examplePlans[1]);
});
afterEach(cleanup);

function show(test: BenchTest): void {
  const store = createAppStore();
  store.setState({ role: 'operator', wire: { phase: 'open' } } as never);
  const parts = {
    store,
    keys: createKeys(),
    client: { on: () => () => undefined, call: () => Promise.resolve({ ok: false }) },
    actions: { ask: () => Promise.resolve(undefined) },
  } as unknown as AppParts;
  const bench = benchScreenOf(parts);
  bench.store.setState(({ lists }) => ({ lists: { ...lists, 'bench-test': [{ id: 't1', revision: 1, changedMs: 0, body: test }] } }));
  render(
    <AppContext value={parts}>
      <ResultView testId="t1" />
    </AppContext>,
  );
}
const text = (): string => document.body.textContent ?? '';

describe('the result of a full round', () => {
  it('has warm-up, scatter of twenty, linearity, drift with its time, cross-effect, and repeats of a response as one row', () => {
    show(full);
    for (const minutes of ['Just after warm-up', '2 min after warm-up', '5 min after warm-up', '15 min after warm-up'])
      expect(screen.getAllByText(minutes).length, minutes).toBe(2);
    expect(screen.getAllByText('Scatter of 20 readings')).toHaveLength(2);
    expect(screen.getAllByText('Linearity, worst point')).toHaveLength(2);
    expect(screen.getAllByText('Cross-effect')).toHaveLength(2);
    expect(text()).toMatch(/Drift, CO 1000, in (\d h )?\d+ min/);
    // air to the high gas is seen twice in the plan, once for O2 and once for CO
    expect(text()).toMatch(/T90, fresh air to CO 1000 × \d+ \(dead time \d+\u00a0s, T10–T90\u00a0\d+\u00a0s, spread\u00a0\d+\u00a0s\)/);
  });

  it('draws the noise of the chosen channel against the averaging time', () => {
    show(full);
    const row = screen.getAllByRole('row').find((one) => /^CO/.test(one.textContent ?? ''));
    if (row !== undefined) fireEvent.click(row);
    const noise = within(screen.getByRole('region', { name: 'noise' }));
    expect(noise.getByRole('img', { name: /Noise of CO against averaging time: best \d+ s/ })).toBeDefined();
    expect(noise.getByText(/Quietest when averaged over|leaves|stood still/)).toBeDefined();
  });

  it('offers nothing to change once it is signed', () => {
    const { watermark: _, ...real } = full;
    show({ ...real, signature: { name: 'B. Tester', wallMs: full.startedWallMs } });
    expect(screen.queryByRole('button', { name: /Adjust and repeat/ })).toBeNull();
    for (const name of [/Repeat a step/, /^Limits/]) expect(screen.getByRole<HTMLButtonElement>('button', { name }).disabled).toBe(true);
    expect(text()).toContain('Signed: nothing can be changed any more.');
  });
});
