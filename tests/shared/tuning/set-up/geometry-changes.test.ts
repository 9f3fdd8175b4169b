/** Readings and ignition tests that are older than a part that was moved. */
import { describe, expect, it } from 'vitest';
import { isNewChange, staleBeyond } from '../../../../shared/tuning/set-up/geometry-changes.ts';
import { changesOf } from '../../../../shared/tuning/set-up/geometry-now.ts';
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

describe('what was moved at a visit', () => {
  const row = (asFound: string | undefined, asLeft: string | undefined, leftMs: number | undefined) => ({
    asFound,
    asLeft,
    foundMs: 1,
    leftMs,
  });
  it('is a figure that is another one as left than as found', () => {
    expect(changesOf(moved({ offCentre: row('1', '0', 9) }))).toEqual([{ what: 'head', wallMs: 9 }]);
    expect(changesOf(moved({ offCentre: row('1', '1.0', 9) }))).toEqual([]);
    // half an inch is 12.7 mm: typed another way, nothing was moved
    expect(changesOf(moved({ aheadOfNozzle: row('12.7', '1/2 in', 9) }))).toEqual([]);
  });
  it('is nothing where one of the two was never typed, or cannot be read', () => {
    expect(changesOf(moved({ electrodeGap: row(undefined, '4', 9) }))).toEqual([]);
    expect(changesOf(moved({ electrodeGap: row('3', undefined, 9) }))).toEqual([]);
    expect(changesOf(moved({ electrodeGap: row('3', 'about 4', 9) }))).toEqual([]);
    expect(changesOf(moved({ electrodeGap: row('3', '4', undefined) }))).toEqual([]);
  });
  it('comes oldest first, with what was said to be changed', () => {
    const sheet = moved({ electrodeGap: row('3', '4', 5), offCentre: row('1', '0', 20) }, [{ what: 'nozzle', wallMs: 10 }]);
    expect(changesOf(sheet).map(({ what }) => what)).toEqual(['electrodes', 'nozzle', 'head']);
  });
});
