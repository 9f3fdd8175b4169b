/** A set-up sheet from before figures cards: its millimetres are lengths, its marks are marks, and both are judged by the maker's figure on it. */
import { expect, it } from 'vitest';
import { geometryNow } from '../../../../shared/tuning/set-up/geometry-now.ts';
import { SetUpSheet } from '../../../../shared/tuning/set-up/set-up-sheet.ts';

const sheet = SetUpSheet.parse({
  lengthUnit: 'inch',
  rows: {
    electrodeGapMm: { asFound: 4, maker: { nominal: 3.5, tolerance: 0.5 } },
    headSetting: { asFound: 3, asLeft: 5, maker: { low: 2, high: 4 } },
  },
});

it('a length says its unit, whatever unit the sheet is typed in now; a position has none', () => {
  const { items } = geometryNow(sheet);
  expect(items.electrodeGap.asFound).toBe('4 mm');
  expect(items.headSetting).toMatchObject({ asFound: '3', asLeft: '5' });
});
it('each is judged by what the maker’s figure on the sheet allows', () => {
  const { items } = geometryNow(sheet);
  expect(items.electrodeGap.verdicts.asFound?.verdict).toBe('pass');
  expect(items.headSetting.verdicts.asFound?.verdict).toBe('pass');
  expect(items.headSetting.verdicts.asLeft?.verdict).toBe('fail');
});
