// @vitest-environment happy-dom
/** The trend follows until a person moves it, and follows again when they say so; the keys move it from where it is. */
import { act, cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../../../renderer/app-parts.ts';
import type { TrendContent } from '../../../../../renderer/charts/trend-content.ts';
import { createKeys } from '../../../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../../../renderer/state/store.ts';
import { LiveTrend } from '../../../../../renderer/views/tune/trend/LiveTrend.tsx';
import { live } from '../../../../../shared/words/tune/live.ts';
import { infoOf } from '../../../helpers/records.ts';

beforeEach(() => {
  vi.stubGlobal('matchMedia', () => ({ matches: false, addEventListener: () => undefined, removeEventListener: () => undefined }));
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

/** without a strip nothing is drawn, for this page has no canvas */
const content = { strips: [], marks: [] } as unknown as TrendContent;

function show(begin?: Parameters<typeof LiveTrend>[0]['begin']) {
  const keys = createKeys();
  const parts = { store: createAppStore(), keys, buffers: { of: () => ({ nowMs: () => 600_000 }) }, frames: {} } as unknown as AppParts;
  render(
    <AppContext value={parts}>
      <LiveTrend info={infoOf()} content={content} summary="O2 5 %" begin={begin} />
    </AppContext>,
  );
  const press = (action: Parameters<typeof keys.keyOf>[0]): void =>
    act(() => void keys.press({ key: keys.keyOf(action), ctrl: false, alt: false, repeat: false, focus: 'other', dialogOpen: false }));
  const follows = (): boolean => screen.queryByRole('button', { name: RegExp(live.trend.follow) }) === null;
  return { press, follows };
}

it.each(['panLeft', 'panRight'] as const)('follows at first; moved by %s it stands, until it is told to follow', (action) => {
  const { press, follows } = show();
  expect(follows()).toBe(true);
  press(action);
  expect(follows()).toBe(false);
  press('follow');
  expect(follows()).toBe(true);
  press(action);
  fireEvent.click(screen.getByRole('button', { name: RegExp(live.trend.follow) }));
  expect(follows()).toBe(true);
});
it('looked at closer or wider while it follows, it follows on', () => {
  const { press, follows } = show();
  press('zoomIn');
  expect(follows()).toBe(true);
  press('zoomOut');
  expect(follows()).toBe(true);
});
it('says what it shows to those who do not see it, and may begin where it is told to', () => {
  const { follows } = show({ kind: 'fixed', fromMs: 0, toMs: 60_000 });
  expect(follows()).toBe(false);
  expect(screen.getByRole('img').getAttribute('aria-label')).toContain('O2 5 %');
});
