/**
 * An instrument that nobody has described, from its first line to confirmed columns: the built app, a pseudo-terminal, a real browser. No
 * cheaper test shows: a true port and its drivers before a true window: figures on screen from lines that nobody described, and a click
 * answered in a flood. What the learner makes of lines is in tests/shared/lines.
 */
import { describe, expect, it } from 'vitest';
import { violationsOf } from '../../helpers/browser/axe.ts';
import { mainRested } from '../../helpers/browser/main-button.ts';
import { noPty } from '../../helpers/ports/pty.ts';
import { begin, agree, rows, unknown, roleOf, linesKept, withBrowser } from './lines-parts.ts';

withBrowser();

describe.skipIf(noPty !== undefined)('lines of an unknown instrument', () => {
  it('shows the right O2, CO and temperatures within 30 s of the first line, with the columns confirmed by two facts', async () => {
    const { page, send, pty, complaints } = await begin();
    const startMs = performance.now();
    await send(unknown.slice(0, 40));
    await agree(page);
    await page.keyboard.press('l');
    await page.getByRole('heading', { name: 'Line view' }).waitFor();
    for (const [place, role] of [
      [1, 'co'],
      [2, 'airTemperature'],
      [4, 'stackTemperature'],
      [5, 'o2'],
    ] as const)
      await expect.poll(() => roleOf(page, place).inputValue()).toBe(role);

    await page.getByRole('button', { name: 'Check now' }).click();
    await send(Array.from({ length: 12 }, (_, at) => `${at % 2}|21.${at % 2}|OK|22.${at % 3}|20.9`));
    await page.getByText('Room air confirmed').waitFor();
    await page.getByRole('button', { name: 'I am warming it' }).click();
    await page.getByText('Keep warming the tip').waitFor();
    await send(Array.from({ length: 25 }, (_, at) => `${at % 2}|21.${at % 2}|OK|${22 + Math.min(12, at)}.0|20.9`));
    await page.getByText('The columns are confirmed').waitFor();
    expect(performance.now() - startMs).toBeLessThan(30_000);
    expect(await violationsOf(page)).toEqual([]);
    await page.emulateMedia({ colorScheme: 'light' });
    expect(await violationsOf(page)).toEqual([]);

    // A figure is the mean of the last second, so that the instrument goes on sending its last reading for a while.
    await pty.ask(`line ${unknown.at(-1) ?? ''}`, 'line');
    await pty.ask('rate 5', 'rate');
    await page.keyboard.press('Escape');
    const last = rows.at(-1);
    const figure = (name: string) => page.getByRole('group', { name: new RegExp(`^${name} `) });
    await figure('O2')
      .getByText(last?.o2.toFixed(1) ?? '?', { exact: true })
      .waitFor();
    await figure('CO')
      .getByText(last?.co.toFixed(0) ?? '?', { exact: true })
      .waitFor();
    expect(complaints).toEqual([]);
  });

  it('asks where two columns could be CO, and takes the answer by a key', async () => {
    const { page, send } = await begin();
    await send(
      rows.map(
        ({ o2, stack, air }, at) => `${o2.toFixed(1)},${40 + ((at * 7) % 5)},${42 + ((at * 3) % 5)},${stack.toFixed(1)},${air.toFixed(1)}`,
      ),
    );
    await page.keyboard.press('l');
    await page.getByRole('heading', { name: 'Is this what your instrument sends?' }).waitFor();
    const what = (column: number) => page.getByRole('combobox', { name: `What column ${column} is` });
    expect(await violationsOf(page)).toEqual([]);
    // one answer changes its own column, and takes the channel from the other that had it
    await what(3).selectOption('co');
    await expect.poll(() => what(2).inputValue()).toBe('none');
    await expect.poll(() => what(1).inputValue()).toBe('o2');
    await page.getByRole('button', { name: /^Use these \d channels/ }).click();
    await page.keyboard.press('Escape');
    await agree(page);
    await page.keyboard.press('l');
    await expect.poll(() => roleOf(page, 3).inputValue()).toBe('co');
  });

  it('an unknown board with one gas and a temperature: one question, "not used" for the temperature, then the display', async () => {
    const { page, send } = await begin();
    await send([
      'time;O2 [%];Temp [°C]',
      ...rows.slice(0, 40).map(({ o2, stack }, at) => `11:20:${String(at).padStart(2, '0')};${o2.toFixed(1)};${stack.toFixed(1)}`),
    ]);
    await page.getByRole('button', { name: /Look at the columns/ }).click();
    const what = page.getByRole('combobox', { name: 'What column 3 is' });
    await what.selectOption('none');
    await page.keyboard.press('Tab');
    await page.getByRole('button', { name: /Use this 1 channel/ }).click();
    await page.keyboard.press('Escape');
    await page.getByText('Does the display show').waitFor();
    expect(await violationsOf(page)).toEqual([]);
    await agree(page);
    await page.getByRole('group', { name: /^O2 / }).waitFor();
  });

  it('a plant table of 150 columns: three channels among them are found without a question', async () => {
    const { page, send } = await begin();
    const names = Array.from({ length: 150 }, (_, at) =>
      at === 40
        ? 'Flue gas O2 [%]'
        : at === 41
          ? 'Flue gas CO [ppm]'
          : at === 77
            ? 'Stack temperature [degC]'
            : `P${at} drum pressure [bar]`,
    );
    await send([
      names.join(';'),
      ...rows
        .slice(0, 16)
        .map((row, at) =>
          names
            .map((_, column) =>
              column === 40
                ? row.o2.toFixed(2)
                : column === 41
                  ? row.co.toFixed(0)
                  : column === 77
                    ? row.stack.toFixed(1)
                    : (column + (at % 7) / 10).toFixed(1),
            )
            .join(';'),
        ),
    ]);
    await page.getByText('Does the display show').waitFor();
    for (const place of ['column 41', 'column 42', 'column 78']) await page.getByText(new RegExp(`^${place},`)).waitFor();
    await agree(page);
  });

  it('the display shows other figures: "no" goes to the table of columns, nothing is used', async () => {
    const { page, send, app } = await begin();
    await send(rows.slice(0, 20).map(({ o2, co, stack }) => `O2=${o2.toFixed(1)}% CO=${co.toFixed(0)}ppm TS=${stack.toFixed(0)}C`));
    await page.getByText('Does the display show').waitFor();
    await mainRested(page);
    await page.keyboard.press('2');
    await page.getByRole('heading', { name: 'Is this what your instrument sends?' }).waitFor();
    expect(linesKept(app).filter((line) => line.includes('\tchange\t'))).toEqual([]);
    await expect.poll(() => page.getByRole('group', { name: /^O2 / }).count()).toBe(0);
  });
});
