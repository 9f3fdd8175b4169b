/** What stops a step, and the one button that leads out of it. The sentence and the button say the same. Pure. */
import { flueCoLevel, roomCoLevel } from '../../../shared/tuning/advice/cautions.ts';
import { coAirFreePpm } from '../../../shared/tuning/trial/gas-basis.ts';
import { limitsInForce } from '../../../shared/tuning/advice/limits-in-force.ts';
import { oilOnPaper } from '../../../shared/tuning/trial/oil.ts';
import type { StepId } from '../../../shared/tuning/visit/step-names.ts';
import { figureOf } from '../../../shared/tuning/trial/trial-figures.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { alarmStops, oilStops } from '../../../shared/words/tune/advice.ts';
import { wayOutWords } from '../../../shared/words/tune/way-out.ts';
import { roomUnsafe } from '../../../shared/words/tune/alarms.ts';

export type WayOut = { key: 'room-co' | 'oil' | 'flue-co'; says: string; button: string };

const atTheFlame: ReadonlySet<StepId> = new Set<StepId>(['as-found', 'warm-up', 'air-curve', 'as-left']);

/** @param liveAlarm CO in the flue is at the alarm now, as the alarm band says it */
export function wayOutOf(step: StepId, visit: Visit, liveAlarm: boolean): WayOut | undefined {
  const room = visit.roomCo.at(-1);
  if (room !== undefined && ['stop', 'out'].includes(roomCoLevel(room.ppm)))
    return { key: 'room-co', says: roomUnsafe, button: wayOutWords.roomAgain };
  if (!atTheFlame.has(step)) return undefined;
  if (oilOnPaper(visit).state === 'found') return { key: 'oil', says: oilStops, button: wayOutWords.oilCause };
  // the air curve has its own way out: the next setting, or another one
  if (step !== 'air-curve' && (liveAlarm || newestAlarm(visit)))
    return { key: 'flue-co', says: alarmStops, button: wayOutWords.toAirCurve };
  return undefined;
}

function newestAlarm(visit: Visit): boolean {
  const newest = visit.trials.findLast(({ reading }) => reading !== undefined);
  const [o2, co] = [newest && figureOf(newest, 'o2'), newest && figureOf(newest, 'co')];
  if (!co) return false;
  const limits = limitsInForce(visit);
  return (
    flueCoLevel(
      { airFreePpm: o2 && coAirFreePpm(co.mean, o2.mean), measuredPpm: co.mean, overRange: false },
      { alarmPpm: limits.coAlarmAirFreePpm, noticePpm: limits.coNoticeAirFreePpm },
    ) === 'alarm'
  );
}
