/** Runs as they are shown while law 17 looks at the sentence and the button. */
import { newVisit, type Visit } from '../../shared/tuning/visit/visit.ts';
import type { RunRecord } from '../../renderer/state/run-record.ts';
import { readingOf, recordWith, stateOf, type infoOf } from '../renderer/helpers/records.ts';

export const visit = (more: Partial<Visit> = {}): Visit => ({
  ...newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] }),
  ...more,
});
export const settled = [
  stateOf('o2', 'settled'),
  stateOf('co', 'settled', { value: 13 }),
  stateOf('airTemperature', 'settled', { value: 21 }),
];
export const fullReady = recordWith({ states: settled, openReading: readingOf('open', { scope: 'full' }) });
export const inPhase = (phase: ReturnType<typeof infoOf>['phase']): RunRecord => recordWith({ states: settled }, { phase });
