import type { Visit } from './visit.ts';

/** Simulated or replayed data: every screen and paper says so, and the visit is never signed. */
export const isWatermarked = (visit: Visit): boolean =>
  visit.kind === 'training' || visit.runs.some((run) => run.source === 'simulated' || run.source === 'replay');

/** Nothing of it changes any more, except by a correction. */
export const isFinished = (visit: Visit): boolean =>
  visit.signature !== undefined || (visit.kind === 'training' && visit.endedWallMs !== undefined);
