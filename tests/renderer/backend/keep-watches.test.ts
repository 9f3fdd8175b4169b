import { beforeEach, describe, expect, it } from 'vitest';
import { keepWatches } from '../../../renderer/backend/keep-watches.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { newVisit, type Visit } from '../../../shared/tuning/visit.ts';

const visit = (id: string): Visit =>
  newVisit({ id, number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'metric', adjusters: [] });

let kept: Map<string, string>;
const storage = {
  getItem: (key: string) => kept.get(key) ?? null,
  setItem: (key: string, value: string) => void kept.set(key, value),
  removeItem: (key: string) => void kept.delete(key),
};
beforeEach(() => {
  kept = new Map();
});

/** A page load: its own clock begins at zero, and `originMs` is the time of day then. */
function load(originMs: number, nowMs = 0) {
  const store = createAppStore();
  keepWatches(store, { storage, originMs, nowMs: () => nowMs });
  return store;
}
const shown = (store: ReturnType<typeof createAppStore>, nowMs: number): number | undefined => {
  const watch = store.getState().watches['lockout-no-ignition'];
  return watch === undefined ? undefined : (watch.seconds ?? (nowMs - watch.startedAt) / 1000);
};

describe('stopwatches over a reload', () => {
  it('go on from the press that started them, and stopped ones keep their time', () => {
    const first = load(1_000_000);
    first.getState().visitShown(visit('a'));
    first.getState().watchChanged('lockout-no-ignition', { startedAt: 20_000, startedRunMs: 700, seconds: undefined });
    first.getState().watchChanged('flame-failure', { startedAt: 5000, startedRunMs: undefined, seconds: 1.3 });

    const next = load(1_032_500, 400); // loaded again 12.5 s after the press
    next.getState().visitShown(undefined); // no visit yet: nothing is thrown away
    next.getState().visitShown(visit('a'));
    expect(shown(next, 0)).toBeCloseTo(12.5, 6);
    expect(shown(next, 2500)).toBeCloseTo(15, 6);
    expect(next.getState().watches['lockout-no-ignition']?.startedRunMs).toBe(700);
    expect(next.getState().watches['flame-failure']?.seconds).toBe(1.3);

    const third = load(1_040_000);
    third.getState().visitShown(visit('a'));
    expect(shown(third, 0)).toBeCloseTo(20, 6);
  });

  it('are not those of another visit, nor what was started over or closed', () => {
    const first = load(0);
    first.getState().visitShown(visit('a'));
    first.getState().watchChanged('lockout-no-ignition', { startedAt: 10, startedRunMs: undefined, seconds: undefined });
    const other = load(1000);
    other.getState().visitShown(visit('b'));
    expect(other.getState().watches).toEqual({});

    first.getState().watchChanged('lockout-no-ignition', undefined);
    const over = load(2000);
    over.getState().visitShown(visit('a'));
    expect(shown(over, 0)).toBeUndefined();

    first.getState().watchChanged('lockout-no-ignition', { startedAt: 10, startedRunMs: undefined, seconds: undefined });
    first.getState().visitShown(undefined); // the visit was closed
    const closed = load(3000);
    closed.getState().visitShown(visit('a'));
    expect(shown(closed, 0)).toBeUndefined();
  });

  it('are given up where the clock was set, or a day has passed, and where what is kept is damaged', () => {
    const first = load(1_000_000);
    first.getState().visitShown(visit('a'));
    first.getState().watchChanged('lockout-no-ignition', { startedAt: 20_000, startedRunMs: undefined, seconds: undefined });
    for (const originMs of [900_000, 1_000_000 + 24 * 3_600_000]) {
      const keep = new Map(kept);
      const next = load(originMs);
      next.getState().visitShown(visit('a'));
      expect(shown(next, 0)).toBeUndefined();
      kept = keep;
    }
    kept = new Map([...kept.keys()].map((key) => [key, '{"visitId":"a","watches":{"lockout-no-ignition":{"startedWallMs":"x"}}}']));
    const damaged = load(1_030_000);
    damaged.getState().visitShown(visit('a'));
    expect(damaged.getState().watches).toEqual({});
  });
});
