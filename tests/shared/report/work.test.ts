/** Work, defects and draft on paper, and the label. */
import { describe, expect, it } from 'vitest';
import { nextDueOf } from '../../../shared/report/label-facts.ts';
import { makeReport } from '../../../shared/report/make-report.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { inputOf, smallVisit, START } from './small-visit.ts';

const worked: Partial<Visit> = {
  job: 'service',
  work: [{ wallMs: START, kind: 'nozzle', note: '80° solid', part: 'N-0085' }],
  defects: [{ wallMs: START, text: 'Fire valve stiff', weight: 'repair-soon', tag: '0311' }],
  warmUp: { gaugeZeroedWallMs: START, regulator: 'set-and-free' },
  drafts: [{ wallMs: START, overFirePa: -5, when: 'set' }],
  ownerTold: { wallMs: START, whom: 'J. Sample', how: 'in-person' },
  nextDue: '2027-11-30',
};
const textOf = (part: unknown): string => JSON.stringify(part);

describe('what was entered under work done', () => {
  const report = makeReport(inputOf(smallVisit(worked)));
  it('stands in the record, every field of it', () => {
    const record = textOf(report.record);
    for (const text of [
      'Service',
      'Nozzle changed; 80° solid; part N-0085',
      'Repair soon: Fire valve stiff; tag 0311',
      'set, swings free',
      'J. Sample, in person',
    ])
      expect(record).toContain(text);
    expect(record).toMatch(/Draft over the fire, as set/);
  });
  it('stands on the owner’s page: work, defects, next visit', () => {
    const owner = textOf(report.owner);
    expect(owner).toContain('Nozzle changed');
    expect(owner).toContain('Repair soon: Fire valve stiff');
    // tests that passed are no comfort beside it
    expect(owner).not.toContain('made and passed');
    expect(owner).toContain('2027');
  });
  it('adds nothing to a visit that has none of it', () => {
    expect(makeReport(inputOf(smallVisit())).record.map(({ title }) => title)).not.toContain('Job, draft before the air, work and defects');
  });
  it('says not safe first when a defect is', () => {
    const visit = smallVisit({ defects: [{ wallMs: START, text: 'Cracked exchanger', weight: 'not-safe' }] });
    expect(textOf(makeReport(inputOf(visit)).first)).toContain('defect left: Cracked exchanger');
  });
});

describe('the label', () => {
  const nozzle: Partial<Visit> = {
    setUp: {
      lengthUnit: 'inch',
      rows: { nozzleFlowLh: { asFound: 3.2176 }, pumpPressurePa: { asFound: 965_266 }, nozzleAngleDeg: { asFound: 80 } },
    },
  };
  const rowsOf = (more: Partial<Visit>, units: 'us' | 'metric' = 'us') =>
    makeReport({ ...inputOf(smallVisit({ ...worked, ...nozzle, ...more })), units }).label;
  it('has nozzle, pressure, adjusters, O2 and CO2, CO, smoke, stack and drafts, in the units asked for', () => {
    const { rows } = rowsOf({});
    expect(rows.map(({ name }) => name)).toEqual([
      'Nozzle',
      'Oil pressure',
      'Shutter',
      'O2, dry',
      'CO2, computed',
      'CO, air-free',
      'Smoke number',
      'Stack, net',
      'Draft over the fire',
      'Draft at the breech',
    ]);
    // 3.2176 L/h is 0.85 gph, 965 266 Pa is 140 psi
    expect(rows[0]?.value).toMatch(/^0\.85\sgph 80°$/);
    expect(rows[1]).toMatchObject({ value: '140', unit: 'psi' });
    expect(rowsOf({}, 'metric').rows[0]?.value).toMatch(/^3\.22\sL\/h/);
  });
  it('names the next visit that was set on this one before the one in the papers', () => {
    expect(rowsOf({}).due.text).toBe('30 November 2027');
    expect(nextDueOf(smallVisit(), { nextDue: '2028-01-01' })).toBe('2028-01-01');
  });
  it('names no day that was due until this visit as the next one', () => {
    // the visit is on 24 November 2026
    expect(nextDueOf(smallVisit(), { nextDue: '2026-11-24' })).toBeUndefined();
    for (const [nextDue, day] of [
      ['2026-10-01', '1 October 2026'],
      ['2025-11-24', '24 November 2025'],
    ] as const) {
      const report = makeReport({ ...inputOf(smallVisit()), appliance: { format: 1, name: 'cellar', kind: 'boiler-water', nextDue } });
      for (const part of [report.owner, report.label, report.record]) expect(textOf(part)).not.toContain(day);
    }
    expect(nextDueOf(smallVisit(), { nextDue: '2026-11-25' })).toBe('2026-11-25');
  });
  it('shows each stage of a burner with two', () => {
    const { stages } = smallVisit();
    const two = [
      { ...stages[0]!, name: '1' },
      { ...stages[0]!, name: '2' },
    ];
    const value = (name: string): string | undefined => rowsOf({ stages: two }).rows.find((row) => row.name === name)?.value;
    expect(value('At stage')).toBe('1 / 2');
    const one = rowsOf({}).rows.find(({ name }) => name === 'O2, dry')?.value;
    expect(value('O2, dry')).toBe(`${one} / ${one}`);
  });
  it('of a burner that is not safe to leave running says so before any figure', () => {
    const defects: Visit['defects'] = [{ wallMs: START, text: 'Cracked exchanger', weight: 'not-safe' }];
    expect(rowsOf({ defects }).warning).toBe('Not safe to leave running. Do not run it.');
    expect(rowsOf({ defects: [] }).warning).toBeUndefined();
  });
});
