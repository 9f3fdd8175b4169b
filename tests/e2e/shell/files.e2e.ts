/** What leaves the desktop app: PDF, CSV and a picture, each through the system's own save dialog into the folder it proposes.
 * No cheaper test shows: the file on the disk that a press in the window leaves. */
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import type { WarmUpCurve } from '../../../shared/warm-up/curve.ts';
import { warmUp } from '../../../shared/words/warm-up.ts';
import { fullVisit } from '../../helpers/visits/full-visit.ts';
import { keepVisit } from '../../helpers/visits/kept-visit.ts';
import { call } from './page-calls.ts';
import type { Shell } from './shell.ts';
import { endShells, startShell } from './start.ts';

const hasPdfTools = spawnSync('pdftotext', ['-v']).status === 0;
let shell: Shell;
let page: Page;
let folder = '';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-files-'));
  await keepVisit(folder, fullVisit({ source: 'port' }), { sign: true });
  shell = await startShell({ dataFolder: folder, args: ['--source', 'none'] });
  page = await shell.page();
}, 120_000);
afterAll(async () => {
  await shell?.clear();
  await endShells();
  rmSync(folder, { recursive: true, force: true });
});

/** The file where the save dialog proposed it, once it is whole. */
async function saved(fileName: string): Promise<Buffer> {
  const path = join(shell.documents, 'Flueside', fileName);
  await vi.waitUntil(() => existsSync(path) && statSync(path).size > 0, { timeout: 30_000, interval: 100 });
  return readFileSync(path);
}
const follow = (link: { token: string; fileName: string }) =>
  page.evaluate(({ token, fileName }) => {
    const anchor = document.createElement('a');
    anchor.href = `./download/${token}`;
    anchor.download = fileName;
    anchor.click();
  }, link);

it.each(['pdf', 'csv'] as const)(
  'the report of a real visit as %s',
  async (form) => {
    const listed = await call<{ visits: { id: string }[] }>(page, 'visit.list', {});
    const visitId = listed.visits[0]?.id ?? expect.fail('no visit');
    const made = await call<{ download: string; fileName: string }>(page, 'report.make', { visitId, paper: 'a4', form });
    await follow({ token: made.download, fileName: made.fileName });
    await shell.pressSave();
    const content = await saved(made.fileName);
    if (form === 'csv') return expect(content.toString()).toContain('O2');
    expect(content.subarray(0, 5).toString()).toBe('%PDF-');
    if (!hasPdfTools) return;
    const text = execFileSync('pdftotext', ['-layout', join(shell.documents, 'Flueside', made.fileName), '-'], { encoding: 'utf8' });
    expect(text).toContain('Burner tune-up');
  },
  120_000,
);

it('a picture of warm-up curves: made in the window, and no download from a data address', async () => {
  const curve: WarmUpCurve = {
    format: 1,
    name: 'Boiler one',
    runId: 'r',
    capturedWallMs: 0,
    source: 'port',
    startState: 'cold',
    tags: [],
    lightOffMs: 0,
    channels: { stackTemperature: { seconds: [0, 60, 120, 180, 240], values: [20, 120, 180, 205, 215] } },
  };
  await call(page, 'document.save', { kind: 'curve', body: curve });
  await page.getByRole('button', { name: 'Warm-up', exact: true }).click();
  await page
    .getByRole('button', { name: new RegExp(`^${warmUp.add}`) })
    .first()
    .click();
  await page.getByRole('dialog').getByText('Boiler one', { exact: true }).first().click();
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: warmUp.exportPicture }).click();
  await shell.pressSave();
  const picture = await saved('warm-up-curves.png');
  // PNG signature (PNG specification, 5.2)
  expect([...picture.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  expect(picture.length).toBeGreaterThan(2000);
}, 60_000);
