/** Prepared states, and the screens and dialogs that each of them has. Every screen begins where the one before it ended. */
import { benchStates } from './states/bench.ts';
import { firstStates } from './states/first.ts';
import { geometryStates } from './states/geometry.ts';
import { liveStates } from './states/live.ts';
import type { States } from './states/parts.ts';
import { recordsStates } from './states/records.ts';
import { visitStates } from './states/visit.ts';
import { warmUpStates } from './states/warm-up.ts';
import { workAndAirStates } from './states/work-and-air.ts';

export const states: States = {
  ...firstStates,
  ...liveStates,
  ...visitStates,
  ...workAndAirStates,
  ...geometryStates,
  ...recordsStates,
  ...benchStates,
  ...warmUpStates,
};
