/** The report step: what the sentence asks for, and what the one main button does. Pure. */
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { isFinished, isWatermarked } from '../../../../shared/tuning/visit/visit-marks.ts';
import { leftOffWords } from '../../../../shared/words/tune/advice.ts';
import { signRefusal } from '../../../../shared/words/visit/refusals.ts';
import { reportScreen as words } from '../../../../shared/words/visit/screens/report.ts';

/** `bypass`: enter that it is removed. `left-off`: enter what was done with a burner that may not run. `name`: who signs. */
export type ReportDeed = { does: 'leave' | 'bypass' | 'close' | 'left-off' | 'name' | 'sign'; says: string; text: string };

/** @param isUnsafe not safe to leave running, and what was done about it is not entered; @param time of a wall clock, in words */
export function reportDeedOf(visit: Visit, isUnsafe: boolean, name: string, time: (wallMs: number) => string): ReportDeed {
  if (isFinished(visit))
    return {
      does: 'leave',
      says:
        visit.signature === undefined
          ? words.closedAt(time(visit.endedWallMs ?? visit.startedWallMs))
          : words.signedBy(visit.signature.name, time(visit.signature.wallMs)),
      text: words.leave,
    };
  const bypass = visit.bypasses.find(({ closedWallMs }) => closedWallMs === undefined);
  if (bypass !== undefined) return { does: 'bypass', says: signRefusal({ key: 'bypass-open', what: bypass.what }), text: words.bypassOut };
  if (isWatermarked(visit)) return { does: 'close', says: words.closeAbout, text: words.close };
  if (isUnsafe) return { does: 'left-off', says: leftOffWords.asks, text: leftOffWords.change };
  if (name.trim() === '') return { does: 'name', says: words.nameFirst, text: words.toName };
  return { does: 'sign', says: words.signAbout, text: words.sign };
}
