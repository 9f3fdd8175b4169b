import { describe, expect, it } from 'vitest';
import { correctionFields } from '../../../../renderer/views/records/visit/correction-fields.ts';
import { editVisit, withCorrections, type Visit } from '../../../../shared/tuning/visit/visit.ts';
import { START_WALL_MS, fullVisit } from '../../../helpers/visits/full-visit.ts';
import { signVisit } from '../../../../shared/tuning/visit/sign-visit.ts';

const { visit } = fullVisit({ source: 'port' });
const signing = signVisit(visit, { name: 'A. Sample', wallMs: START_WALL_MS, hash: 'abc' });
if (!signing.ok) throw new Error('not signed');
const signed: Visit = signing.value;

describe('what may be put right after signing', () => {
  it.each(['metric', 'us'] as const)('every field reads back what it shows, to its last digit, in %s units', (units) => {
    const fields = correctionFields(signed, units, 0).filter(({ shown }) => shown !== '');
    expect(fields.length).toBeGreaterThan(30);
    for (const { key, shown, read, path } of fields) {
      const back = read(shown);
      expect(back.kind, key).toBe('value');
      if (back.kind !== 'value') continue;
      const done = editVisit(signed, { wallMs: 1, by: 'A. Sample', path, after: back.value as never, reason: 'read again' });
      if (!done.ok) throw new Error(`${key}: ${done.error.detail}`);
      const again = correctionFields(withCorrections(done.value), units, 0).find((one) => one.key === key);
      expect(again?.shown, key).toBe(shown);
    }
  });

  it('leaves the signed body alone, and reads through the correction', () => {
    const field = correctionFields(signed, 'metric', 0).find(({ label }) => label === 'Electrode gap, as left');
    const read = field?.read('3.7');
    if (field === undefined || read?.kind !== 'value') throw new Error('no such field');
    const done = editVisit(signed, { wallMs: 1, by: 'A. Sample', path: field.path, after: read.value as never, reason: 'wrong line' });
    if (!done.ok) throw new Error(done.error.detail);
    expect(done.value.setUp).toEqual(signed.setUp);
    expect(withCorrections(done.value).setUp.rows.electrodeGapMm?.asLeft).toBeCloseTo(3.7, 9);
  });

  it('has a name of its own for every field', () => {
    const labels = correctionFields(signed, 'us', 0).map(({ label }) => label);
    expect(labels.filter((label) => label === '' || /[{}[\]]|[a-z][A-Z]/.test(label))).toEqual([]);
  });
});
