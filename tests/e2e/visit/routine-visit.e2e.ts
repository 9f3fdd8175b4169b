/**
 * A routine service visit at an appliance that was left by an earlier visit, from Begin to the signature, by keyboard alone, with the presses and the typed
 * values counted. A press is a key or a choice that does something; going from field to field (Tab, arrows) is counted apart. The instrument is the
 * simulated burner's lines over a pseudo-terminal, so that the visit is a true one and may be signed. Prints the count. No cheaper test shows
 * how many presses a whole visit takes a person.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { startAppProcess, type AppProcess } from '../../helpers/host/app-process.ts';
import { launchChromium } from '../../helpers/browser/chromium.ts';
import { createLedTime, type LedTime } from '../../helpers/host/led-time.ts';
import { createHands, type Hands } from '../../helpers/browser/counted-hands.ts';
import { fullVisit } from '../../helpers/visits/full-visit.ts';
import { keepVisit } from '../../helpers/visits/kept-visit.ts';
import { workUntil, type Work } from '../../helpers/visits/tuning.ts';
import { startPtyBurner, type PtyBurner } from '../../helpers/ports/pty-burner.ts';
import { noPty } from '../../helpers/ports/pty.ts';
import { keepPicture, picturesFolder } from '../../helpers/browser/kept-pictures.ts';

/** counted by the same rules on the version before (2026-11), with the same work */
const BEFORE = { presses: 77, typed: 26 };
const GOAL = { presses: 45, typed: 15 };

let browser: Browser;
let instrument: PtyBurner;
let time: LedTime;
let app: AppProcess;
let page: Page;
let hands: Hands;
let folder: string;
const complaints: string[] = [];

beforeAll(async () => {
  if (noPty !== undefined) return;
  folder = mkdtempSync(join(tmpdir(), 'flueside-routine-'));
  await keepVisit(folder, fullVisit({ source: 'port' }), { sign: true });
  browser = await launchChromium();
  instrument = await startPtyBurner();
  // as the last visit left it
  instrument.burner.setAdjuster('shutter', 4.4, 0);
  time = createLedTime({ instruments: [instrument] });
  app = await startAppProcess({ source: instrument.path, time, dataFolder: folder });
  page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
  page.on('pageerror', ({ stack, message }) => complaints.push(stack ?? message));
  time.shownIn(page);
  await page.goto(app.link);
  hands = createHands(page);
});
afterEach(async ({ task }) => {
  if (task.result?.state === 'fail') await picture('failed');
});
afterAll(async () => {
  time?.stop();
  await page?.close();
  await app?.stop();
  await instrument?.stop();
  await browser?.close();
  if (folder !== undefined) rmSync(folder, { recursive: true, force: true });
});

const spot = (): string => String(instrument.burner.smokeSpot(time.nowMs()).number);
const gauges = (): [string, string] => {
  const { overFirePa, breechPa } = instrument.burner.gauges(time.nowMs());
  // in w.c., NIST SP 811: 249.089 Pa
  return [(-overFirePa / 249.089).toFixed(3), (-breechPa / 249.089).toFixed(3)];
};
const dialogGone = (): Promise<void> => page.getByRole('dialog').waitFor({ state: 'detached' });

const picture = async (name: string): Promise<void> => {
  if (picturesFolder === undefined) return;
  for (const [size, width, height] of [
    ['', 1280, 800],
    ['-small', 1024, 700],
  ] as const) {
    await page.setViewportSize({ width, height });
    await keepPicture(page, `routine-${name}${size}`);
  }
  await page.setViewportSize({ width: 1280, height: 800 });
};

const isByHand = (): Promise<boolean> =>
  page
    .locator('.button.main:visible')
    .last()
    .evaluate((one) => one.classList.contains('by-hand'));

/** Takes the reading that is offered next. */
async function takeReading(full = false): Promise<void> {
  const wanted = full ? /^Take reading$/ : /^Take (gas )?reading$/;
  let text = '';
  const isReady = async (): Promise<boolean> => {
    text = await hands.mainText();
    return wanted.test(text) && !(await isByHand());
  };
  await time.until('a reading is ready', isReady, { mostMs: 1_800_000 }).catch((failure: unknown) => {
    throw new Error(`${String(failure)}; the main button says "${text}"`);
  });
  await hands.enter();
}

async function typeSmoke(): Promise<void> {
  await hands.type('Spot 1', spot());
  await hands.enter();
  await dialogGone();
}

const work: Work = {
  press: (text) => (/^Mark \d/.test(text) ? hands.key('Space') : hands.enter()),
  async typeSetting(shutter) {
    await hands.type(/^shutter$/i, shutter);
    await hands.enter();
  },
  typeSmoke,
  turned: (shutter) => instrument.burner.setAdjuster('shutter', shutter, time.nowMs()),
};

describe.skipIf(noPty !== undefined)('a routine service visit', () => {
  it('from Begin to the signature, counted', async () => {
    await page.getByRole('button', { name: /I have read this/ }).click();
    const agrees = page.getByRole('button', { name: /^Yes, the display agrees/ });
    await time.until('the lines are understood', () => agrees.isVisible());
    await agrees.click();

    await hands.press(/^Begin a visit/);
    await hands.press(/^Boiler in Training house B/);
    await page.getByText(/^Taken over from visit/).waitFor();
    await hands.type('CO in the room', '2');
    await hands.choose('Instrument zeroed', 'outdoors');
    await page.getByText(/^2\sppm at/).waitFor();
    await picture('start');
    await hands.main(/^Cautions read, on to As-found/);
    await page.getByLabel('Spot 1', { exact: true }).waitFor();
    await picture('probe');

    // the spot before the probe, the reading, the drafts: one window after the other
    await hands.type('Spot 1', spot());
    await hands.enter();
    await dialogGone();
    await takeReading(true);
    const [over, breech] = gauges();
    await hands.type('Over fire', over);
    await hands.type('Breech', breech);
    await hands.enter();
    await dialogGone();
    // its page comes by itself once the draft is there
    await page.getByRole('button', { name: /^I looked: all as last left/ }).waitFor();
    await picture('as-found');
    await hands.press(/^I looked: all as last left/);
    await hands.main(/^On to Set-up sheet/);

    await hands.press(/^Table/);
    await hands.type('Electrode gap, as found', '11/64');
    await hands.type('Electrode gap, as left', '9/64');
    await hands.type('Pump pressure, as found', '140');
    await picture('set-up');
    await hands.main(/^Cautions read, on to Warm up/);
    await hands.main(/^The gauge reads zero/);
    await hands.type('Draft over the fire, as set', `-${gauges()[0]}`);
    await hands.choose('Draft regulator', 'set, swings free');
    await picture('warm-up');
    await hands.main(/^(Cautions read, on|On) to Air curve/);

    await hands.type('Spot 1', spot());
    await hands.enter();
    await dialogGone();
    await page.keyboard.press('c');
    const marked = await workUntil(page, time, /^Leave it at trial/, work);
    expect(marked).toBeGreaterThanOrEqual(2);
    await hands.main(/^Leave it at trial/);
    await picture('as-left-draft');
    const [overLeft, breechLeft] = gauges();
    await hands.type('Over fire', overLeft);
    await hands.type('Breech', breechLeft);
    await hands.enter();
    await dialogGone();
    await hands.main(/^Screws are tight/);
    const compared = page
      .getByText(/^Held\. After tightening/)
      .or(page.getByText(/^Shifted\./))
      .first();
    await time.until('it was read after tightening', () => compared.isVisible());
    await picture('as-left');
    await hands.main(/^(Cautions read, on|On) to Safety/);

    await picture('safety');
    for (let tests = 0; tests < 20; tests++) {
      if (await page.getByRole('button', { name: /on to Report/i }).isVisible()) break;
      const title = await page.locator('#safety-title').innerText();
      if (await page.locator('.watch-main').isVisible()) {
        await hands.key('Space');
        await time.forward(9000);
        // Pass stops the watch, and passes the test where the time is inside the mark
      }
      if (await page.getByLabel(/^CO in the room/).isVisible()) await hands.type(/^CO in the room/, '1');
      await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
      await hands.key('1');
      await page
        .waitForFunction((was) => document.querySelector('#safety-title')?.textContent !== was, title, { timeout: 3000 })
        .catch(() => undefined);
    }
    await hands.main(/on to Report/i);
    await page.frameLocator('iframe:not([aria-hidden])').getByText('Not signed yet').waitFor();
    await hands.main(/^Sign/);
    await page.getByText(/^Signed by A\. Sample/).waitFor();

    const { presses, typed, moves } = hands.count();
    console.log(
      `routine service visit, ${marked} settings marked: ${presses} presses, ${typed} typed values, ${moves} moves of the focus; before ${BEFORE.presses} and ${BEFORE.typed}; goal ${GOAL.presses} and ${GOAL.typed}`,
    );
    console.log(hands.log().join('\n'));
    expect(complaints).toEqual([]);
    // one more setting is three presses and one value
    const more = Math.max(0, marked - 3);
    expect(presses - 3 * more).toBeLessThanOrEqual(GOAL.presses);
    expect(typed - more).toBeLessThanOrEqual(GOAL.typed);
  }, 600_000);
});
