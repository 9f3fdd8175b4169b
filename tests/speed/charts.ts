import { build } from 'esbuild';
import type { ChartTimes } from './chart-page.ts';
import { launchChromium } from '../helpers/chromium.ts';
import type { SpeedReport } from './speed-report.ts';

/** Script time per frame of the trend with 10 k, 100 k and 1 M points a channel in its history, against uPlot drawing the same points raw, frame by frame in turn. */
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
    const at = new Map<number, ChartTimes>();
    for (const points of [10_000, 100_000, 1_000_000]) {
      const frames = points >= 1_000_000 ? 20 : 60;
      const times = await page.evaluate(
        ([n, f]) => (globalThis as unknown as { measureCharts(points: number, frames: number): ChartTimes }).measureCharts(n, f),
        [points, frames] as [number, number],
      );
      at.set(points, times);
      const label = `${points >= 1e6 ? '1 M' : `${points / 1000} k`} points in history`;
      report(
        `${label}: trend, script per frame`,
        times.ours,
        'ms median',
        `p95 ${times.oursP95.toFixed(1)} ms${times.spikeSeen ? ', one-sample spike kept' : ', SPIKE LOST'}`,
      );
      report(`${label}: worst frame, 95 % of the script`, times.oursP95, 'ms');
      report(`${label}: uPlot, the same points raw`, times.uplot, 'ms median', `p95 ${times.uplotP95.toFixed(1)} ms`);
      report(
        `${label}: trend / uPlot`,
        times.ours / times.uplot,
        'x',
        points === 100_000 ? 'goal at most 1.0' : points === 1_000_000 ? 'goal at most 0.5' : '',
      );
    }
    report('trend at 1 M / at 10 k', (at.get(1_000_000)?.ours ?? 0) / (at.get(10_000)?.ours ?? 1), 'x', 'goal at most 1.5');
  } finally {
    await browser.close();
  }
}
