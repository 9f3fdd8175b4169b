import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { command } from '../../../main/commands/report.ts';
import { printFlags, printed } from '../../../main/report/print.ts';
import { makeReportFile } from '../../../main/report/make-files.ts';
import { createAppliances } from '../../../main/store/appliances.ts';
import { openRecords } from '../../../main/store/open.ts';
import { createVisits } from '../../../main/store/visits.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';
import { inputOf, smallVisit, START } from '../../shared/report/small-visit.ts';

const pdfBytes = new TextEncoder().encode('%PDF-1.4 rest');
const options = { paper: 'a4', csv: 'comma' } as const;

describe('printing', () => {
  it('hands on what the host’s printer made', async () => {
    const seen: string[] = [];
    const made = await makeReportFile(inputOf(smallVisit()), 'pdf', {
      ...options,
      print: (html) => (seen.push(html), Promise.resolve(pdfBytes)),
    });
    expect(made.ok && made.value).toMatchObject({ fileName: 'flueside-visit-42-2026-11-24.pdf', content: pdfBytes });
    expect(seen[0]).toContain('Burner tune-up');
  });
  it.each([
    ['no printer', undefined, 'no-printer'],
    ['a printer that fails', () => Promise.reject(new Error('gone')), 'print-failed'],
    ['a printer that gives something else', () => Promise.resolve(new Uint8Array([1, 2, 3, 4, 5, 6])), 'print-failed'],
  ])('says so with %s', async (_, print, code) => {
    const result = await printed(print, '<p>');
    expect(result.ok ? '' : result.error.code).toBe(code);
  });
  it('leaves the browser its sandbox except for root', () => {
    const parts = { target: 't', address: 'a', profile: 'p' };
    expect(printFlags({ ...parts, asRoot: false })).not.toContain('--no-sandbox');
    expect(printFlags({ ...parts, asRoot: true })).toContain('--no-sandbox');
  });
});

describe('the report command', () => {
  let folder: string;
  const told: { out: string[]; error: string[] } = { out: [], error: [] };
  const run = (...args: string[]): Promise<number> => {
    told.out = [];
    told.error = [];
    return command.run(args, {
      out: (text) => told.out.push(text),
      error: (text) => told.error.push(text),
      stdin: () => (async function* () {})(),
      clock: createFakeClock(),
      cwd: folder,
      dataFolder: join(folder, 'data'),
    });
  };
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'flueside-report-'));
    const opened = await openRecords({ folder: join(folder, 'data'), wallMs: START });
    if (!opened.ok) throw new Error(opened.error.code);
    const appliances = createAppliances(opened.value.db);
    createVisits(opened.value.db, (id) => appliances.nameOf(id)).adopt(smallVisit(), START);
    opened.value.close();
    vi.stubEnv('FLUESIDE_BROWSER', join(folder, 'no-such-browser'));
  });
  afterEach(() => {
    vi.unstubAllEnvs();
    rmSync(folder, { recursive: true, force: true });
  });

  it('writes the HTML and says so where there is no browser', async () => {
    expect(await run('42', '--out', 'out')).toBe(0);
    expect(readdirSync(join(folder, 'out'))).toEqual(['flueside-visit-42-2026-11-24.html']);
    expect(told.error.join()).toContain('No browser of the Chromium family');
    expect(told.out).toEqual([join(folder, 'out', 'flueside-visit-42-2026-11-24.html')]);
  });
  it('finds a visit by its id, too, and lists what it wrote as JSON', async () => {
    expect(await run('visit-1', '--out', 'out', '--form', 'csv,json', '--json')).toBe(0);
    const answer = JSON.parse(told.out.join('')) as { visit: number; files: { form: string; file: string }[] };
    expect(answer.visit).toBe(42);
    expect(answer.files.map(({ form }) => form)).toEqual(['csv', 'json']);
    expect(answer.files.every(({ file }) => readFileSync(file, 'utf8').length > 100)).toBe(true);
  });
  it.each([
    [['42'], 2],
    [['--out', 'x'], 2],
    [['42', '--out', 'x', '--form', 'doc'], 2],
    [['42', '--out', 'x', '--paper', 'a3'], 2],
    [['99', '--out', 'x'], 1],
  ])('%j ends with %i and one line', async (args, code) => {
    expect(await run(...args)).toBe(code);
    expect(told.error).toHaveLength(1);
    expect(told.out).toEqual([]);
  });
  it('begins no records where there are none', async () => {
    rmSync(join(folder, 'data'), { recursive: true });
    expect(await run('42', '--out', 'out')).toBe(1);
    expect(existsSync(join(folder, 'data'))).toBe(false);
  });
  it('prints the schema', async () => {
    expect(await run('--schema')).toBe(0);
    expect(JSON.parse(told.out.join('')) as object).toHaveProperty('properties.visit');
  });
});
