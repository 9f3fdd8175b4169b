import { build } from 'esbuild';
import { launchChromium } from '../helpers/browser/chromium.ts';
import type { OverlayResult } from './overlay-page.ts';
import type { SpeedReport } from './speed-report.ts';

const FRAMES = 240;

/**
 * Twenty warm-up curves of 30 min at 10 lines a second: pan and zoom, as the library keeps them and with every point, against uPlot with every point,
 * same size, widths and dashes. Frames are those of the browser; it shows at most 60 a second.
 */
export async function speedOverlay(report: SpeedReport): Promise<void> {
  const bundle = await build({
    entryPoints: ['tests/speed/overlay-page.ts'],
    bundle: true,
    write: false,
    format: 'iife',
    target: 'es2022',
    logLevel: 'error',
  });
  const browser = await launchChromium({ whole: true });
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    await page.setContent('<!doctype html><html data-theme="dark"><body></body></html>');
    await page.evaluate(bundle.outputFiles[0]?.text ?? '');
    const { library, raw, uplot, uplotLibrary, points } = await page.evaluate(
      (frames) => (globalThis as unknown as { measureOverlay(frames: number): Promise<OverlayResult> }).measureOverlay(frames),
      FRAMES,
    );
    for (const [name, times] of [
      [`from the library, ${points} points a curve`, library],
      ['uPlot, the same points', uplotLibrary],
      ['every point, 18 000 a curve', raw],
      ['uPlot, every point', uplot],
    ] as const) {
      report(`${name}: frames a second`, times.framesPerSecond, 'median', 'goal 60 for ours');
      report(`${name}: script per frame`, times.scriptMs, 'ms median', `p95 ${times.scriptP95Ms.toFixed(1)} ms`);
    }
    report('library / uPlot with the same points, frames a second', library.framesPerSecond / uplotLibrary.framesPerSecond, 'x');
    report('library / uPlot with every point, frames a second', library.framesPerSecond / uplot.framesPerSecond, 'x');
    report('every point: ours / uPlot, frames a second', raw.framesPerSecond / uplot.framesPerSecond, 'x');
  } finally {
    await browser.close();
  }
}
