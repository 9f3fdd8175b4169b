import { build } from 'esbuild';
import type { ChartPage } from './chart-page.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import type { SpeedReport } from './speed-report.ts';

const FRAMES = 60;

function quantile(values: readonly number[], part: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? 0;
}

/**
 * A frame of the trend with 10 k, 100 k and 1 M points a channel in its history, against uPlot drawing the same points raw, frame by frame in turn:
 * processor time of the page's thread, asking for the frame included.
 */
export async function speedCharts(report: SpeedReport): Promise<void> {
  const bundle = await build({
    entryPoints: ['tests/speed/chart-page.ts'],
    bundle: true,
    write: false,
    format: 'iife',
    target: 'es2022',
    logLevel: 'error',
  });
  const browser = await launchChromium({ whole: true });
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    await page.setContent('<!doctype html><html data-theme="dark"><body></body></html>');
    await page.evaluate(bundle.outputFiles[0]?.text ?? '');
    const session = await page.context().newCDPSession(page);
    await session.send('Performance.enable', { timeDomain: 'threadTicks' });
    /** what the page's own thread took of the processor, ms: other programs do not change it */
    const usedMs = async (): Promise<number> => {
      const { metrics } = await session.send('Performance.getMetrics');
      return (metrics.find(({ name }) => name === 'TaskDuration')?.value ?? NaN) * 1000;
    };
    const frame = async (which: 'ours' | 'uplot'): Promise<number> => {
      const before = await usedMs();
      await page.evaluate((one) => (globalThis as unknown as ChartPage).drawFrame(one), which);
      return (await usedMs()) - before;
    };
    const at = new Map<number, number>();
    // the biggest first: its worst frame is one of a page in which nothing has been compiled yet
    for (const points of [1_000_000, 100_000, 10_000]) {
      await page.evaluate((count) => (globalThis as unknown as ChartPage).prepareCharts(count), points);
      const [ours, uplot]: [number[], number[]] = [[], []];
      for (let round = 0; round < FRAMES; round++) {
        ours.push(await frame('ours'));
        uplot.push(await frame('uplot'));
      }
      const isSpikeSeen = await page.evaluate(() => (globalThis as unknown as ChartPage).endCharts());
      at.set(points, quantile(ours, 0.5));
      const label = `${points >= 1e6 ? '1 M' : `${points / 1000} k`} points in history`;
      report(`${label}: trend, a frame`, quantile(ours, 0.5), 'ms', isSpikeSeen ? 'median; one-sample spike kept' : 'median; SPIKE LOST');
      report(
        `${label}: worst frame (95 %), processor time`,
        quantile(ours, 0.95),
        'ms',
        `the very first ${ours[0]?.toFixed(1)}`,
        ours.length,
      );
      report(`${label}: uPlot, the same points raw`, quantile(uplot, 0.5), 'ms', `95 %: ${quantile(uplot, 0.95).toFixed(1)}`);
      report(
        `${label}: trend / uPlot`,
        quantile(ours, 0.5) / quantile(uplot, 0.5),
        'x',
        points === 100_000 ? 'goal at most 1.0' : points === 1_000_000 ? 'goal at most 0.5' : '',
      );
    }
    report('trend at 1 M / at 10 k', (at.get(1_000_000) ?? 0) / (at.get(10_000) ?? 1), 'x', 'goal at most 1.5');
  } finally {
    await browser.close();
  }
}
