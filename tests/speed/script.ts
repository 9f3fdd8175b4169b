/** What a fresh window fetches before its first figure stands there: script as it is parsed, in kB; and how long that takes from the first byte of the page. */
import type { Page } from 'playwright-core';
import { startAppProcess } from '../helpers/host/app-process.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import type { SpeedReport } from './speed-report.ts';

const ROUNDS = 20;

type Seen = { kB: number; ms: number; files: number };

/** The moment is taken inside the page: what comes a little later must not be counted. */
const firstFigure = (page: Page): Promise<Seen> =>
  page.evaluate(
    () =>
      new Promise<Seen>((resolve) => {
        const look = (): void => {
          if (document.querySelector('.rows .figure:not(.off)') === null) return void requestAnimationFrame(look);
          const scripts = performance
            .getEntriesByType('resource')
            .filter(({ name }) => name.endsWith('.js')) as PerformanceResourceTiming[];
          const bytes = scripts.reduce((sum, { decodedBodySize }) => sum + decodedBodySize, 0);
          resolve({ kB: bytes / 1000, ms: performance.now(), files: scripts.length });
        };
        look();
      }),
  );

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

export async function speedScript(report: SpeedReport): Promise<void> {
  const [browser, app] = await Promise.all([launchChromium({ whole: true }), startAppProcess({ source: 'simulated' })]);
  try {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const page = await context.newPage();
    // as on a first start: nothing is fetched from the browser's own store
    await (await context.newCDPSession(page)).send('Network.setCacheDisabled', { cacheDisabled: true });
    await page.goto(app.link);
    await firstFigure(page);
    const seen: Seen[] = [];
    for (let round = 0; round < ROUNDS; round++) {
      await page.reload();
      seen.push(await firstFigure(page));
    }
    const times = seen.map(({ ms }) => ms);
    report(
      'script loaded before the first figure',
      median(seen.map(({ kB }) => kB)),
      'kB',
      `${seen[0]?.files} files; goal: at most 450`,
      ROUNDS,
    );
    report('page to first figure, run under way', median(times), 'ms', `worst of ${ROUNDS}: ${Math.max(...times).toFixed(0)}`, ROUNDS);
  } finally {
    await browser.close();
    await app.stop();
  }
}
