/** An instrument whose lines nobody knows, on a port, and the window that is to read them. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll } from 'vitest';
import { startAppProcess, type AppProcess } from '../../helpers/host/app-process.ts';
import { launchChromium } from '../../helpers/browser/chromium.ts';
import { startPty, type Pty } from '../../helpers/ports/pty.ts';
import { burnerRows } from '../../shared/lines/shapes/corpus.ts';

let browser: Browser;
const ends: (() => Promise<unknown>)[] = [];
type Journey = { app: AppProcess; page: Page; pty: Pty; complaints: string[]; send: (lines: readonly string[]) => Promise<void> };
export async function begin(source = (pty: Pty): string => pty.path): Promise<Journey> {
  const pty = await startPty();
  ends.push(() => pty.stop());
  const app = await startAppProcess({ source: source(pty) });
  ends.push(() => app.stop());
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
  ends.push(() => page.close());
  const complaints: string[] = [];
  page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(app.link);
  await page.getByRole('button', { name: /I have read this/ }).click();
  const send = async (lines: readonly string[]): Promise<void> => {
    for (const line of lines) await pty.ask(`send ${line}`, 'sent');
  };
  return { app, page, pty, complaints, send };
}
/** The figures beside the display of the instrument: they agree. */
export const agree = async (page: Page): Promise<void> => {
  await page.getByRole('button', { name: /Yes, the display agrees/ }).click({ timeout: 15_000 });
  await page.getByText('Compare with the display.').first().waitFor({ state: 'detached' });
};
/** A dialect of our own: CO first, the stack last but one, a status word, bars between. */
export const rows = burnerRows(60, 12);
export const unknown = rows.map(({ o2, co, stack, air }) => `${co.toFixed(0)}|${air.toFixed(1)}|OK|${stack.toFixed(1)}|${o2.toFixed(1)}`);
export const roleOf = (page: Page, place: number) => page.getByRole('combobox', { name: `What piece ${place} is` });
export const linesKept = (app: AppProcess): string[] => {
  const folder = join(app.dataFolder, 'runs');
  const [name = ''] = readdirSync(folder);
  return readFileSync(join(folder, name), 'latin1').split('\n');
};

export function withBrowser(): void {
  beforeAll(async () => {
    browser = await launchChromium();
  });
  afterAll(async () => {
    await browser?.close();
  });
  afterEach(async () => {
    for (const end of ends.splice(0).reverse()) await end();
  });
}
