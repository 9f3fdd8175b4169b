import type { Settling, SettlingUpdate } from '../settling/detector.ts';

const nothing: SettlingUpdate = { changed: [], readings: [] };

/** For those who want samples, marks and gaps only: judging whether something has settled is by far the longest part of reading a run. */
export const noSettling: Settling = {
  push: () => nothing,
  mark: () => nothing,
  gap: () => nothing,
  typeAir: () => undefined,
  tick: () => nothing,
  states: () => [],
  openReading: () => undefined,
  deadTimeS: () => undefined,
  knowledge: () => undefined,
  takeByHand: () => undefined,
};
