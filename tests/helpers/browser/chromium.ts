/** Finds and starts the Chromium that the journeys look through. */
import { homedir } from 'node:os';
import { delimiter, join } from 'node:path';
import { chromium, type Browser } from 'playwright-core';
import { quietFlags, rootFlags } from '../../../main/browser/browser-flags.ts';
import { findBrowser, isProgram } from '../../../main/browser/find-browser.ts';
import { PATIENCE_MS } from '../patience.ts';

/** @returns the program's path, or undefined when no browser of the Chromium family is installed */
export const chromiumProgram = (): string | undefined =>
  findBrowser({ platform: process.platform, env: process.env, home: homedir(), isProgram });

/** The same engine without the parts of a window that nobody sees (Debian has it): 15 % less processor time than a whole browser that hides. */
const windowless = (): string | undefined =>
  (process.env['PATH'] ?? '')
    .split(delimiter)
    .map((folder) => join(folder, 'chromium-headless-shell'))
    .find(isProgram);

/**
 * @param options.whole true: the browser that people have, where pages, pictures or times are looked at; the windowless one sets type a little wider
 * @throws when there is none: a journey is only started where there is one
 */
export async function launchChromium({ whole = false }: { whole?: boolean } = {}): Promise<Browser> {
  const executablePath = (whole ? undefined : windowless()) ?? chromiumProgram();
  if (executablePath === undefined) throw new Error('no Chromium on this machine');
  const asRoot = process.getuid?.() === 0;
  const browser = await chromium.launch({ executablePath, headless: true, args: [...quietFlags, ...(asRoot ? rootFlags : [])] });
  browser.on('context', (context) => context.setDefaultTimeout(PATIENCE_MS));
  return browser;
}
