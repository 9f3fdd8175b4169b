/** What was marked on the burner after a trial was read: a mark without a reading makes no trial, but it says where the burner stands. */
import type { Setting } from '../../measurement/mark.ts';
import type { Trial } from '../trial/trial.ts';
import { sameSetting } from '../trial/trials.ts';
import type { BurnerMove, Visit } from './visit.ts';

export const movesIn = ({ runs }: Pick<Visit, 'runs'>): BurnerMove[] =>
  runs.flatMap(({ moves }) => moves ?? []).sort((a, b) => a.wallMs - b.wallMs);

/** Where the runs before this one left the adjusters; undefined when nothing was marked in any of them. */
export const settingLeftBefore = (visit: Pick<Visit, 'runs'>, run: { runId: string; startWallMs: number }): Setting | undefined =>
  movesIn({ runs: visit.runs.filter(({ id }) => id !== run.runId) }).findLast(
    ({ setting, wallMs }) => setting !== undefined && wallMs <= run.startWallMs,
  )?.setting;

/** Beyond what reading a gauge twice gives; the same share as in staleness.ts. */
const PRESSURE_MOVED_SHARE = 0.03;

/** The adjusters of its stage, or the pump, were marked elsewhere after this trial, and no mark put them back. */
export function isMovedSince(trial: Trial, visit: Pick<Visit, 'runs'>): boolean {
  const since = movesIn(visit).filter(({ wallMs }) => wallMs > trial.takenWallMs);
  const setting = since.findLast((move) => move.setting?.stage === trial.setting.stage)?.setting;
  if (setting !== undefined && !sameSetting(setting, trial.setting)) return true;
  const pumpPa = since.findLast((move) => move.pumpPa !== undefined)?.pumpPa;
  return trial.pumpPa !== undefined && pumpPa !== undefined && Math.abs(pumpPa - trial.pumpPa) > PRESSURE_MOVED_SHARE * trial.pumpPa;
}

/** An adjuster was moved before this trial: what was marked until then, and as found, does not agree. One mark alone may only say where it stands. */
export function isMovedBefore(trial: Trial, visit: Pick<Visit, 'runs' | 'settingFound'>): boolean {
  const marked = movesIn(visit).flatMap(({ setting, wallMs }) => (setting !== undefined && wallMs <= trial.takenWallMs ? [setting] : []));
  const known = [visit.settingFound, ...marked].filter((setting) => setting?.stage === trial.setting.stage);
  const positions = known.flatMap((setting) => setting?.positions ?? []);
  return positions.some(({ name, value }) => positions.some((other) => other.name === name && other.value !== value));
}
