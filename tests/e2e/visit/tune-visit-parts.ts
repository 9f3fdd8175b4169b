/** A visit in a real window, by keys or by mouse. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll } from 'vitest';
import { startAppProcess, type AppProcess } from '../../helpers/host/app-process.ts';
import { launchChromium } from '../../helpers/browser/chromium.ts';
import { pressEnter } from '../../helpers/browser/main-button.ts';

let browser: Browser;
export let app: AppProcess | undefined;
/** It is stopped after the test. */
export async function startApp(options: Parameters<typeof startAppProcess>[0]): Promise<AppProcess> {
  app = await startAppProcess(options);
  return app;
}
export async function openWindow(started: AppProcess): Promise<{ page: Page; complaints: string[] }> {
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
  const complaints: string[] = [];
  page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(started.link);
  return { page, complaints };
}
export const mouse = {
  press: (page: Page, button: RegExp): Promise<void> => page.getByRole('button', { name: button }).first().click(),
  fill: (page: Page, field: string, text: string): Promise<void> => page.getByLabel(field, { exact: true }).fill(text),
  async choose(page: Page, field: string, option: string): Promise<void> {
    await page.getByLabel(field, { exact: true }).selectOption({ label: option });
  },
};
/** Cautions stand beside their step until they are read. */
export async function readCautions(page: Page): Promise<void> {
  const button = page.getByRole('button', { name: /^Read and understood/ }).first();
  await button.click();
  await button.waitFor({ state: 'detached' });
}
/** The same spot, typed. */
export async function typedSpot(page: Page, text: string): Promise<void> {
  const dialog = page.getByRole('dialog', { name: 'Smoke spot, before the probe goes in' });
  await dialog.waitFor();
  await dialog.getByLabel('Spot 1', { exact: true }).fill(text);
  await pressEnter(page);
  await dialog.waitFor({ state: 'detached' });
}

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
