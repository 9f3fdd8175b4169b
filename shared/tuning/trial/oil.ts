/** Oil on the smoke paper, from the spot that showed it until the cause is found and a later paper is clean. */
import type { SmokeSpot } from '../../measurement/mark.ts';
import type { Trial } from './trial.ts';
import type { Visit } from '../visit/visit.ts';

export const isCleanPaper = (spots: readonly SmokeSpot[]): boolean =>
  spots.some(({ flaw }) => flaw === undefined) && spots.every(({ oilTrace }) => oilTrace !== true);
const hasOil = ({ smoke }: Trial): boolean => smoke?.oil !== undefined || smoke?.spots.some(({ oilTrace }) => oilTrace === true) === true;
const hasCleanPaper = (trial: Trial): boolean => !hasOil(trial) && isCleanPaper(trial.smoke?.spots ?? []);

export type OilFacts = { trials: readonly Trial[]; oilCauses?: Visit['oilCauses'] };

/** `found`: nothing was done about it yet. `cause-known`: the cause was written down; the next paper decides. */
export function oilOnPaper({ trials, oilCauses = [] }: OilFacts): { state: 'none' | 'found' | 'cause-known'; trialId?: string } {
  // each stage has its own nozzle: a clean paper at one says nothing of the other
  const stages = [...new Set(trials.map(({ setting }) => setting.stage))];
  let known: string | undefined;
  for (const stage of stages) {
    const own = trials.filter((trial) => trial.setting.stage === stage).sort((a, b) => a.takenWallMs - b.takenWallMs);
    const oily = own.findLast(hasOil);
    if (oily === undefined) continue;
    // a cause that was entered before this oil was seen is not its cause
    const seenWallMs = oily.smoke?.oil?.wallMs ?? oily.takenWallMs;
    const cause = oilCauses.find(({ wallMs }) => wallMs >= seenWallMs);
    if (cause === undefined) return { state: 'found', trialId: oily.id };
    const isCleanHere = (oily.smoke?.oil?.cleanWallMs ?? -Infinity) > cause.wallMs;
    if (!isCleanHere && !own.some((trial) => trial.takenWallMs > oily.takenWallMs && hasCleanPaper(trial))) known = oily.id;
  }
  return known === undefined ? { state: 'none' } : { state: 'cause-known', trialId: known };
}
