/**
 * Four instruments on four pseudo-terminals through one plan at once, in the open window: every line in its run file, every step reached by each,
 * and the figures on the screen never older than the ear of a person would forgive.
 */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openRecords } from '../../main/store/open.ts';
import type { BenchTest } from '../../shared/bench/bench-test.ts';
import { startAppProcess } from '../helpers/host/app-process.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import { startPty } from '../helpers/ports/pty.ts';
import { practiceTest } from '../shared/bench/run-plan.ts';

export type BenchPortsFigures = {
  instruments: number;
  seconds: number;
  linesSent: number;
  missing: number;
  stepsReached: number;
  stepsWanted: number;
  /** worst age of a last good line that the window showed, looked at twice a second, s */
  worstAgeS: number;
  complaints: string[];
};

const COUNT = 4;
const RATE = 5;

/** Fresh air only: what is tried is four columns at once, not bottles. */
const planFor = (seconds: number) => ({
  format: 1 as const,
  name: 'Fresh air',
  steps: [
    { id: 's1', purpose: 'fresh-air' as const, slot: 'air' as const, holdS: 30 },
    { id: 's2', purpose: 'noise' as const, slot: 'air' as const, holdS: Math.max(30, seconds) },
  ],
});

export async function soakBenchPorts({ seconds }: { seconds: number }): Promise<BenchPortsFigures> {
  const folder = mkdtempSync(join(tmpdir(), 'flueside-bench-ports-'));
  const opened = await openRecords({ folder, wallMs: Date.now() });
  if (!opened.ok) throw new Error(opened.error.code);
  const keep = (kind: string, id: string, body: unknown): void =>
    opened.value.db.run(
      'INSERT INTO document (kind, id, parent_id, changed_ms, revision, search, body) VALUES (?, ?, ?, ?, ?, ?, ?)',
      kind,
      id,
      null,
      0,
      1,
      '',
      JSON.stringify(body),
    );
  for (let i = 1; i <= COUNT; i++) keep('instrument', `i${i}`, { ...practiceTest().instrument, name: `Instrument ${i}`, serial: `${i}` });
  keep('bench-plan', 'p1', planFor(seconds));
  opened.value.db.close();

  const ptys = await Promise.all(Array.from({ length: COUNT }, () => startPty()));
  const app = await startAppProcess({ source: ptys[0]!.path, dataFolder: folder });
  const browser = await launchChromium({ whole: true });
  const complaints: string[] = [];
  try {
    // the number goes last, so that no line can be taken for another's
    for (const [i, pty] of ptys.entries()) {
      await pty.ask(`line O2={~20.9 0.04 2};CO={~${i} 0.8 0};TS=22.0;TA=21.5;N={n}`, 'line');
      await pty.ask(`rate ${RATE}`);
    }
    const page = await browser.newPage({ viewport: { width: 1920, height: 1080 }, reducedMotion: 'reduce' });
    page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
    page.on('console', (message) => {
      if (message.type() === 'error') complaints.push(message.text());
    });
    await page.goto(app.link);
    await page.getByRole('button', { name: /I have read this/ }).click();
    await page.keyboard.press('Control+2');
    await page.getByRole('button', { name: /New test/ }).click();
    for (const pty of ptys.slice(1)) {
      await page.getByRole('button', { name: 'Connect a port' }).click();
      await page.getByLabel('Another port, by name').fill(pty.path);
      await page
        .getByRole('button', { name: /^Connect\b/ })
        .last()
        .click();
      await page.getByRole('heading', { name: 'New test' }).waitFor();
    }
    const which = page.getByRole('combobox', { name: 'Instrument', exact: true });
    await which.nth(COUNT - 1).waitFor();
    for (let i = 0; i < COUNT; i++) await which.nth(i).selectOption({ label: `Instrument ${i + 1}` });
    await page.getByRole('combobox', { name: 'Plan' }).selectOption('Fresh air');
    await page.getByLabel('Where fresh air is taken').fill('yard');
    await page.getByRole('combobox', { name: 'Limits' }).selectOption('none');
    const start = page.getByRole('button', { name: /Start the test/ });
    await page.getByText('Everything is set.').waitFor({ timeout: 60_000 });
    await start.click();
    const result = page.getByRole('button', { name: /Look at the result/ });
    await page.getByText('Put the hose into fresh air, then press Space at that moment.').waitFor();
    await page.keyboard.press('Space');
    let worstAgeS = 0;
    const untilMs = Date.now() + (seconds + 180) * 1000;
    while (Date.now() < untilMs && !(await result.isVisible())) {
      // the source bar shows the age of one run; a silent column says so in words
      if ((await page.getByText('silent', { exact: true }).count()) > 0) complaints.push('a column was silent');
      const text = (await page.locator('.figure.optional b').first().textContent()) ?? '';
      const age = Number(/^([\d.]+)\s*s/.exec(text)?.[1] ?? NaN);
      if (Number.isFinite(age)) worstAgeS = Math.max(worstAgeS, age);
      await page.waitForTimeout(500);
    }
    if (!(await result.isVisible())) complaints.push('the plan did not come to its end');
    const sent: number[] = [];
    for (const pty of ptys) sent.push(Number((await pty.ask('unplug', 'unplugged')).split(' ')[1]));
    await page.waitForTimeout(1500);
    await page.close();
    await app.stop({ keep: true });

    const files = readdirSync(join(folder, 'runs')).map((name) => readFileSync(join(folder, 'runs', name), 'latin1'));
    const numbers = files.map((text) => [...text.matchAll(/;N=(\d+)(?!\d)/g)].map(([, n]) => Number(n)));
    let missing = 0;
    for (const kept of numbers) {
      // from the first line that was heard: before the port was opened there was nobody
      const first = kept[0] ?? 0;
      const last = kept.at(-1) ?? 0;
      missing += last - first + 1 - new Set(kept).size;
    }
    const again = await openRecords({ folder, wallMs: Date.now() });
    if (!again.ok) throw new Error(again.error.code);
    const tests = again.value.db.all("SELECT body FROM document WHERE kind = 'bench-test'") as { body: string }[];
    again.value.db.close();
    const rounds = tests.map(({ body }) => (JSON.parse(body) as BenchTest).rounds[0]);
    return {
      instruments: tests.length,
      seconds,
      linesSent: sent.reduce((sum, n) => sum + n, 0),
      missing,
      stepsReached: rounds.reduce((sum, round) => sum + (round?.steps.filter(({ end }) => end === 'reached').length ?? 0), 0),
      stepsWanted: COUNT * planFor(seconds).steps.length,
      worstAgeS,
      complaints: [...new Set(complaints)],
    };
  } finally {
    await browser.close();
    await app.stop({ keep: true }).catch(() => undefined);
    await Promise.all(ptys.map((pty) => pty.stop()));
    rmSync(folder, { recursive: true, force: true });
  }
}
