import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { SETTINGS_FILE } from '../../../main/settings/settings-file.ts';
import { cautionKeys } from '../../../shared/tuning/advice/cautions.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { keepVisit } from '../../helpers/visits/kept-visit.ts';
import { columnsRecipe } from '../../helpers/ports/run-lines.ts';
import { yearsBefore } from '../../helpers/visits/years.ts';
import { START_WALL_MS, fullVisit } from '../../helpers/visits/full-visit.ts';
import { PORT, plugIn, type HostOptions, type PictureHost } from '../host.ts';

export type Screen = { readonly name: string; readonly open: (page: Page, host: PictureHost) => Promise<unknown> };
export type State = {
  readonly options: Omit<HostOptions, 'windowFiles'>;
  /** before the window opens */
  readonly begin?: (host: PictureHost) => Promise<unknown>;
  readonly screens: readonly Screen[];
};
export type States = Readonly<Record<string, State>>;

export const press = (page: Page, name: RegExp | string): Promise<void> => page.getByRole('button', { name }).first().click();
export const pressLast = (page: Page, name: RegExp | string): Promise<void> => page.getByRole('button', { name }).last().click();
export const key = async (page: Page, ...names: string[]): Promise<void> => {
  for (const name of names) await page.keyboard.press(name);
};
export const heading = (page: Page, name: string | RegExp): Promise<void> => page.getByRole('heading', { name }).first().waitFor();
export const workspace = (page: Page, name: string): Promise<void> =>
  page.getByRole('navigation', { name: 'Workspaces' }).getByRole('button', { name }).click();
export const escape = async (page: Page): Promise<void> => {
  await page.keyboard.press('Escape');
  await page.locator('dialog[open]').waitFor({ state: 'detached' });
};
export const dialog = (page: Page): Promise<void> => page.locator('dialog[open]').first().waitFor();
export const toStep = (page: Page, name: string): Promise<void> => page.locator('.thread-step', { hasText: name }).click();
/** cautions of a step that were not read yet */
export const readAny = async (page: Page): Promise<void> => {
  const read = page.getByRole('button', { name: /^(Read and understood|I have read)/ });
  if (await read.first().isVisible()) await read.first().click();
};

export const readCautions = { cautionsReadWallMs: START_WALL_MS };
export const settled = { ...readCautions, tourSeenWallMs: START_WALL_MS, technician: { name: 'A. Sample', licence: 'T-100' } };
export const settings = (folder: string, more: object = settled): void => writeFileSync(join(folder, SETTINGS_FILE), JSON.stringify(more));
export const withSettings = (folder: string): Promise<void> => Promise.resolve(settings(folder));

/** The instrument at the port, understood and compared with its display. */
export async function connect(host: PictureHost, visitId?: string): Promise<string> {
  plugIn(host);
  const { runId } = await host.ask('run.start', {
    source: { kind: 'serial', path: PORT },
    recipe: columnsRecipe,
    fuelId: 'no2',
    setting: {
      stage: '1',
      positions: [
        { name: 'Shutter', value: 7 },
        { name: 'Band', value: 3 },
      ],
    },
    ...(visitId !== undefined && { visitId }),
  });
  await host.pass(10);
  await host.ask('run.compareDisplay', { runId, agrees: true }).catch(() => undefined);
  return runId;
}

export const openVisit = (): { full: ReturnType<typeof fullVisit>; visit: Visit } => {
  const full = fullVisit({ source: 'port' });
  const { endedWallMs: _ended, ...visit } = full.visit;
  return { full, visit: { ...visit, cautions: cautionKeys.map((name) => ({ key: name, wallMs: START_WALL_MS })) } };
};

/** Half done: the last tests of the run-through are open. */
export const underWay = (visit: Visit): Visit => ({
  ...visit,
  unitPreset: 'us',
  job: 'service',
  safety: visit.safety.slice(0, 4),
});

/** @param years that the appliance was visited before */
export async function visitFolder(
  folder: string,
  change: (visit: Visit) => Visit = underWay,
  years = 2,
  changeEarlier: (visit: Visit) => Visit = (visit) => visit,
): Promise<void> {
  settings(folder);
  const { full, visit } = openVisit();
  const more = [1, 2].slice(0, years).map((ago) => changeEarlier(yearsBefore(full.visit, ago, { stackK: -6 * ago, o2: 0.3 * ago })));
  await keepVisit(folder, { ...full, visit: change(visit) }, { more });
}

export const reportShown = (page: Page): Promise<void> =>
  page.frameLocator('iframe:not([aria-hidden])').getByText('Technical record').first().waitFor();
