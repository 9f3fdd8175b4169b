// @vitest-environment happy-dom
/** The first look round: forward, back, and its end, which is kept. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../../renderer/app-parts.ts';
import { createKeys } from '../../../../renderer/keys/key-registry.ts';
import { recordOf } from '../../../../renderer/state/run-record.ts';
import { createAppStore } from '../../../../renderer/state/store.ts';
import { placeBeside } from '../../../../renderer/views/tour/place-beside.ts';
import { Tour } from '../../../../renderer/views/tour/Tour.tsx';
import { Settings } from '../../../../shared/ipc/settings.ts';
import { tour } from '../../../../shared/words/warm-up.ts';
import { infoOf } from '../../helpers/records.ts';

beforeEach(() => void vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

function begin() {
  const store = createAppStore();
  const info = infoOf({ source: { kind: 'simulated', plant: 'training', scale: 'kelvin' } as never });
  store.setState({
    host: { newcomer: true },
    role: 'operator',
    settings: Settings.parse({}),
    runs: { [info.runId]: recordOf(info) },
    runId: info.runId,
  } as never);
  const changeSettings = vi.fn();
  const parts = { store, keys: createKeys(), actions: { changeSettings } } as unknown as AppParts;
  render(
    <AppContext value={parts}>
      <Tour />
    </AppContext>,
  );
  return changeSettings;
}
const button = (name: string): HTMLButtonElement => screen.getByRole('button', { name: new RegExp(`^${name}`) });
const title = (): string | null => screen.getByRole('heading', { level: 2 }).textContent;

it('goes back one step, from all but the first', () => {
  begin();
  expect(button(tour.before).disabled).toBe(true);
  fireEvent.click(button(tour.next));
  expect(title()).toBe(tour.steps[1].title);
  expect(button(tour.before).disabled).toBe(false);
  fireEvent.click(button(tour.before));
  expect(title()).toBe(tour.steps[0].title);
});

it('is over, and is kept as seen, at its last step or as soon as somebody ends it', () => {
  const changeSettings = begin();
  for (let step = 1; step < tour.steps.length; step++) fireEvent.click(button(tour.next));
  expect(changeSettings).not.toHaveBeenCalled();
  fireEvent.click(button(tour.done));
  expect(changeSettings).toHaveBeenCalledWith({ tourSeenWallMs: expect.any(Number) as number });
  cleanup();
  const endedEarly = begin();
  fireEvent.click(button(tour.end));
  expect(endedEarly).toHaveBeenCalledTimes(1);
});

it('is on screen where what it speaks of is scrolled away', () => {
  const card = { width: 400, height: 300 };
  const screen = { width: 640, height: 400 };
  for (const top of [-900, 900]) {
    const place = placeBeside({ left: 20, top, width: 100, height: 60 }, card, screen);
    expect(place.top).toBeGreaterThanOrEqual(0);
    expect(place.top + card.height).toBeLessThanOrEqual(screen.height);
  }
});
