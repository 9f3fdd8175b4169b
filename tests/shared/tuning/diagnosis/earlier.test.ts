import { expect, it } from 'vitest';
import { diagnose } from '../../../../shared/tuning/diagnosis/diagnose.ts';
import { earlierOf } from '../../../../shared/tuning/diagnosis/earlier.ts';
import { newVisit, type Visit } from '../../../../shared/tuning/visit/visit.ts';
import { makeTrial } from '../make-trial.ts';

const begun = newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] });
const left = { ...makeTrial({ id: 'left', o2: 5, stackC: 200, airC: 20 }), draft: { overFirePa: -5, breechPa: -10 } };
const visit: Visit = { ...begun, stages: [{ name: '1', asLeftTrialId: 'left' }], trials: [left] };

it('is what the as-left trial of that stage left', () => {
  expect(earlierOf(visit, '1')).toEqual({ netStackK: 180, draftDropPa: 5 });
  expect(earlierOf(visit, '2')).toBeUndefined();
  expect(earlierOf(begun, '1')).toBeUndefined();
});
it('lets the diagnosis see a stack that is hotter, and a draft drop that has grown, since last time', () => {
  // hotter by 40 K than its own history, and the drop doubled: procedure.md section 5, D6 (own threshold 30 degC) and D15
  const now = { ...makeTrial({ id: 'now', o2: 5, stackC: 240, airC: 20 }), draft: { overFirePa: -4, breechPa: -14 } };
  const hints = (earlier: Visit[]) =>
    diagnose({
      samples: [],
      adjustmentsMs: [],
      trials: [now],
      judgedIds: ['now'],
      earlier: earlier.flatMap((one) => earlierOf(one, '1') ?? []),
    }).map(({ pattern }) => pattern);
  expect(hints([])).toEqual([]);
  expect(hints([visit])).toEqual(expect.arrayContaining(['hot-stack', 'draft-drop-grown']));
});
