/**
 * Kinds of visit from prepared states, by keyboard alone: a commissioning from Start to the signature, and a call-back at an appliance with two earlier visits, which
 * begins with what the newer of them left and is signed as left off. No cheaper test shows: that the steps of a kind lead to a signature; which steps a kind has is in tests/shared/tuning.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, it } from 'vitest';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { startAppProcess, type AppProcess } from '../../helpers/host/app-process.ts';
import { launchChromium } from '../../helpers/browser/chromium.ts';
import { createHands } from '../../helpers/browser/counted-hands.ts';
import { fullVisit } from '../../helpers/visits/full-visit.ts';
import { keepVisit } from '../../helpers/visits/kept-visit.ts';
import { signVisit } from '../../../shared/tuning/visit/sign-visit.ts';

const hasPdfTools = spawnSync('pdftotext', ['-v']).status === 0;

let browser: Browser;
let app: AppProcess | undefined;
let folder: string;
beforeAll(async () => {
  browser = await launchChromium();
});
afterEach(async () => {
  await app?.stop();
  rmSync(folder, { recursive: true, force: true });
});
afterAll(async () => {
  await browser?.close();
});

const DAY = 86_400_000;
const full = fullVisit({ source: 'port' });

async function openIn(prepared: string): Promise<Page> {
  app = await startAppProcess({ source: 'none', dataFolder: prepared });
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
  await page.goto(app.link);
  return page;
}

it('a commissioning goes from Start to the signature, geometry first, one Enter from step to step', async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-commissioning-'));
  const { endedWallMs: _ended, ...open } = full.visit;
  const [stage] = open.stages;
  const left = open.trials.at(-1)!;
  const echo = { ...left, id: 'run-full:echo', fromMs: left.fromMs + 1000, takenWallMs: left.takenWallMs + 60_000 };
  await keepVisit(folder, {
    ...full,
    visit: {
      ...open,
      job: 'commissioning',
      at: { step: 'start', stage: '1' },
      trials: [...open.trials, echo],
      stages: [
        {
          name: '1',
          reserveCo2Points: 1,
          ...(stage?.asLeftTrialId !== undefined && { asLeftTrialId: stage.asLeftTrialId }),
          echoTrialId: echo.id,
        },
      ],
      changes: [],
    },
  });
  const page = await openIn(folder);
  const hands = createHands(page);
  await hands.press(/^Go on with visit 42/);
  const thread = (await page.locator('.thread-step').allInnerTexts()).map((text) => text.trim());
  expect(thread.join(' ')).not.toContain('As-found');
  await hands.main(/on to Set-up sheet$/i);
  await hands.press(/^Table/);
  await hands.main(/on to Warm up and draft$/i);
  await hands.main(/^The gauge reads zero/);
  await hands.type('Draft over the fire, as set', '-0.02');
  await hands.choose('Draft regulator', 'set, swings free');
  await hands.main(/on to Air curve$/i);
  await hands.main(/on to As-left$/i);
  await hands.main(/on to Safety$/i);
  await hands.main(/on to Report$/i);
  await page.frameLocator('iframe:not([aria-hidden])').getByText('Not signed yet').waitFor();
  await hands.main(/^Sign/);
  await page.getByText(/^Signed by A\. Sample/).waitFor();
  await page.frameLocator('iframe:not([aria-hidden])').getByText('Commissioning, or a new nozzle').first().waitFor();
});

it('a call-back begins with what the newer of two earlier visits left; left off and red-tagged, it is signed as that, also on paper', async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-call-back-'));
  const sign = (visit: Visit): Visit => {
    const signed = signVisit(visit, { name: 'A. Sample', wallMs: visit.startedWallMs + 1, hash: `hash-${visit.id}` });
    if (!signed.ok) throw new Error(signed.error.key);
    return signed.value;
  };
  // a day later the burner was left with its first setting: O2 far above what the older visit left
  const newer = sign({
    ...full.visit,
    id: 'visit-newer',
    number: 43,
    startedWallMs: full.visit.startedWallMs + DAY,
    stages: [{ ...full.visit.stages[0]!, asLeftTrialId: full.visit.trials[1]?.id }],
  });
  const { endedWallMs: _ended, ...open } = full.visit;
  const today: Visit = {
    ...open,
    id: 'visit-today',
    number: 44,
    job: 'call-back',
    safety: [
      ...full.visit.safety,
      { test: 'flame-failure', result: 'fail', seconds: 60, markedSeconds: 45, wallMs: full.visit.startedWallMs + 2 * DAY },
    ],
    startedWallMs: full.visit.startedWallMs + 2 * DAY,
    at: { step: 'start', stage: '1' },
    stages: [{ name: '1', ...(full.visit.trials[0] !== undefined && { asFoundTrialId: full.visit.trials[0].id }) }],
  };
  await keepVisit(folder, full, { sign: true, more: [newer, today] });
  const page = await openIn(folder);
  const hands = createHands(page);
  await hands.press(/^Go on with visit 44/);
  const table = page.getByRole('table').first();
  await table.waitFor();
  // the newer of the two counts: what it left, and its number
  await expect.poll(() => table.innerText()).toMatch(/visit 43/i);
  const left = full.visit.trials[1]?.reading?.channels.o2?.mean ?? NaN;
  await expect.poll(() => table.innerText()).toContain(left.toFixed(1));

  // its flame failure test failed: it is left off and red-tagged, signed as that, and that is on paper
  await page
    .getByRole('button', { name: /^Report/ })
    .first()
    .click();
  await hands.main(/^Enter what was done/);
  await page.getByLabel('The burner is left off').check();
  await page.getByLabel('It is red-tagged').check();
  await page.getByLabel('Who was told, by name').fill('B. Owner');
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await page.getByText('Left off, red-tagged. Told: B. Owner.').waitFor();
  await hands.main(/^Sign/);
  await page.getByText(/^Signed by A\. Sample/).waitFor();
  await app?.stop();
  app = undefined;
  const out = join(folder, 'paper');
  execFileSync(process.execPath, ['main/scripts/cli.mjs', 'report', '44', '--out', out, '--form', 'pdf', '--data', folder]);
  const paper = readdirSync(out).find((name) => name.endsWith('.pdf')) ?? '';
  if (!hasPdfTools) return;
  const text = execFileSync('pdftotext', ['-layout', join(out, paper), '-'], { encoding: 'utf8' });
  expect(text.slice(0, text.indexOf('\f'))).toMatch(/Not safe to leave running/);
  expect(text).toMatch(/left off/i);
  expect(text).toMatch(/red-tagged/i);
  expect(text).toContain('B. Owner');
});

it('a practice tune-up is scored when it is over: the one mistake that was planted is found, with what it does, and nothing else', async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-scored-'));
  const { endedWallMs: _ended, ...open } = full.visit;
  const [first, second] = [open.trials[0]!, open.trials[1]!];
  const [stage] = open.stages;
  await keepVisit(folder, {
    ...full,
    visit: {
      ...open,
      kind: 'training',
      at: { step: 'report', stage: '1' },
      probeSmoke: [{ wallMs: first.takenWallMs - 60_000, spots: [{ number: 0 }] }],
      drafts: [{ wallMs: second.takenWallMs - 30_000, overFirePa: -5, when: 'set' }],
      // the smoke is found where CO is still below its alarm
      trials: open.trials.map((trial) => {
        const co = trial.reading?.channels.co;
        if (trial.reading === undefined || co === undefined) return trial;
        return {
          ...trial,
          reading: { ...trial.reading, channels: { ...trial.reading.channels, co: { ...co, mean: Math.min(co.mean, 90) } } },
        };
      }),
      // planted: tightened, and not read again
      stages: stage === undefined ? [] : [{ ...stage, echoTrialId: undefined }],
    },
  });
  const page = await openIn(folder);
  await createHands(page).press(/^Go on with visit 42/);
  const scored = page.getByRole('region', { name: 'How it went' });
  await scored.getByRole('heading', { name: 'How it went: 7 of 8' }).waitFor();
  const missed = scored.getByRole('listitem').filter({ hasText: ': missed' });
  expect(await missed.allInnerTexts()).toEqual([
    expect.stringContaining('Nothing was read after tightening: tightening the screws can shift the air.'),
  ]);
});
