import { beforeAll, describe, expect, it } from 'vitest';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { certificateCsv, certificateJson } from '../../../shared/report/bench-certificate-data.ts';
import { certificateHtml } from '../../../shared/report/bench-certificate-html.ts';
import { certificateOf } from '../../../shared/report/bench-certificate.ts';
import { runPlan } from './run-plan.ts';

const fonts = { sans: undefined, mono: undefined };
let test: BenchTest;
const input = (changes: Partial<BenchTest> = {}) => ({ test: { ...test, ...changes }, hash: 'ab'.repeat(32), software: 'Flueside 0.1.0' });

beforeAll(() => {
  test = runPlan('low-span', 7400);
});

/** Which facts a certificate of a bench carries: OIML R 144-3 (identification, tests, conclusion, persons); decision rule: ISO/IEC 17025 no. 7.1.3. */
describe('the certificate', () => {
  it('names instrument, cells with ages, bottles with certified value and U, room, rule and hash', () => {
    const { facts, gases, foot, hash, side } = certificateOf(input());
    const value = (label: string) => facts.find((fact) => fact.label === label)?.value;
    expect(value('Serial number')).toBe('0147');
    expect(value('Cells')).toContain('O2 cell 24 months');
    expect(value('Cells')).toContain('CO cell 9 months');
    expect(value('Bench')).toBe('not stated');
    expect(gases.find(({ gas }) => gas === 'CO 1000')?.value).toContain('CO 1\u2009000 ±10\u2009ppm');
    expect(foot[0]).toContain('simple acceptance');
    expect(side[1]).toBe('UTC+1');
    expect(hash).toHaveLength(64);
  });
  it('says as found is as left when nothing was adjusted, and what was adjusted otherwise', () => {
    expect(certificateOf(input()).adjustment).toContain('No adjustment');
    const left = certificateOf(input({ adjustment: 'CO span', rounds: [...test.rounds, { kind: 'as-left', startedMs: 0, steps: [] }] }));
    expect(left.adjustment).toBe('Adjusted: CO span');
    expect(left.rounds.map(({ title }) => title)).toEqual(['As found', 'As left']);
  });
  it('lists steps that were not reached with their reason', () => {
    const found = test.rounds[0]!;
    const steps = found.steps.map((step, i) =>
      i === 1 ? { stepId: step.stepId, end: 'left-out' as const, why: 'bottle empty', atMs: 0 } : step,
    );
    const { rounds } = certificateOf(input({ rounds: [{ ...found, steps }] }));
    expect(rounds[0]?.deviations).toEqual(['2, zero, Zero gas: left out. bottle empty']);
  });
  it('says with which reason an expired bottle was used', () => {
    const gases = test.gases.map((use) =>
      use.slot === 'low' ? { ...use, gas: { ...use.gas, expires: '2025-01-31' }, reason: 'new one is ordered' } : use,
    );
    const certificate = certificateOf(input({ gases }));
    expect(certificate.gases.find(({ gas }) => gas === 'CO 100')?.note).toBe('Used although expired: new one is ordered');
  });
  it('is no certificate when it was practice', () => {
    expect(certificateOf(input()).tape).toBeDefined();
    expect(certificateOf(input()).signature.state).toContain('for practice');
    const real = structuredClone(test);
    delete real.watermark;
    const certificate = certificateOf({ ...input(), test: { ...real, signature: { name: 'B. Tester', wallMs: test.startedWallMs } } });
    expect(certificate.tape).toBeUndefined();
    expect(certificate.signature.state).toBe('Signed by B. Tester, 24 Nov 2026 10:00');
  });
});

describe('its files', () => {
  it('the page shows text that looks like markup as text, and loads nothing', () => {
    const html = certificateHtml(
      certificateOf(input({ person: '<img src=x onerror=1>', instrument: { ...test.instrument, name: '<b>Z</b>' } })),
      { paper: 'a4', fonts },
    );
    expect(html).not.toContain('<img');
    expect(html).not.toContain('<b>Z</b>');
    expect(html).not.toMatch(/<script|https?:\/\//);
  });
  it('CSV: one row per gas and channel, formulas defused, simulated said first', () => {
    const csv = certificateCsv(input({ instrument: { ...test.instrument, name: '=1+1' } }));
    const lines = csv.trimEnd().split('\r\n');
    expect(lines[0]).toContain('Simulated');
    expect(lines[1]).toContain("'=1+1");
    expect(lines.filter((line) => line.startsWith('as-found,'))).toHaveLength(8);
    const fields = lines.find((line) => line.startsWith('as-found,co,ppm,CO 1000'))!.split(',');
    expect(Number(fields[5]) - Number(fields[4])).toBeCloseTo(Number(fields[6]), 6);
    expect(fields[9]).toBe('fail');
  });
  it('JSON reads back with the whole test in it', () => {
    const read = JSON.parse(certificateJson(input())) as { simulated: string; test: BenchTest };
    expect(read.simulated).toContain('practice');
    expect(read.test).toEqual(test);
  });
});
