import type { Page } from 'playwright-core';

/** A main button that has just changed what it does takes no key; a click waits by itself. */
export const mainRested = async (page: Page): Promise<void> =>
  void (await page.waitForFunction(() => document.querySelector('.button.main[aria-disabled=true]') === null));

export async function pressEnter(page: Page): Promise<void> {
  await mainRested(page);
  await page.keyboard.press('Enter');
}
