/** Vacuum at the pump: what the line explains, on one pipe and on two. */
import { describe, expect, it } from 'vitest';
import { makeReport } from '../../../../shared/report/make-report.ts';
import { editText } from '../../../../shared/report/edit-words.ts';
import { carryOver } from '../../../../shared/tuning/visit/carry-over.ts';
import { expectedVacuumPa, mostVacuum, OilLine, vacuumSays } from '../../../../shared/tuning/set-up/oil-line.ts';
import { implausible, SetUpSheet } from '../../../../shared/tuning/set-up/set-up-sheet.ts';
import { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { inputOf, smallVisit } from '../../report/small-visit.ts';

/** @source NIST SP 811, Appendix B.8: inch of mercury (conventional) 3386.389 Pa, foot 0.3048 m */
const IN_HG = 3386.389;
const FT = 0.3048;

describe('the vacuum that a line explains', () => {
  it.each([
    // @source NORA Oilheat Technicians Manual p 71: 1 in Hg a foot of lift, 1 for 10 ft of run, 1/2 for a clean filter
    [{ liftM: 8 * FT, runM: 20 * FT, filter: true }, 10.5],
    [{ liftM: 8 * FT, runM: 20 * FT, filter: false }, 10],
    [{ liftM: -3 * FT, runM: 0 }, 0],
    [{ liftM: -3 * FT, runM: 30 * FT }, 3],
  ])('is by the handbook: %j', (line, inHg) => {
    expect((expectedVacuumPa(line) ?? NaN) / IN_HG).toBeCloseTo(inHg, 9);
  });
  it('is not told without lift and run', () => {
    expect(expectedVacuumPa({ liftM: 2 })).toBeUndefined();
    expect(expectedVacuumPa({ runM: 2, filter: true })).toBeUndefined();
    expect(vacuumSays({ liftM: 1 }, 10_000)).toBeUndefined();
    expect(vacuumSays(undefined, 10_000)).toBeUndefined();
  });
  it('less is an air leak, much more a restriction', () => {
    const line = { liftM: 8 * FT, runM: 20 * FT, filter: true };
    expect([3, 8.4, 9, 10.5, 12, 12.6, 20].map((inHg) => vacuumSays(line, inHg * IN_HG))).toEqual([
      'low',
      'low',
      'as-expected',
      'as-expected',
      'as-expected',
      'high',
      'high',
    ]);
  });
});

describe('one pipe and two', () => {
  const sheet = (pipes: 'one' | 'two' | undefined, inHg: number): SetUpSheet =>
    SetUpSheet.parse({ rows: { vacuumPa: { asFound: inHg * IN_HG } }, oilLine: { pipes } });
  it('are not used to the same vacuum (common practice)', () => {
    const unusual = (pipes: 'one' | 'two' | undefined, inHg: number): boolean => implausible(sheet(pipes, inHg), 'asFound').length > 0;
    expect([6, 6.5, 12].map((inHg) => unusual('one', inHg))).toEqual([false, true, true]);
    expect([6, 12, 15, 16].map((inHg) => unusual('two', inHg))).toEqual([false, false, false, true]);
    expect([12, 15, 16].map((inHg) => unusual(undefined, inHg))).toEqual([false, false, true]);
    expect(mostVacuum('one').source).toContain('common practice');
  });
});

describe('an oil line in the visit', () => {
  const oilLine = { pipes: 'two', liftM: 8 * FT, runM: 20 * FT, filter: true } as const;
  const visit = smallVisit({ setUp: SetUpSheet.parse({ rows: { vacuumPa: { asFound: 3 * IN_HG } }, oilLine }) });
  const facts = (units: 'us' | 'metric') =>
    makeReport({ ...inputOf(visit), units }).record.flatMap(({ blocks }) =>
      blocks.flatMap((block) => (block.kind === 'facts' ? block.facts : [])),
    );
  it('is on paper, with what was expected and what the gauge says against it', () => {
    expect(facts('us').find(({ label }) => label === 'Oil line')?.value).toBe('two pipes, lift 8.0\u2009ft, run 20.0\u2009ft, with filter');
    expect(facts('metric').find(({ label }) => label === 'Oil line')?.value).toBe(
      'two pipes, lift 2.4\u2009m, run 6.1\u2009m, with filter',
    );
    expect(facts('us').find(({ label }) => label === 'Vacuum at the pump')?.value).toMatch(/^Expected 10\.5\u2009in Hg .* air leak/);
  });
  it('opens from a visit of before, which has none, and refuses what no line is', () => {
    expect(Visit.safeParse(smallVisit()).data?.setUp.oilLine).toBeUndefined();
    expect(OilLine.safeParse({ liftM: 1e9 }).success).toBe(false);
    expect(OilLine.safeParse({ runM: -1 }).success).toBe(false);
    expect(OilLine.safeParse({ liftM: NaN }).success).toBe(false);
  });
  it('comes along from the last visit, the gauge’s figure does not', () => {
    const { changes } = carryOver(smallVisit(), visit, { nozzle: '', lacks: '' }, 0);
    const setUp = changes.find(({ path }) => path.join('.') === 'setUp')?.after as SetUpSheet | undefined;
    expect(setUp?.oilLine).toEqual(oilLine);
    expect(setUp?.rows.vacuumPa?.asFound).toBeUndefined();
  });
  it('is an edit in words', () => {
    const text = editText({ path: ['setUp', 'oilLine'], before: undefined, after: oilLine }, { visit, units: 'us' });
    expect(text.field).toBe('Oil line');
    expect(text.after).toContain('lift 8.0\u2009ft');
  });
});
