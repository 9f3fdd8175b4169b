import { beforeAll, describe, expect, it } from 'vitest';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { certificateCsv, certificateJson } from '../../../shared/report/certificate/bench-certificate-data.ts';
import { certificateHtml } from '../../../shared/report/certificate/bench-certificate-html.tsx';
import { certificateOf } from '../../../shared/report/certificate/bench-certificate.ts';
import { roundResult, verdictsOf } from '../../../shared/bench/results/test-result.ts';
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
    expect(side).toHaveLength(1);
    expect(side[0]).toMatch(/ UTC\+1$/);
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

/** Read as a spreadsheet would: fields by name, and how many each line has. */
function tableOf(csv: string): { rows: Record<string, string>[]; widths: number[] } {
  const cut = csv
    .trimEnd()
    .split('\r\n')
    .map((line) =>
      [...line.matchAll(/(?:^|,)("(?:[^"]|"")*"|[^,]*)/g)].map(([, field]) => (field ?? '').replace(/^"|"$/g, '').replaceAll('""', '"')),
    );
  const head = cut.find(([first]) => first === 'round') ?? [];
  const rows = cut.slice(cut.indexOf(head) + 1).map((fields) => Object.fromEntries(head.map((name, i) => [name, fields[i] ?? ''])));
  return { rows, widths: cut.map(({ length }) => length) };
}

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
    const table = tableOf(csv);
    expect(table.rows.filter(({ result }) => result === 'error')).toHaveLength(8);
    const row = table.rows.find(({ channel, gas, result }) => channel === 'co' && gas === 'CO 1000' && result === 'error')!;
    expect(row['unit']).toBe('ppm');
    expect(Number(row['reading [unit]']) - Number(row['reference [unit]'])).toBeCloseTo(Number(row['error [unit]']), 6);
    expect(row['decision']).toBe('fail');
    expect(row['decision rule']).toBe('simple acceptance');
  });
  it('CSV: everything that the page judges, figure by figure, with its unit; as many fields in every line (RFC 4180 section 2)', () => {
    const csv = certificateCsv(input());
    const { rows, widths } = tableOf(csv);
    expect(new Set(widths).size).toBe(1);
    const { evaluation, noise } = roundResult(test, test.rounds[0]!);
    for (const { channel, linearity, repeatability, drifts, responses } of evaluation.channels) {
      const own = (result: string) => rows.filter((row) => row['channel'] === channel && row['result'] === result);
      expect(own('response time')).toHaveLength(responses.length);
      responses.forEach((response, i) => {
        const row = own('response time')[i]!;
        expect(row['unit']).toBe('s');
        expect(Number(row['T90 [s]'])).toBeCloseTo(response.t90S, 6);
        expect(Number(row['dead time [s]'])).toBeCloseTo(response.deadS, 6);
        expect(Number(row['T10 to T90 [s]'])).toBeCloseTo(response.riseS, 6);
        expect(Number(row['expanded uncertainty k=2 [unit]'])).toBeCloseTo(response.expandedS, 6);
        expect(row['gas before']).not.toBe('');
      });
      expect(own('drift')).toHaveLength(drifts.length);
      expect(own('linearity, worst point').map((row) => Number(row['value [unit]']).toFixed(6))).toEqual(
        linearity === undefined ? [] : [linearity.worstPercentOfSpan.toFixed(6)],
      );
      expect(own('repeatability').map((row) => Number(row['value [unit]']).toFixed(6))).toEqual(
        repeatability === undefined ? [] : [repeatability.value.toFixed(6)],
      );
    }
    expect(evaluation.channels.flatMap(({ responses }) => responses).length).toBeGreaterThan(0);
    expect(rows.filter(({ result }) => result === 'quietest noise')).toHaveLength(noise.filter(({ best }) => best !== undefined).length);
    // nothing that was judged is missing
    const judgedRows = rows.filter(({ result }) => result !== 'error' && result !== 'quietest noise');
    expect(judgedRows).toHaveLength(evaluation.channels.reduce((sum, one) => sum + verdictsOf(one).length - one.errors.length, 0));
  });
  it('JSON reads back with the whole test in it', () => {
    const read = JSON.parse(certificateJson(input())) as { simulated: string; test: BenchTest };
    expect(read.simulated).toContain('practice');
    expect(read.test).toEqual(test);
  });
});

it('the name of a column of figures stands over its figures, right like them; words stand left under theirs', () => {
  const html = certificateHtml(certificateOf(input()), { paper: 'a4', fonts });
  const tables = [...html.matchAll(/<table>(.*?)<\/table>/gs)]
    .map(([, inside]) => inside ?? '')
    .filter((inside) => inside.includes('<thead>'));
  expect(tables.length).toBeGreaterThan(1);
  const cells = (row: string): { name: string; right: boolean }[] =>
    [...row.matchAll(/<t[hd]([^>]*?)(?:\/>|>(.*?)<\/t[hd]>)/gs)].map(([, how, name]) => ({
      name: name ?? '',
      right: /class="r\b/.test(how ?? ''),
    }));
  let figures = 0;
  for (const table of tables) {
    const [head, ...rows] = [...table.matchAll(/<tr>(.*?)<\/tr>/gs)].map(([, row]) => cells(row ?? ''));
    for (const row of rows) {
      expect(row).toHaveLength(head!.length);
      for (const [at, { right }] of row.entries()) if (head![at]!.name !== '') expect(right, head![at]!.name).toBe(head![at]!.right);
      figures += row.filter(({ right }) => right).length;
    }
  }
  expect(figures).toBeGreaterThan(10);
});

it('has the day of its place in its title and file name, as on its pages', () => {
  // 25 Nov 02:00 UTC is 24 Nov 21:00 in the zone of the bench
  const { documentTitle, fileStem, side } = certificateOf(input({ startedWallMs: Date.UTC(2026, 10, 25, 2), zoneMinutes: -300 }));
  expect(side[0]).toContain('24 Nov 2026');
  expect(documentTitle).toContain('2026-11-24');
  expect(fileStem).toContain('2026-11-24');
});
