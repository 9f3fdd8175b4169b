/**
 * What the app takes of one core while a burner sends one line a second: the host alone, then with the window of the live view open. Processor time as
 * the system counts it, so that other work on the machine does not change it; the browser's over all of its processes (without a graphics card it
 * draws with the processor).
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { startAppProcess } from '../helpers/host/app-process.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import type { SpeedReport } from './speed-report.ts';

const STRETCHES = 3;
const STRETCH_MS = Number(process.env['FLUESIDE_STRETCH_MS'] ?? 30_000);
/** everything has been fetched, learned and compiled by then, and the background thread has ended for want of work */
const SETTLE_MS = 40_000;
const MB = 2 ** 20;

/** The host says what it took when it is asked: seconds of the processor, bytes resident. */
const SAYS_USE =
  'import{isMainThread as m}from"node:worker_threads";m&&process.on("SIGUSR2",()=>{const{user,system}=process.cpuUsage();process.stderr.write(`used ${user+system} ${process.memoryUsage.rss()};\\n`)})';
// the others as `npm start` gives it
const options = `--import data:text/javascript,${encodeURIComponent(SAYS_USE)} --max-semi-space-size=4`;

type Use = { readonly cpuS: number; readonly rssMb: number };
/** The proof that it was live: what the run file got. */
const linesIn = (dataFolder: string): number =>
  readdirSync(join(dataFolder, 'runs'))
    .filter((name) => name.endsWith('.run'))
    .flatMap((name) => readFileSync(join(dataFolder, 'runs', name), 'latin1').split('\n'))
    .filter((line) => line.includes('\tline\t')).length;
const rest = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms));
const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

async function useOfHost(app: Awaited<ReturnType<typeof startAppProcess>>): Promise<Use> {
  const before = app.output().length;
  app.process.kill('SIGUSR2');
  for (;;) {
    const found = /used (\d+) (\d+);/.exec(app.output().slice(before));
    if (found !== null) return { cpuS: Number(found[1]) / 1e6, rssMb: Number(found[2]) / MB };
    await rest(5);
  }
}

/** Seconds of the processor by kind of process. */
async function useOfBrowser(browser: Browser): Promise<Map<string, number>> {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send('SystemInfo.getProcessInfo');
  await session.detach();
  const use = new Map<string, number>();
  for (const { type, cpuTime } of processInfo) use.set(type, (use.get(type) ?? 0) + cpuTime);
  return use;
}

const sumOf = (use: ReadonlyMap<string, number>): number => [...use.values()].reduce((sum, one) => sum + one, 0);
const percent = (seconds: number): number => (seconds / (STRETCH_MS / 1000)) * 100;

export async function speedLive(report: SpeedReport): Promise<void> {
  const [browser, app] = await Promise.all([
    launchChromium({ whole: true }),
    startAppProcess({ source: 'simulated', env: { NODE_OPTIONS: options, MALLOC_TRIM_THRESHOLD_: '131072' } }),
  ]);
  try {
    // a simulated burner begins with the first window
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
    await page.goto(app.link);
    await page.locator('.rows .figure:not(.off)').first().waitFor();
    await rest(SETTLE_MS);
    const linesBefore = linesIn(app.dataFolder);
    const whole: number[] = [];
    let host = await useOfHost(app);
    let window = await useOfBrowser(browser);
    let parts = '';
    for (let stretch = 0; stretch < STRETCHES; stretch++) {
      await rest(STRETCH_MS);
      const [hostAfter, windowAfter] = [await useOfHost(app), await useOfBrowser(browser)];
      const hostShare = percent(hostAfter.cpuS - host.cpuS);
      whole.push(hostShare + percent(sumOf(windowAfter) - sumOf(window)));
      const shares = [...windowAfter].map(([kind, seconds]) => [kind, percent(seconds - (window.get(kind) ?? 0))] as const);
      parts = [['host', hostShare] as const, ...shares.filter(([, share]) => share >= 0.1)]
        .map(([kind, share]) => `${kind} ${share.toFixed(1)}`)
        .join(', ');
      [host, window] = [hostAfter, windowAfter];
    }
    report('live at 1 line a second, host and window', median(whole), '%', `the last of ${STRETCHES} stretches: ${parts}`, STRETCHES);
    report('host memory, resident, while live', host.rssMb, 'MB');

    await page.close();
    await rest(2000);
    host = await useOfHost(app);
    const alone: number[] = [];
    for (let stretch = 0; stretch < STRETCHES; stretch++) {
      await rest(STRETCH_MS);
      const after = await useOfHost(app);
      alone.push(percent(after.cpuS - host.cpuS));
      host = after;
    }
    report(
      'live at 1 line a second, host alone',
      median(alone),
      '%',
      `${linesIn(app.dataFolder) - linesBefore} lines came meanwhile`,
      STRETCHES,
    );
  } finally {
    await browser.close();
    await app.stop();
  }
}
