// @vitest-environment happy-dom
/** What stands large in the worst case is what the instrument sends now (law 15): never an older value in its place. */
import { cleanup, render } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { VentTrace } from '../../../renderer/views/visit/safety/VentTrace.tsx';
import { judgeWorstCase, usualWorstRule, type TracePoint } from '../../../shared/tuning/safety/venting.ts';

class NoSizes {
  observe(): void {}
  disconnect(): void {}
}
beforeEach(() => void vi.stubGlobal('ResizeObserver', NoSizes));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

function newest(points: readonly TracePoint[], live: boolean): string[] {
  const lines = judgeWorstCase({ off: undefined, on: undefined, rule: usualWorstRule });
  const { container } = render(
    <VentTrace points={points} lines={lines} fromMs={0} onFromMs={undefined} nowMs={60_000} units="metric" live={live} />,
  );
  return [...container.querySelectorAll('.newest')].map((one) => one.textContent ?? '');
}
const before: TracePoint = { timeMs: 50_000, draftPa: -12, o2Percent: 5, roomCoPpm: 40 };

it('shows the newest sample', () => {
  expect(newest([before, { timeMs: 60_000, draftPa: -9, o2Percent: 6, roomCoPpm: 55 }], true)).toEqual(['−9.0', '6.0', '55']);
});

it('shows nothing for what the newest sample does not have', () => {
  expect(newest([before, { timeMs: 60_000, draftPa: -9 }], true)).toEqual(['−9.0']);
});

it('shows nothing once the test is over, or while the instrument says nothing', () => {
  expect(newest([before], false)).toEqual([]);
});
