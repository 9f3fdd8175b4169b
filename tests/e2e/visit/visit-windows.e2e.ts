/**
 * One visit, several windows: the host owns it. Both see the same, the controls change hands in the middle of a stopwatch, and a window
 * that only looks on asks for nothing it is refused. The instrument's lines come over a pseudo-terminal. No cheaper test shows: two
 * browsers at one host: what one person types is in the other window, and what each of them asks for. The rules of roles are in
 * tests/main/session.
 */
import { execFile } from 'node:child_process';
import { resolve } from 'node:path';
import { promisify } from 'node:util';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startAppProcess, type AppProcess } from '../../helpers/host/app-process.ts';
import { launchChromium } from '../../helpers/browser/chromium.ts';
import { createLedTime, type LedTime } from '../../helpers/host/led-time.ts';
import { startPtyBurner, type PtyBurner } from '../../helpers/ports/pty-burner.ts';
import { noPty } from '../../helpers/ports/pty.ts';
import { openWireWindow } from '../../helpers/host/wire-window.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';

let browser: Browser;
let app: AppProcess;
let instrument: PtyBurner;
let time: LedTime;

beforeAll(async () => {
  if (noPty !== undefined) return;
  browser = await launchChromium();
  instrument = await startPtyBurner();
  time = createLedTime({ instruments: [instrument] });
  app = await startAppProcess({ source: instrument.path, time, extraArgs: ['--linger', '600'] });
});
afterAll(async () => {
  time?.stop();
  await browser?.close();
  await app?.stop();
  await instrument?.stop();
});

/** A window counts what it asks and what is refused. */
type Window = { page: Page; asked: { name: string; refusedAs?: string }[]; refused: () => string[] };

async function openAt(link: string): Promise<Window> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
  const page = await context.newPage();
  const asked: (Window['asked'][number] & { id: number })[] = [];
  page.on('websocket', (socket) => {
    const read = (
      payload: string | Buffer,
    ): { type?: string; id?: number; name?: string; result?: { ok: boolean; error?: { code: string } } } => {
      try {
        return JSON.parse(String(payload)) as object;
      } catch {
        return {};
      }
    };
    socket.on('framesent', ({ payload }) => {
      const { type, id, name } = read(payload);
      if (type === 'call' && id !== undefined) asked.push({ id, name: name ?? '' });
    });
    socket.on('framereceived', ({ payload }) => {
      const { type, id, result } = read(payload);
      if (type !== 'reply' || result === undefined || result.ok) return;
      const call = asked.find((one) => one.id === id);
      if (call !== undefined) call.refusedAs = result.error?.code ?? '?';
    });
  });
  await page.goto(link);
  return { page, asked, refused: () => asked.flatMap(({ name, refusedAs }) => (refusedAs === undefined ? [] : [`${name}: ${refusedAs}`])) };
}
/** A second start in the same folder only says where another window opens. */
async function linkFor(role: 'operator' | 'viewer'): Promise<string> {
  const args = [resolve('dist/main/node.mjs'), '--no-open', '--data', app.dataFolder, '--as', role];
  const { stdout } = await promisify(execFile)(process.execPath, args);
  const found = /http:\/\/127\.0\.0\.1:\d+\/#code=[\w-]+/.exec(stdout);
  if (found === null) throw new Error(stdout);
  return found[0];
}
const press = (page: Page, name: RegExp): Promise<void> => page.getByRole('button', { name }).first().click();
const valueOf = (page: Page, label: string): Promise<string> => page.getByLabel(label, { exact: true }).inputValue();
async function readCautions(page: Page): Promise<void> {
  const button = page.getByRole('button', { name: /^Read and understood/ }).first();
  await button.click();
  await button.waitFor({ state: 'detached' });
}
const waitValue = async (page: Page, label: string, text: string): Promise<void> => expect.poll(() => valueOf(page, label)).toBe(text);

describe.skipIf(noPty !== undefined)('a visit in two windows', () => {
  let one: Window;
  let two: Window;
  const technician = 'Technician';

  it('is shown in both as soon as it was started in one, and what is typed here is read there', async () => {
    one = await openAt(app.link);
    const dialog = one.page.getByRole('dialog');
    await dialog.waitFor();
    await one.page.keyboard.press('Enter');
    await dialog.waitFor({ state: 'detached' });
    const agrees = one.page.getByRole('button', { name: /^Yes, the display agrees/ });
    await time.until('the lines are understood', () => agrees.isVisible());
    await agrees.click();
    await one.page.getByText('Compare with the display.').first().waitFor({ state: 'detached' });
    two = await openAt(await linkFor('operator'));
    // the newer window has the controls; the first takes them back
    await press(one.page, /^Take over/);
    await press(one.page, /^(Begin|Start) a visit/);
    await readCautions(one.page);
    await two.page.getByLabel(technician, { exact: true }).waitFor();
    await one.page.getByLabel(technician, { exact: true }).fill('A. Sample');
    await waitValue(two.page, technician, 'A. Sample');
    expect(two.refused()).toEqual([]);
  });

  it('takes the last of two who type the same field, and both see it', async () => {
    await one.page.getByLabel(technician, { exact: true }).fill('B. First');
    await waitValue(two.page, technician, 'B. First');
    await press(two.page, /^Take over/);
    await two.page.getByLabel(technician, { exact: true }).fill('C. Second');
    await waitValue(one.page, technician, 'C. Second');
    expect(await valueOf(two.page, technician)).toBe('C. Second');
  });

  it('has its stopwatch taken over while it runs', async () => {
    await press(two.page, /^Safety/);
    const saves = (): number => two.asked.filter(({ name }) => name === 'visit.edit').length;
    const before = saves();
    await readCautions(two.page);
    // what was acknowledged here is on its way before the controls go
    await expect.poll(saves).toBeGreaterThan(before);
    await press(two.page, /^Lockout, no ignition/);
    await two.page.keyboard.press('Space');
    const line = one.page.getByRole('region', { name: 'Lockout, no ignition: the watch is running' });
    await line.waitFor();
    await press(one.page, /^Take over/);
    await line.getByRole('button', { name: 'Stop the watch' }).click();
    // both have heard the host's time: a button without controls says nothing of the watch
    const stopped = async ({ page }: Window): Promise<string> => {
      await page.locator('.watch-words .state').getByText('stopped', { exact: true }).waitFor();
      return page.locator('.watch-figure').innerText();
    };
    expect(await stopped(one)).toBe(await stopped(two));
  });

  it('costs the window that only looks on no refused call in a minute of the burner', async () => {
    const before = two.refused().length;
    const calls = two.asked.length;
    instrument.burner.setAdjuster('shutter', 6, time.nowMs());
    const endMs = time.nowMs() + 60_000;
    await time.until('a minute', () => time.nowMs() >= endMs);
    expect(two.refused().slice(before)).toEqual([]);
    // lists and appliances are read again when the records say so; nothing is written from here
    const names = new Set(two.asked.slice(calls).map(({ name }) => name));
    expect([...names].filter((name) => !['visit.list', 'appliance.get', 'visit.now', 'report.preview'].includes(name))).toEqual([]);
  });

  it('goes on with no window at all in the middle of the air curve: opened again at the same step, with its trials and those that came', async () => {
    const visitNow = async (): Promise<Visit> => {
      const wire = await openWireWindow(await linkFor('viewer'));
      const now = await wire.client.call('visit.now', {});
      await wire.close();
      if (!now.ok || now.value.front.stored === undefined) throw new Error('no visit is in front');
      return now.value.front.stored.visit;
    };
    await press(one.page, /^Air curve/);
    await expect.poll(async () => (await visitNow()).at?.step).toBe('air-curve');
    // long enough for the burner to come to rest
    await time.forward(600_000);
    const before = await visitNow();
    expect(before.trials.length).toBeGreaterThan(0);
    await Promise.all([one, two].map(({ page }) => page.context().close()));
    instrument.burner.setAdjuster('shutter', 5, time.nowMs());
    const takenMs = ({ trials }: Visit): number => trials.at(-1)?.reading?.takenMs ?? 0;
    // five minutes, and as long as this burner takes to come to rest
    await time.forward(300_000);
    for (let minute = 0; minute < 30 && takenMs(await visitNow()) <= takenMs(before); minute++) await time.forward(60_000);

    one = await openAt(await linkFor('operator'));
    const isStep = one.page.getByRole('button', { name: /^Air curve/ }).and(one.page.locator('[aria-current=step]'));
    await isStep.waitFor();
    const after = await visitNow();
    expect(after.at).toEqual(before.at);
    expect(after.runs).toEqual(before.runs);
    // what was read before stands as it stood; the reading at the new setting came with nobody there
    expect(after.trials.slice(0, before.trials.length - 1)).toEqual(before.trials.slice(0, -1));
    expect(after.trials.map(({ id }) => id).slice(0, before.trials.length)).toEqual(before.trials.map(({ id }) => id));
    expect(takenMs(after)).toBeGreaterThan(takenMs(before));
  });
});
