/** The main button of a visit, and the work it asks for, in led time: nothing changes between a look and a press. */
import type { Locator, Page } from 'playwright-core';
import type { LedTime } from '../host/led-time.ts';
import { PATIENCE_MS } from '../patience.ts';

/** Looks until it is so: a wait that a measuring program can use as well as a journey. */
async function untilSo(isSo: () => Promise<boolean>, what: string): Promise<void> {
  const endMs = performance.now() + PATIENCE_MS;
  while (!(await isSo())) {
    if (performance.now() > endMs) throw new Error(`not so within ${PATIENCE_MS / 1000} s: ${what}`);
    await new Promise((rest) => setTimeout(rest, 50));
  }
}

export const mainButton = (page: Page): Locator => page.locator('.button.main:visible').last();

type Deed = { readonly text: string; readonly isOpen: boolean };
/** What the main button says, without the sign of its key; open: it asks to be pressed. */
const mainDeed = (page: Page): Promise<Deed> =>
  mainButton(page).evaluate((button) => {
    const words = button.cloneNode(true) as HTMLElement;
    words.querySelectorAll('kbd').forEach((key) => key.remove());
    const text = (words.textContent ?? '').replace(/\s+/g, ' ').trim();
    return { text, isOpen: !button.classList.contains('by-hand') && !(button as HTMLButtonElement).disabled };
  });
export const mainText = async (page: Page): Promise<string> => (await mainDeed(page)).text;

/** How somebody does what the main button asks for. */
export type Work = {
  /** presses the main button, which says this */
  press(text: string): Promise<void>;
  /** the dialog that asks for a setting is open: types it and marks it */
  typeSetting(shutter: string): Promise<void>;
  /** the dialog that asks for the smoke number is open */
  typeSmoke(): Promise<void>;
  /** the real shutter is turned to what was marked */
  turned(shutter: number): void;
};

/** gas takes its time from the flame to the display */
const GAS_MS = 60_000;

/** Does what the main button asks for until it says `until`. @returns the settings marked */
export async function workUntil(page: Page, time: LedTime, until: RegExp, work: Work): Promise<number> {
  const dialog = page.getByRole('dialog');
  const spot = dialog.getByLabel('Spot 1', { exact: true });
  // what was asked for, one after the other: a course that does not end is read from this
  const course: string[] = [];
  for (let marked = 0; marked < 40;) {
    let deed: Deed = { text: '', isOpen: false };
    await time
      .until(`the main button asks for something, or says ${String(until)}`, async () => {
        deed = await mainDeed(page);
        if (await spot.isVisible()) return true;
        return until.test(deed.text) || (deed.isOpen && /^(Mark|Type smoke|Take)/.test(deed.text));
      })
      .catch(async (failure: unknown) => {
        const shown = (await page.locator('body').innerText()).replace(/\s+/g, ' ');
        throw new Error(`${String(failure)}; it says "${deed.text}"; asked for: ${course.join(', ')}; the page: ${shown}`);
      });
    if (await spot.isVisible()) {
      await work.typeSmoke();
      await dialog.waitFor({ state: 'detached' });
      continue;
    }
    const { text } = deed;
    if (until.test(text)) return marked;
    // what comes by itself may have changed the button since: it is not pressed in another sense than it was looked at
    const isPressed = await time.held(async () => {
      if ((await mainText(page)) !== text) return false;
      await work.press(text);
      return true;
    });
    if (!isPressed) continue;
    course.push(text);
    const isAsked = !/^(Take|Mark \d)/.test(text);
    if (isAsked)
      await dialog.waitFor().catch(async () => {
        throw new Error(`pressed "${text}", nothing is asked; the main button says "${await mainText(page)}"`);
      });
    const to = /^Mark (\d+(?:\.\d+)?)/.exec(text)?.[1];
    if (/^Take/.test(text)) {
      // the smoke number is asked for by itself, or the button says what comes next
      await untilSo(async () => (await dialog.isVisible()) || (await mainText(page)) !== text, 'the reading was taken');
      continue;
    }
    if (/^Type smoke/.test(text)) await work.typeSmoke();
    else if (/^Mark another/.test(text)) {
      const next = Number(await dialog.getByLabel(/^shutter$/i).inputValue()) - 1;
      await work.typeSetting(String(next));
      work.turned(next);
    } else if (to !== undefined) work.turned(Number(to));
    if (/^Mark/.test(text)) marked += 1;
    await dialog.waitFor({ state: 'detached' });
    // what was done is seen
    await untilSo(async () => (await mainText(page)) !== text, `the main button says something else than "${text}"`);
    if (/^Mark/.test(text)) await time.forward(GAS_MS);
  }
  throw new Error(`the main button never said ${String(until)}; it says ${await mainText(page)}; asked for: ${course.join(', ')}`);
}

/** Passes every test of the run-through, the timed ones with the watch. */
export async function passSafetyTests(
  page: Page,
  time: LedTime,
  hands: { pressWatch(): Promise<void>; pass(): Promise<void>; beforeWatch?(): Promise<void> },
): Promise<void> {
  const onward = page.getByRole('button', { name: /on to Report/i });
  const title = page.locator('#safety-title');
  for (let tests = 0; !(await onward.isVisible()); tests++) {
    const test = await title.innerText();
    if (tests > 20) throw new Error(`no end of tests; now ${test}`);
    if (await page.locator('.watch-main').isVisible()) {
      await hands.beforeWatch?.();
      await hands.pressWatch();
      await page.locator('.watch-over:enabled').waitFor();
      await time.forward(900 + 400 * tests);
      await hands.pressWatch();
      await page.locator('.watch-main:disabled').waitFor();
    }
    await hands.pass();
    await untilSo(async () => (await onward.isVisible()) || (await title.innerText()) !== test, `a test after "${test}"`);
  }
}
