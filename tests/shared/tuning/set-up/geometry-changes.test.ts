/** Readings and ignition tests that are older than a part that was moved. */
import { describe, expect, it } from 'vitest';
import { isNewChange, staleBeyond } from '../../../../shared/tuning/set-up/geometry-changes.ts';
import { SetUpSheet } from '../../../../shared/tuning/set-up/set-up-sheet.ts';
import { smallVisit } from '../../report/small-visit.ts';

const visit = smallVisit();
const last = Math.max(...visit.trials.map(({ takenWallMs }) => takenWallMs));
const moved = (rows: object, changed: object[] = []) => SetUpSheet.parse({ lengthUnit: 'mm', rows: {}, geometry: { rows, changed } });
const test = (wallMs: number) => [{ test: 'lockout-no-ignition', result: 'pass' as const, wallMs }];
const set = (item: string, leftMs: number) => ({ [item]: { asFound: '10', asLeft: '11', foundMs: 1, leftMs } });

describe('what a moved part puts in doubt', () => {
  it('are ignition tests, where the electrodes were moved after them, and no readings', () => {
    const after = { ...visit, safety: test(last), setUp: moved(set('heightAboveCentreline', last + 1)) };
    expect(staleBeyond(after)).toEqual([{ what: 'ignitionTests', because: 'electrodes' }]);
    expect(staleBeyond({ ...after, safety: test(last + 2) })).toEqual([]);
    expect(staleBeyond({ ...after, safety: [] })).toEqual([]);
  });
  it('are readings and tests, where the nozzle is another one; readings, where the zero was moved', () => {
    expect(staleBeyond({ ...visit, safety: test(last), setUp: moved({}, [{ what: 'nozzle', wallMs: last + 1 }]) })).toEqual([
      { what: 'readings', because: 'nozzle' },
      { what: 'ignitionTests', because: 'nozzle' },
    ]);
    expect(staleBeyond({ ...visit, safety: test(last), setUp: moved(set('headToTubeEnd', last + 1)) })).toEqual([
      { what: 'readings', because: 'zero' },
    ]);
  });
  it('are written down again when the part is moved again after new readings', () => {
    const change = (wallMs: number) => ({ wallMs, kind: 'head' as const, note: 'Head setting' });
    expect(isNewChange({ ...visit, changes: [] }, 'head', 'Head setting')).toBe(true);
    expect(isNewChange({ ...visit, changes: [change(last + 1)] }, 'head', 'Head setting')).toBe(false);
    expect(isNewChange({ ...visit, changes: [change(last - 1)] }, 'head', 'Head setting')).toBe(true);
    expect(isNewChange({ ...visit, trials: [], changes: [] }, 'head', 'Head setting')).toBe(false);
  });
});
