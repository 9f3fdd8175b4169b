/**
 * A run of a day at ten lines a second in the real window: opened, scrolled and zoomed by keyboard and mouse, exported. Frame times are the gaps
 * between two animation frames while keys are held and the mouse is dragged; long tasks are stretches of script above 50 ms.
 */
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { startAppProcess } from '../helpers/host/app-process.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import { DAY_LINES, writeDayRun } from '../helpers/day-run.ts';
import type { SpeedReport } from './speed-report.ts';

/** `FLUESIDE_DAY_LINES` for a shorter run, `FLUESIDE_PICTURES` for a folder to keep pictures in */
const lines = Number(process.env['FLUESIDE_DAY_LINES'] ?? DAY_LINES);
const pictures = process.env['FLUESIDE_PICTURES'];

type Frames = { gaps: number[]; longTasks: number[] };

/** Counts frames and long tasks while `work` goes on. */
async function frames(page: Page, work: () => Promise<void>): Promise<Frames> {
  await page.evaluate(() => {
    const seen = { gaps: [] as number[], longTasks: [] as number[], isOn: true };
    (globalThis as unknown as { seen: typeof seen }).seen = seen;
    new PerformanceObserver((list) => seen.longTasks.push(...list.getEntries().map(({ duration }) => duration))).observe({
      entryTypes: ['longtask'],
    });
    let before = performance.now();
    requestAnimationFrame(function frame(now) {
      seen.gaps.push(now - before);
      before = now;
      if (seen.isOn) requestAnimationFrame(frame);
    });
  });
  await work();
  return page.evaluate(() => {
    const { seen } = globalThis as unknown as { seen: Frames & { isOn: boolean } };
    seen.isOn = false;
    return { gaps: seen.gaps.slice(1), longTasks: seen.longTasks };
  });
}

function reportFrames(report: SpeedReport, name: string, { gaps, longTasks }: Frames): void {
  const sorted = [...gaps].sort((a, b) => a - b);
  const at = (share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0;
  report(
    name,
    at(0.5),
    'ms median',
    `95 % ${at(0.95).toFixed(1)}, worst ${at(1).toFixed(0)} of ${gaps.length} frames; ${longTasks.length} long tasks, longest ${Math.max(0, ...longTasks).toFixed(0)} ms`,
  );
}

export async function speedDayWindow(report: SpeedReport): Promise<void> {
  const dataFolder = mkdtempSync(join(tmpdir(), 'flueside-day-'));
  const path = writeDayRun(dataFolder, 'day', lines);
  report('the run', lines, 'lines', `${(statSync(path).size / 2 ** 20).toFixed(0)} MB`);
  const [browser, app] = await Promise.all([launchChromium({ whole: true }), startAppProcess({ dataFolder })]);
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
    page.setDefaultTimeout(180_000);
    const complaints: string[] = [];
    page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
    page.on('console', (message) => {
      if (message.type() === 'error') complaints.push(message.text());
    });
    const picture = async (name: string): Promise<void> => {
      if (pictures !== undefined) await page.screenshot({ path: join(pictures, `${name}.png`) });
    };
    await page.goto(app.link);
    await page.getByRole('button', { name: 'Records' }).click();
    await page.getByRole('button', { name: 'Runs' }).click();
    const look = page.getByRole('button', { name: 'Look' });
    await look.waitFor();

    const from = performance.now();
    const since = (): number => (performance.now() - from) / 1000;
    await look.click();
    const status = page.locator('.run-page .progress-line');
    const canvas = page.locator('.run-trend canvas');
    const scroll = async (presses: number): Promise<void> => {
      for (let press = 0; press < presses; press++) {
        await page.keyboard.press(press % 10 < 5 ? 'ArrowRight' : 'ArrowLeft');
        await page.waitForTimeout(30);
      }
    };
    const zoom = async (): Promise<void> => {
      for (const key of ['+', '+', '+', '+', '+', '+', '-', '-', '-', '-', '-', '-']) {
        await page.keyboard.press(key);
        await page.waitForTimeout(60);
      }
    };
    const byMouse = async (): Promise<void> => {
      const box = await canvas.boundingBox();
      if (box === null) throw new Error('no trend');
      const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
      await page.mouse.move(middle.x, middle.y);
      for (let turn = 0; turn < 20; turn++) {
        await page.mouse.wheel(0, -240);
        await page.waitForTimeout(25);
      }
      await page.mouse.down();
      for (let step = 0; step < 60; step++) await page.mouse.move(middle.x + Math.sin(step / 8) * 300, middle.y);
      await page.mouse.up();
      for (let turn = 0; turn < 20; turn++) {
        await page.mouse.wheel(0, 240);
        await page.waitForTimeout(25);
      }
    };
    await canvas.waitFor();
    report('first curves on the screen', since(), 's');
    await picture('day-growing');
    // asked for at once, while it is read: it has to answer then, too
    reportFrames(report, 'frame, scrolled and zoomed while it is read', await frames(page, async () => (await scroll(20), zoom())));
    await page.keyboard.press('End');
    await page.waitForFunction(() => !document.querySelector('.run-page .progress-line')?.textContent?.includes('Reading the lines'));
    report('curves of the whole run', since(), 's', 'with the scrolling above going on');
    await picture('day-curves');
    await status.waitFor({ state: 'detached' });
    report('all readings', since(), 's');
    await picture('day-whole');

    await page.keyboard.press('+');
    await page.keyboard.press('+');
    await page.keyboard.press('+');
    reportFrames(report, 'frame, scrolled by key', await frames(page, () => scroll(100)));
    reportFrames(report, 'frame, zoomed by key', await frames(page, zoom));
    reportFrames(report, 'frame, zoomed by wheel, dragged', await frames(page, byMouse));
    await page.keyboard.press('End');

    await page.getByRole('button', { name: 'Back to the runs' }).click();
    for (const name of ['CSV', 'JSON', 'Lines']) {
      const began = performance.now();
      const [download, seen] = await Promise.all([
        page.waitForEvent('download'),
        frames(page, async () => {
          const waiting = page.waitForEvent('download');
          await page.getByRole('button', { name, exact: true }).click();
          if (name === 'CSV') {
            await page.locator('.export-lines .progress-line').waitFor();
            await picture('day-export');
          }
          await waiting;
        }),
      ]);
      const { size } = statSync(await download.path());
      report(`export as ${name}`, (performance.now() - began) / 1000, 's', `${(size / 2 ** 20).toFixed(0)} MB, in the downloads`);
      reportFrames(report, `- frame meanwhile`, seen);
    }
    await page.getByRole('button', { name: 'JSON', exact: true }).click();
    await page.getByRole('button', { name: 'Stop' }).click();
    const stopped = performance.now();
    await page.locator('.export-lines').waitFor({ state: 'detached' });
    report('an export stops', performance.now() - stopped, 'ms');
    if (complaints.length > 0) throw new Error(complaints.join('\n'));
  } finally {
    await browser.close();
    await app.stop();
    rmSync(dataFolder, { recursive: true, force: true });
  }
}
