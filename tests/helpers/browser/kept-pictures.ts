/** Pictures that a journey takes on its way, for a person to look at: kept where FLUESIDE_PICTURES names a folder, else not taken. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';

export const picturesFolder = process.env['FLUESIDE_PICTURES'];

export async function keepPicture(page: Page, name: string): Promise<void> {
  if (picturesFolder === undefined) return;
  mkdirSync(picturesFolder, { recursive: true });
  await page.screenshot({ path: join(picturesFolder, `${name}.png`) });
}

/** The screen in its usual size and in the smallest, dark and light. */
export async function keepPictures(page: Page, name: string): Promise<void> {
  if (picturesFolder === undefined) return;
  for (const [width, height, colorScheme] of [
    [1280, 800, 'dark'],
    [1024, 700, 'light'],
  ] as const) {
    await page.setViewportSize({ width, height });
    await page.emulateMedia({ colorScheme });
    await keepPicture(page, `${name}-${width}-${colorScheme}`);
  }
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.emulateMedia({ colorScheme: 'dark' });
}
