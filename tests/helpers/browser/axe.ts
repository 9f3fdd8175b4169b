/** Accessibility of what stands on a page now, judged by axe-core, and what of it would be read aloud without a name or run together. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { mainRested } from './main-button.ts';
import { readAloudFaults } from './read-aloud.ts';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/**
 * Injected by evaluation: the window's content policy lets no foreign script in. A main button at rest, and colours on their way after a turn of the
 * theme, are waited for.
 */
export async function violationsOf(page: Page): Promise<string[]> {
  for (let looks = 0; ; looks++) {
    const before = await mainNow(page);
    const found = await look(page);
    // of a main button that changed meanwhile, one colour was of before and the other of now
    if (found.length === 0 || looks === 5 || before === (await mainNow(page))) return found;
  }
}

const mainNow = (page: Page): Promise<string> =>
  page.evaluate(() => Array.from(document.querySelectorAll('.button.main'), ({ outerHTML }) => outerHTML).join());

async function look(page: Page): Promise<string[]> {
  await mainRested(page);
  await page.evaluate(() => Promise.allSettled(document.getAnimations().map((animation) => animation.finished)));
  await page.evaluate(source);
  const byAxe = await page.evaluate(async () => {
    const { axe } = globalThis as unknown as { axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> } };
    const { violations } = await axe.run();
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 160)).join(' | ')}`);
  });
  return [...byAxe, ...readAloudFaults(await page.locator('body').ariaSnapshot())];
}
