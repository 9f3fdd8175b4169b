/** Recipes in the real window: changed, saved, hostile, polled, and as fast as the lines come. No cheaper test shows that the preview, the file and the run agree. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { violationsOf } from '../../helpers/browser/axe.ts';
import { pressEnter } from '../../helpers/browser/main-button.ts';
import { noPty } from '../../helpers/ports/pty.ts';
import { begin, agree, unknown, roleOf, linesKept, withBrowser } from './lines-parts.ts';

withBrowser();

describe.skipIf(noPty !== undefined)('the recipe that reads the lines', () => {
  it('changes a recipe by keyboard with a preview of the own lines, uses it, and keeps what the lines gave before', async () => {
    const { page, send, app } = await begin();
    await send(unknown.slice(0, 40));
    await agree(page);
    await page.keyboard.press('l');
    await expect.poll(() => roleOf(page, 5).inputValue()).toBe('o2');
    await roleOf(page, 1).focus();
    await page.keyboard.type('NO');
    await expect.poll(() => roleOf(page, 1).inputValue()).toBe('no');
    await page.getByText('with your changes').waitFor();
    await page.getByText('changed, not used yet').waitFor();
    await page.getByRole('heading', { name: 'Line view' }).focus();
    await page.keyboard.press('r');
    await page.getByText(/Read \d+ of the last \d+ lines with it/).waitFor();
    await pressEnter(page);
    await page.getByText('The recipe is used from now on').waitFor();
    await expect.poll(() => linesKept(app).filter((line) => line.includes('\tchange\t')).length).toBe(2);
    await page.getByText('Saved recipes').click();
    await page.getByText('used before in this run').waitFor();
  });

  it('keeps a recipe, counts its versions, saves it as a file, opens it again and refuses what is none; a long line is shown whole', async () => {
    const { page, send, app } = await begin();
    await send([...unknown.slice(0, 40), `23|21.5|OK|212.4|4.1|${'long '.repeat(60)}end of it`]);
    await page.keyboard.press('l');
    await expect.poll(() => roleOf(page, 5).inputValue()).toBe('o2');

    // the newest line is chosen by the arrow key, so it has to be there
    await page.locator('.line-row', { hasText: 'end of it' }).waitFor();
    const long = page.locator('.line-row').last();
    const heightOf = async (): Promise<number> => (await long.boundingBox())?.height ?? 0;
    const short = await heightOf();
    await page.getByRole('group', { name: 'Lines', exact: true }).focus();
    await page.keyboard.press('ArrowUp');
    await expect.poll(heightOf).toBeGreaterThan(short * 2);
    const text = long.locator('.text');
    expect(await text.evaluate((node) => node.scrollWidth <= node.clientWidth + 1)).toBe(true);
    await page.keyboard.press('ArrowDown');
    await expect.poll(heightOf).toBe(short);

    await page.getByText('Saved recipes').click();
    const name = page.getByLabel('Name', { exact: true });
    await name.fill('Cellar meter');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await page.getByText('Saved as “Cellar meter”, version 1.').waitFor();
    await roleOf(page, 1).selectOption('no');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await page.getByText('Saved as “Cellar meter”, version 2.').waitFor();
    await page.getByText('version 1, earlier version').waitFor();

    const coming = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save as file' }).click();
    const download = await coming;
    expect(download.suggestedFilename()).toBe('Cellar-meter.flueside-recipe');
    const path = join(app.dataFolder, 'saved.flueside-recipe');
    await download.saveAs(path);
    const saved = JSON.parse(readFileSync(path, 'utf8')) as { name: string; fields: { channel: string }[] };
    expect([saved.name, saved.fields.some(({ channel }) => channel === 'no')]).toEqual(['Cellar meter', true]);

    const picker = page.locator('input[type=file]');
    writeFileSync(join(app.dataFolder, 'wrong.json'), '{"name":"no recipe"}');
    await picker.setInputFiles(join(app.dataFolder, 'wrong.json'));
    await page.getByText('This file is not a line recipe. Nothing was changed.').waitFor();
    writeFileSync(path, JSON.stringify({ ...saved, name: 'From a colleague' }));
    await picker.setInputFiles(path);
    await page.getByText('“From a colleague” was read from the file.').waitFor();
    await expect.poll(() => name.inputValue()).toBe('From a colleague');
    expect(await violationsOf(page)).toEqual([]);
  });

  it('is not stopped by a hostile pattern, and says what is wrong with a broken one', async () => {
    const { page, send, complaints } = await begin();
    await send(unknown.slice(0, 20));
    await page.keyboard.press('l');
    await page.getByLabel('How a line is built').selectOption('pattern');
    const pattern = page.getByLabel('Pattern', { exact: true });
    await pattern.fill('(?P<o2>[0-9');
    await page.getByText('This pattern cannot be used').waitFor();
    for (const hostile of ['(?P<o2>((a+)+)+$)', '(?P<o2>((.*){100}){9})b', '(?P<o2>(((x{30}){30}){30}))']) {
      await pattern.fill(hostile);
      await send([`${'a'.repeat(900)}`]);
    }
    await page.getByRole('button', { name: 'Discard changes' }).click();
    await send(unknown.slice(20, 30));
    await page.getByText('changed, not used yet').waitFor({ state: 'detached' });
    await page
      .getByText(unknown[29]?.slice(0, 4) ?? '?')
      .first()
      .waitFor();
    expect(complaints).toEqual([]);
  });

  it('sends nothing to a polled instrument before the bytes were shown and agreed to', async () => {
    const { page, pty } = await begin();
    await pty.ask('answer 4.1,23,212.4,21.5', 'answer');
    await pty.ask('poll once', 'poll');
    await page.keyboard.press('l');
    await page.getByText('Saved recipes').click();
    await page.getByRole('button', { name: 'Take “Polled”', exact: true }).click();
    await page.getByRole('heading', { name: 'Line view' }).focus();
    await pressEnter(page);
    await page.getByText('READ?<CR><LF>', { exact: true }).waitFor();
    await page.getByText('May Flueside ask this instrument?').waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await page.getByRole('button', { name: 'Yes, ask it' }).click();
    expect(await pty.ask('', 'received')).toBe(`received ${Buffer.from('READ?').toString('hex')}`);
    await page.getByText(/Asking: \d+ answers to \d+ questions/).waitFor();
    await page.getByText('4.1', { exact: true }).first().waitFor();
    await page.getByRole('button', { name: 'Stop asking' }).click();
    await page.getByText('May Flueside ask this instrument?').waitFor();
  });

  it('keeps up with the lines of 921 600 baud beside the open window: a click is answered, every line is in the file', async () => {
    const { page, pty, app, send } = await begin();
    await send(unknown.slice(0, 40));
    await page.keyboard.press('l');
    await expect.poll(() => roleOf(page, 5).inputValue()).toBe('o2');
    // 921 600 baud, 10 bits a byte, 38 bytes a line: some 2 400 lines a second
    await pty.ask('line 23|21.5|OK|212.4|4.1 ..........{n}', 'line');
    const done = pty.ask('flood 2400 7200', 'flood done');
    await page.waitForFunction(() => document.body.innerText.includes('..........'));
    // how soon it is answered is measured by `npm run speed -- flood`: on a busy computer a journey cannot tell
    await page.getByRole('button', { name: /^Pause/ }).click();
    await page.getByRole('button', { name: /^Go on/ }).waitFor();
    await done;
    const flooded = (): string[] => linesKept(app).filter((line) => line.includes('..........'));
    await expect.poll(() => flooded().length).toBe(7200);
    const numbers = flooded().map((line) => Number(line.split('..........')[1]));
    expect(numbers.every((number, at) => at === 0 || number === (numbers[at - 1] ?? 0) + 1)).toBe(true);
  });
});
