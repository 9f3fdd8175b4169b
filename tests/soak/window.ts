/**
 * Two thousand lines a second from a pseudo-terminal beside the open window: every line in the run file, and how long a click waits
 * for what it shows. Measured inside the window, from the system's time of the press to the frame after the change.
 */
import { execFile } from 'node:child_process';
import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import type { Page } from 'playwright-core';
import { startAppProcess } from '../helpers/host/app-process.ts';
import { launchChromium } from '../helpers/browser/chromium.ts';
import { startPty } from '../helpers/ports/pty.ts';
import { rounded } from './memory.ts';

/** A pseudo-terminal has no speed; the window is told the one that carries so many lines, and the instrument keeps to their number. */
const BAUD = 921_600;
const TEMPLATE = '{n},O2={~4.1 0.2 1},CO={~23 4 0},TS={~212.4 2 1},TA={~21.5 0.2 1}';
/** between two clicks, so that each is one of its own */
const REST_MS = 120;

export type WindowFigures = {
  linesPerSecond: number;
  linesSent: number;
  missing: number;
  isInOrder: boolean;
  /** lines per second as the window said half way */
  windowSays: number;
  clicks: number;
  clickMedianMs: number;
  click95Ms: number;
  clickWorstMs: number;
  /** worst of each, ms */
  worst: Readonly<Record<string, number>>;
  longestTaskMs: number;
};

/** What is clicked, and what has to stand there then. All of them together lead back to where they began. */
type Sign = { selector: string; text: string };
type Step = { name: string; click: Sign; shows: Sign };
const button = (text: string): Sign => ({ selector: 'button', text });
const heading = (text: string): Sign => ({ selector: 'h1, h2', text });
const onTune = button('Far view');
const steps: readonly Step[] = [
  { name: 'open the line view', click: button('not understood'), shows: heading('Line view') },
  { name: 'hold the lines', click: button('Pause'), shows: button('Go on') },
  { name: 'let them go on', click: button('Go on'), shows: button('Pause') },
  // these two go to the main process and back
  { name: 'begin the check', click: button('Check now'), shows: button('End the check') },
  { name: 'end the check', click: button('End the check'), shows: button('Check now') },
  { name: 'close the line view', click: button('Close'), shows: onTune },
  { name: 'go to Records', click: { selector: '.tab', text: 'Records' }, shows: button('Start one in Tune') },
  { name: 'go to Tune', click: { selector: '.tab', text: 'Tune' }, shows: onTune },
];

type Watched = { pressedMs: number; longestTaskMs: number; tookMs?: number | undefined };

/** Runs in the window: notes the system's time of every press, and the longest task. */
function watchPresses(): void {
  const watched: Watched = { pressedMs: 0, longestTaskMs: 0 };
  Object.assign(globalThis, { watched });
  addEventListener('pointerdown', ({ timeStamp }) => (watched.pressedMs = timeStamp), { capture: true });
  new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) watched.longestTaskMs = Math.max(watched.longestTaskMs, duration);
  }).observe({ type: 'longtask' });
}

/** Runs in the window: looks in every frame for what is to come, and takes the time when the frame that has it is done. */
function awaitSign({ selector, text }: Sign): void {
  const { watched } = globalThis as unknown as { watched: Watched };
  watched.tookMs = undefined;
  const isThere = (): boolean =>
    [...document.querySelectorAll<HTMLElement>(selector)].some(
      (one) => one.textContent?.includes(text) === true && one.getClientRects().length > 0,
    );
  const look = (): void => {
    if (isThere()) setTimeout(() => (watched.tookMs = performance.now() - watched.pressedMs));
    else requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}

async function clickAndTime(page: Page, { name, click, shows }: Step): Promise<number> {
  const box = await page.locator(click.selector, { hasText: click.text }).first().boundingBox();
  if (box === null) throw new Error(`nothing to click: ${name}`);
  await page.evaluate(awaitSign, shows);
  await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
  const took = await page
    .waitForFunction(() => (globalThis as unknown as { watched: Watched }).watched.tookMs)
    .catch((cause: unknown) => {
      throw new Error(`nothing came of it: ${name}`, { cause });
    });
  return (await took.jsonValue()) as number;
}

const numbersIn = (dataFolder: string): number[] => {
  const folder = join(dataFolder, 'runs');
  return readdirSync(folder)
    .filter((name) => name.endsWith('.run'))
    .flatMap((name) => readFileSync(join(folder, name), 'latin1').split('\n'))
    .flatMap((line) => (line.includes('\tline\t') ? [Number(line.split('\t')[2]?.split(',')[0])] : []));
};

/** A second start in the same folder only says where another window opens. */
async function linkOfOther(dataFolder: string): Promise<string> {
  const args = [resolve('dist/main/node.mjs'), '--no-open', '--data', dataFolder, '--as', 'viewer'];
  const { stdout } = await promisify(execFile)(process.execPath, args);
  const found = /http:\/\/127\.0\.0\.1:\d+\/#code=[\w-]+/.exec(stdout);
  if (found === null) throw new Error(stdout);
  return found[0];
}

/**
 * The built app has to be there.
 *
 * @param windows how many are open; what is clicked is in the first, the others show the same live view
 */
export async function soakWindow({
  seconds,
  linesPerSecond,
  windows = 1,
}: {
  seconds: number;
  linesPerSecond: number;
  windows?: number;
}): Promise<WindowFigures> {
  const pty = await startPty('pty-instrument.py', [TEMPLATE]);
  const app = await startAppProcess();
  const browser = await launchChromium({ whole: true });
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
    await page.goto(app.link);
    await connect(page, pty.path);
    // the recipe is learned at a person's pace, before the flood
    await pty.ask('rate 20');
    await page.getByRole('button', { name: /Far view/ }).waitFor({ timeout: 30_000 });
    await page.getByRole('button', { name: /^Yes, the display agrees/ }).click({ timeout: 30_000 });
    await page.locator('.rows .figure:not(.off)').first().waitFor({ timeout: 30_000 });
    for (let other = 1; other < windows; other++) {
      const looksOn = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
      await looksOn.goto(await linkOfOther(app.dataFolder));
      await looksOn.locator('.rows .figure:not(.off)').first().waitFor({ timeout: 30_000 });
    }
    await page.bringToFront();
    await pty.ask('rate 0');
    await page.evaluate(watchPresses);

    const count = seconds * linesPerSecond;
    const flooded = pty.ask(`flood ${linesPerSecond} ${count}`, 'flood done');
    let isOver = false;
    void flooded.then(() => (isOver = true));
    const took: { name: string; ms: number }[] = [];
    let windowSays = 0;
    for (let at = 0; !isOver; at++) {
      const step = steps[at % steps.length] as Step;
      took.push({ name: step.name, ms: await clickAndTime(page, step) });
      windowSays = Math.max(windowSays, Number((await page.locator('.source .rate b').textContent())?.replace(/[^\d.]/g, '')));
      await page.waitForTimeout(REST_MS);
    }
    const linesSent = Number((await flooded).split(' ').at(-1));
    const { longestTaskMs } = await page.evaluate(() => (globalThis as unknown as { watched: Watched }).watched);
    await page.waitForTimeout(2000);
    await app.stop({ keep: true });
    const numbers = numbersIn(app.dataFolder);
    const sorted = took.map(({ ms }) => ms).sort((a, b) => a - b);
    const at = (share: number): number => rounded(sorted[Math.floor(share * (sorted.length - 1))] ?? Infinity);
    return {
      linesPerSecond,
      linesSent,
      missing: linesSent - new Set(numbers).size,
      isInOrder: numbers.every((n, i) => i === 0 || n === (numbers[i - 1] as number) + 1),
      windowSays,
      clicks: took.length,
      clickMedianMs: at(0.5),
      click95Ms: at(0.95),
      clickWorstMs: at(1),
      worst: Object.fromEntries(
        steps.map(({ name }) => [name, rounded(Math.max(0, ...took.flatMap((one) => (one.name === name ? [one.ms] : []))))]),
      ),
      longestTaskMs: rounded(longestTaskMs),
    };
  } finally {
    await browser.close();
    await app.stop();
    await pty.stop();
    rmSync(app.dataFolder, { recursive: true, force: true });
  }
}

/** As a person does: source, name of the port, speed, Connect. */
async function connect(page: Page, path: string): Promise<void> {
  await page.getByRole('heading', { name: 'Where do the readings come from?' }).waitFor();
  await page.keyboard.press('Enter');
  await page.getByText(/^Cautions read\. They stay on/).waitFor();
  await page.keyboard.press('1');
  await page.getByLabel('Another port, by name').fill(path);
  await page.getByLabel('Speed').fill(String(BAUD));
  await page.getByRole('button', { name: /^Connect/ }).click();
}
