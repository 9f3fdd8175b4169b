/** Warm-up in a real window. */
import { readFileSync } from 'node:fs';
import type { Browser, Download, Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { launchChromium } from '../../helpers/browser/chromium.ts';

let browser: Browser;
export type Window = { page: Page; complaints: string[] };
export async function openWindow(link: string, colorScheme: 'dark' | 'light' = 'light'): Promise<Window> {
  const page = await browser.newPage({
    viewport: { width: 1280, height: 800 },
    colorScheme,
    reducedMotion: 'reduce',
    acceptDownloads: true,
  });
  const complaints: string[] = [];
  page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(link);
  await page.getByRole('button', { name: 'Warm-up', exact: true }).waitFor();
  return { page, complaints };
}
export const press = async (page: Page, ...keys: string[]): Promise<void> => {
  for (const key of keys) await page.keyboard.press(key);
};
/** the workspace by its key, once the window listens and the view is there */
export async function openWarmUp(page: Page): Promise<void> {
  await press(page, 'Control+3');
  await page
    .getByRole('button', { name: /^Exercises/ })
    .first()
    .waitFor();
}
export const textOf = async (download: Download): Promise<string> => readFileSync(await download.path(), 'utf8');

export function withBrowser(): void {
  beforeAll(async () => {
    browser = await launchChromium();
  });
  afterAll(async () => {
    await browser?.close();
  });
}
