import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fieldOf, writtenItem } from '../../../renderer/views/visit/steps/set-up/set-up-fields.ts';
import { setUpItemNames } from '../../../shared/tuning/set-up/set-up-sheet.ts';

const readValue = (
  item: (typeof setUpItemNames)[number],
  text: string,
  units: 'us' | 'metric',
  length: 'mm' | 'inch' = 'mm',
): number | undefined => {
  const read = fieldOf(item, units, length).read(text);
  return read.kind === 'value' ? read.value : undefined;
};

describe('fields of the set-up sheet', () => {
  // 25.4 mm to the inch exactly (international inch, 1959); 6894.757 Pa to the psi, 3.785411784 L to the US gallon: NIST SP 811
  it('takes fractions of an inch, millimetres, psi and gallons per hour', () => {
    expect(readValue('electrodeGapMm', '5/32', 'us', 'inch')).toBeCloseTo(3.96875, 6);
    expect(readValue('electrodeGapMm', '4 mm', 'us', 'inch')).toBeCloseTo(4, 9);
    expect(readValue('electrodeGapMm', '4,5', 'metric')).toBeCloseTo(4.5, 9);
    expect(readValue('pumpPressurePa', '140', 'us')).toBeCloseTo(140 * 6894.757, -1);
    expect(readValue('nozzleFlowLh', '0.85', 'us')).toBeCloseTo(0.85 * 3.785411784, 6);
  });
  it('says what can be typed, and keeps nothing of what it cannot read', () => {
    expect(fieldOf('headSetting', 'us', 'inch').read('abc')).toMatchObject({ kind: 'wrong' });
    expect(fieldOf('electrodeGapMm', 'us', 'inch').read('5/0')).toMatchObject({ kind: 'wrong' });
    expect(fieldOf('pumpPressurePa', 'us', 'inch').read('1.4.0')).toMatchObject({ kind: 'wrong' });
    expect(fieldOf('pumpPressurePa', 'us', 'inch').read(' ')).toEqual({ kind: 'empty' });
  });
  it('writes what it reads, to the last digit that it shows', () => {
    for (const item of setUpItemNames)
      for (const units of ['us', 'metric'] as const)
        fc.assert(
          fc.property(fc.integer({ min: 1, max: 400 }), (typed) => {
            const field = fieldOf(item, units, 'mm');
            const text = String(typed / 10);
            const read = field.read(text);
            if (read.kind !== 'value') throw new Error(`${item} does not read ${text}`);
            const again = field.read(field.write(read.value));
            if (again.kind !== 'value') throw new Error(`${item} does not read what it wrote: ${field.write(read.value)}`);
            // one step of the last digit that the field shows: pressures in whole psi are the coarsest
            expect(Math.abs(again.value - read.value)).toBeLessThanOrEqual(
              Math.max(0.051, 0.006 * Math.abs(read.value), item === 'pumpPressurePa' ? 6895 : 0),
            );
          }),
          { numRuns: 40 },
        );
  });
});

it('a value in words has its unit, or none where there is none', () => {
  expect(writtenItem('electrodeGapMm', 4.5, 'metric', 'mm')).toMatch(/^4\.5\smm$/);
  expect(writtenItem('electrodeGapMm', 25.4 * (5 / 32), 'us', 'inch')).toMatch(/^5\/32\sin$/);
  expect(writtenItem('nozzleAngleDeg', 80, 'us', 'inch')).toBe('80\u2009°');
  expect(writtenItem('headSetting', 3, 'us', 'inch')).toBe('3');
});
