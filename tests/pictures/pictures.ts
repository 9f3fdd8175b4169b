/**
 * `npm run pictures -- [STATE ...] [--out FOLDER] [--sizes 1280x800,zoom-200] [--themes dark] [--no-axe]`: every screen and dialog from prepared states, in both
 * themes and all sizes; compared with the last ones; with the text that is read aloud, axe, and what is cut off.
 */
import { existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import type { Browser, Page } from 'playwright-core';
import { launchChromium } from '../helpers/browser/chromium.ts';
import { startPictureHost } from './host.ts';
import { lookAt, sizes, themes, type LookOptions, type Looked, type Size, type Theme } from './look.ts';
import type { State } from './states/parts.ts';
import { states } from './states.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { out: { type: 'string' }, sizes: { type: 'string' }, themes: { type: 'string' }, axe: { type: 'boolean', default: true } },
  allowNegative: true,
});
const out = resolve(values.out ?? join(tmpdir(), 'flueside-pictures'));
const isSize = (name: string): name is Size => name in sizes;
const wantedSizes = values.sizes?.split(',').filter(isSize) ?? (Object.keys(sizes) as Size[]);
const wantedThemes = themes.filter((theme: Theme) => values.themes?.split(',').includes(theme) ?? true);
const options: LookOptions = { out, sizes: wantedSizes, themes: wantedThemes, axe: values.axe };
// beside dist/programs, where this file is bundled to
const windowFiles = fileURLToPath(new URL('../renderer', import.meta.url));
if (!existsSync(windowFiles)) throw new Error('The window is not built: npm run build');

const all: Looked = { changes: [], faults: [] };

/** The window is connected and the part of it that is looked at is there. */
const loaded = async (page: Page): Promise<void> => {
  await page.locator('main.workspace').waitFor();
  await page.locator('.loading').waitFor({ state: 'detached' });
  // figures change four times a second at most
  await page.waitForTimeout(350);
};

async function take(browser: Browser, name: string, { options: hostOptions, begin, screens }: State): Promise<void> {
  const host = await startPictureHost({ ...hostOptions, windowFiles });
  try {
    await begin?.(host);
    const page = await browser.newPage({ viewport: sizes['1280x800'], colorScheme: 'dark', reducedMotion: 'reduce' });
    page.setDefaultTimeout(20_000);
    page.on('pageerror', ({ stack, message }) => all.faults.push({ name, what: `error in the window: ${stack ?? message}` }));
    // the day is the host's; what the window times by itself goes on
    await page.addInitScript((wallMs) => {
      const ago = wallMs - Date.now();
      const now = Date.now.bind(Date);
      Date.now = () => now() + ago;
    }, host.clock.wallMs());
    await page.goto(host.link());
    await loaded(page);
    await host.pass(1);
    for (const screen of screens) {
      const picture = `${name}/${screen.name}`;
      try {
        await screen.open(page, host);
        await loaded(page);
      } catch (failure) {
        all.faults.push({ name: picture, what: `not reached: ${(failure as Error).message.split('\n')[0] ?? ''}` });
      }
      const looked = await lookAt(page, picture, options);
      all.changes.push(...looked.changes);
      all.faults.push(...looked.faults);
    }
    await page.close();
  } finally {
    await host.stop();
  }
}

/** One page with every picture, those of one screen side by side. */
function writeIndex(): void {
  const folder = join(out, 'now');
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.png'));
  const screens = [...new Set(names.map((name) => name.replace(/--.*$/, '')))].sort();
  const changed = new Set(all.changes.filter(({ isNew }) => !isNew).map(({ name }) => name));
  const cell = (name: string): string =>
    `<figure class="${changed.has(name) ? 'changed' : ''}"><a href="now/${name}.png"><img loading="lazy" src="now/${name}.png" alt="${name}"></a><figcaption>${name}${
      changed.has(name) ? ` · <a href="before/${name}.png">before</a> · <a href="changed/${name}.png">what changed</a>` : ''
    }</figcaption></figure>`;
  const rows = screens.map((screen) => {
    const own = Object.keys(sizes).flatMap((size) => themes.map((theme) => `${screen}--${size}--${theme}`));
    const there = own.filter((name) => names.some((file) => file.replaceAll('\\', '/') === `${name}.png`));
    return `<h2>${screen}</h2><div>${there.map(cell).join('')}</div>`;
  });
  const style =
    'body{font:15px system-ui}div{display:flex;flex-wrap:wrap;gap:12px}figure{margin:0}img{width:380px;border:1px solid #888}.changed img{outline:4px solid #c60}';
  writeFileSync(
    join(out, 'index.html'),
    `<!doctype html><meta charset="utf-8"><title>Pictures</title><style>${style}</style>${rows.join('\n')}`,
  );
}

mkdirSync(out, { recursive: true });
const names = Object.keys(states).filter((name) => positionals.length === 0 || positionals.includes(name));
const browser = await launchChromium({ whole: true });
try {
  for (const name of names) {
    const state = states[name];
    if (state !== undefined) await take(browser, name, state);
  }
} finally {
  await browser.close();
}
writeIndex();
const isNew = all.changes.filter((change) => change.isNew).length;
const changes = all.changes.filter((change) => !change.isNew);
for (const { name, dots } of changes) console.log(`changed  ${name}  ${dots} dots`);
for (const { name, what } of all.faults) console.log(`look at  ${name}  ${what}`);
console.log(
  `${changes.length} changed, ${isNew} new, ${all.faults.length} to look at; ${relative(process.cwd(), join(out, 'index.html'))}`,
);
// a window that failed or a screen that is not there is no picture of the app
process.exitCode = all.faults.some(({ what }) => /^(error in the window|not reached|axe)/.test(what)) ? 1 : 0;
