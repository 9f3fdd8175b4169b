// @vitest-environment happy-dom
/** What is read of the runs before the report is opened: at the steps before it, and again when the run-through takes long. */
import { act, cleanup, renderHook } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { useReadAhead } from '../../../renderer/views/visit/use-read-ahead.ts';
import type { StepId } from '../../../shared/tuning/visit/step-names.ts';
import { newVisit } from '../../../shared/tuning/visit/visit.ts';

afterEach(cleanup);

it('is asked for at as-left and safety, not before, and with each test that is entered', () => {
  const store = createAppStore();
  const visit = newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] });
  store.setState({ visit });
  const asked: unknown[] = [];
  const parts = { store, client: { call: (name: string, input: object) => asked.push({ name, ...input }) } } as unknown as AppParts;
  const { rerender } = renderHook(({ step }: { step: StepId }) => useReadAhead(step), {
    initialProps: { step: 'air-curve' },
    wrapper: ({ children }) => <AppContext value={parts}>{children}</AppContext>,
  });
  expect(asked).toEqual([]);
  rerender({ step: 'as-left' });
  expect(asked).toEqual([{ name: 'report.readAhead', visitId: 'v' }]);
  rerender({ step: 'safety' });
  expect(asked).toHaveLength(1);
  act(() =>
    store.setState({ visit: { ...visit, safety: [{ test: 'covers', wallMs: 1, verdict: 'pass', bypassRemoved: true }] } as never }),
  );
  expect(asked).toHaveLength(2);
  rerender({ step: 'report' });
  expect(asked).toHaveLength(2);
});
