/** The set-up sheet in a real window. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll } from 'vitest';
import { startAppProcess, type AppProcess } from '../../helpers/host/app-process.ts';
import { launchChromium } from '../../helpers/browser/chromium.ts';

export let browser: Browser;
export let app: AppProcess | undefined;
/** It is stopped after the test. */
export async function startApp(options: Parameters<typeof startAppProcess>[0]): Promise<AppProcess> {
  app = await startAppProcess(options);
  return app;
}
/** Pictures of each screen in both themes and two sizes, where somebody asks for them. */
export async function look(page: Page, name: string): Promise<void> {
  const folder = process.env['GEOMETRY_PICTURES'];
  if (folder === undefined) return;
  for (const colorScheme of ['dark', 'light'] as const)
    for (const [width, height] of [
      [1280, 800],
      [1024, 700],
    ] as const) {
      await page.emulateMedia({ colorScheme });
      await page.setViewportSize({ width, height });
      await page.screenshot({ path: `${folder}/${name}-${width}-${colorScheme}.png` });
    }
  await page.setViewportSize({ width: 1280, height: 800 });
}
/** A training visit with training card B, at the first step of the hands. */
export async function begin(colorScheme: 'dark' | 'light'): Promise<Page> {
  const { link } = await startApp({ source: 'simulated' });
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme });
  await page.goto(link);
  await page.getByRole('button', { name: /^Begin a training visit/ }).click();
  await page.getByRole('button', { name: /^Read and understood/ }).click();
  await page.getByLabel('Figures card of the burner').selectOption({ label: 'Training card B, invented' });
  await page.getByLabel('Tube end of this burner').selectOption({ label: 'straight' });
  await page.getByLabel('Electrodes', { exact: true }).selectOption({ label: 'two' });
  await look(page, `start-${colorScheme}`);
  await page.locator('.thread-step', { hasText: 'Set-up sheet' }).click();
  const read = page.getByRole('button', { name: /^Read and understood/ });
  await read.click();
  await read.waitFor({ state: 'detached' });
  await heading(page, 'Power off, tested');
  return page;
}
export const heading = (page: Page, name: string): Promise<void> => page.getByRole('heading', { level: 1, name, exact: true }).waitFor();
export const space = (page: Page): Promise<void> => page.keyboard.press('Space');

export function withBrowser(): void {
  beforeAll(async () => {
    browser = await launchChromium();
  });
  afterAll(async () => {
    await browser?.close();
  });
  afterEach(async () => {
    for (const context of browser.contexts()) await context.close();
    await app?.stop();
    app = undefined;
  });
}
