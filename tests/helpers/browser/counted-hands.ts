/** A person with a keyboard, counted: presses that do something, values that are typed, and moves of the focus (Tab). */
import type { Locator, Page } from 'playwright-core';
import { mainRested } from './main-button.ts';

export type Hands = {
  /** Tab to the button, then Enter */
  press(name: RegExp): Promise<void>;
  /** Enter where the main button, or a small window's, waits for it */
  enter(): Promise<void>;
  /** Enter once the main button says this */
  main(text: RegExp): Promise<void>;
  key(key: string): Promise<void>;
  type(label: string | RegExp, text: string): Promise<void>;
  choose(label: string, option: string): Promise<void>;
  mainText(): Promise<string>;
  count(): { presses: number; typed: number; moves: number };
  log(): readonly string[];
};

export function createHands(page: Page): Hands {
  let presses = 0;
  let typed = 0;
  let moves = 0;
  const log: string[] = [];
  const pressed = (what: string): void => void log.push(`press ${(presses += 1)}: ${what}`);

  async function tabTo(target: Locator): Promise<void> {
    await target.waitFor();
    for (let tabs = 0; tabs < 160; tabs++) {
      if (await target.evaluate((element) => element === document.activeElement)) return;
      await page.keyboard.press('Tab');
      moves += 1;
    }
    throw new Error(`the Tab key never comes to ${target.toString()}`);
  }
  const mainText = (): Promise<string> =>
    page
      .locator('.button.main:visible')
      .last()
      .evaluate((button) => {
        const words = button.cloneNode(true) as HTMLElement;
        words.querySelectorAll('kbd').forEach((key) => key.remove());
        return (words.textContent ?? '').replace(/\s+/g, ' ').trim();
      });
  const blur = (): Promise<void> =>
    page.evaluate(() => {
      if (document.querySelector('dialog[open]') === null) (document.activeElement as HTMLElement | null)?.blur();
    });
  return {
    async press(name) {
      await tabTo(page.getByRole('button', { name }).first());
      await mainRested(page);
      await page.keyboard.press('Enter');
      pressed(String(name));
    },
    async enter() {
      await blur();
      await mainRested(page);
      pressed(`Enter: ${await mainText()}`);
      await page.keyboard.press('Enter');
    },
    async main(text) {
      for (let looks = 0; looks < 200 && !text.test(await mainText()); looks++) await page.waitForTimeout(100);
      const says = await mainText();
      if (!text.test(says)) throw new Error(`the main button never said ${String(text)}; it says ${says}`);
      await blur();
      await mainRested(page);
      await page.keyboard.press('Enter');
      pressed(says);
    },
    async key(key) {
      await blur();
      await mainRested(page);
      await page.keyboard.press(key);
      pressed(key);
    },
    async type(label, text) {
      await tabTo(typeof label === 'string' ? page.getByLabel(label, { exact: true }).first() : page.getByLabel(label).first());
      await page.keyboard.press('Control+A');
      await page.keyboard.type(text);
      log.push(`typed ${(typed += 1)}: ${String(label)}: ${text}`);
    },
    async choose(label, option) {
      await tabTo(page.getByLabel(label, { exact: true }));
      await page.keyboard.type(option);
      pressed(`${label}: ${option}`);
    },
    mainText,
    count: () => ({ presses, typed, moves }),
    log: () => log,
  };
}
