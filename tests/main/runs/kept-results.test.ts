/** What is kept of a run that was read: used again only where every input is the same, and equal to what a reading gives. */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { createKeptResults } from '../../../main/runs/stored/kept-results.ts';
import { openRunFile } from '../../../main/runs/file/run-file.ts';
import { keepReread } from '../../../main/runs/stored/reread.ts';
import { exportRun } from '../../../main/runs/stored/run-export.ts';
import { createStoredRuns, findJudged } from '../../../main/runs/stored/stored-runs.ts';
import { createReportRuns } from '../../../main/report/load-run.ts';
import { tidyDataFolder } from '../../../main/store/backup/restore.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import { defaultTolerances } from '../../../shared/measurement/limits.ts';
import { RUN_FORMAT, RUN_VERSION, type RunHeader } from '../../../shared/measurement/run.ts';
import { encodeEntry, encodeHeader } from '../../../shared/measurement/run-format.ts';
import type { FoldSettings } from '../../../shared/pipeline/run-fold.ts';
import { writeDayRun } from '../../helpers/day-run.ts';
import { commaRecipe } from '../../helpers/comma-recipe.ts';

const folders: string[] = [];
afterEach(() => folders.splice(0).forEach((folder) => rmSync(folder, { recursive: true, force: true })));

const KEPT = '.flueside-kept';
const recipe = commaRecipe('three columns', ['o2', 'co', 'stackTemperature'], { shape: { kind: 'columns', delimiter: ',', count: 3 } });
const header: RunHeader = {
  format: RUN_FORMAT,
  version: RUN_VERSION,
  runId: 'one',
  startWallMs: 1_900_000_000_000,
  zoneMinutes: 0,
  source: {
    kind: 'serial',
    label: 'A',
    path: 'A',
    settings: { baud: 9600, dataBits: 8, parity: 'none', stopBits: 1, rtscts: false, dtr: true, rts: true },
  } as never,
  recipe,
  fuelId: 'no2',
  appVersion: '',
};

/** words for no value, and a gap: an unplugged stretch */
function makeRun(through = recipe): { data: string; path: string } {
  const data = mkdtempSync(join(tmpdir(), 'kept-'));
  folders.push(data);
  const text = [encodeHeader({ ...header, recipe: through })];
  for (let at = 0; at < 400; at++) {
    const timeMs = at * 500 + (at > 220 ? 90_000 : 0);
    const co = at % 97 === 5 ? '---' : String(20 + (at % 3));
    if (at === 221) text.push(encodeEntry({ kind: 'gap', timeMs, gap: { reason: 'unplugged', fromMs: 220 * 500 } }));
    text.push(
      encodeEntry({
        kind: 'line',
        timeMs,
        bytes: `${(5 + Math.sin(at / 900)).toFixed(2)},${co},${(180 + Math.sin(at / 50) / 5).toFixed(1)}`,
      }),
    );
  }
  text.push(encodeEntry({ kind: 'end', timeMs: 400 * 500 + 90_000 }));
  const path = join(data, 'runs', 'one.run');
  return { data, path: (writeRun(path, text.join('')), path) };
}
function writeRun(path: string, text: string): void {
  const folder = join(path, '..');
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  writeFileSync(path, text);
}

/** opens it as a program that has just started, and says what came out and whether it was read or found */
async function open(data: string, settings: FoldSettings = {}, program = 'program 1') {
  const said: string[] = [];
  const kept = createKeptResults(data, { program, said: (text) => said.push(text), leastBytes: 1 });
  const stored = createStoredRuns(join(data, 'runs'), () => settings, kept);
  const opened = await stored.open('one');
  if (!opened.ok) throw new Error(opened.error.code);
  await stored.rested();
  const { fold, trace, earlier, isFound } = opened.value;
  const shown = JSON.stringify([
    trace.history(fold, 0, 1e8, 700),
    trace.history(fold, 100_000, 215_000, 300),
    fold.lastLines(40),
    fold.recipe,
    fold.counters,
    earlier,
  ]);
  return { shown, isFound: isFound === true, said };
}
const keptFile = (data: string): string => {
  const [name] = readdirSync(join(data, KEPT)).filter((one) => one.startsWith('one.read'));
  if (name === undefined) throw new Error('nothing is kept');
  return join(data, KEPT, name);
};
const flip = (path: string, at: number): void => {
  const bytes = readFileSync(path);
  bytes[at] = (bytes[at] ?? 0) ^ 1;
  writeFileSync(path, bytes);
};

describe('a stored run that is opened again after a restart', () => {
  it('is not read again, and shows the same to the last digit', async () => {
    const { data } = makeRun();
    const first = await open(data);
    const second = await open(data);
    expect([first.isFound, second.isFound]).toEqual([false, true]);
    expect(second.shown).toBe(first.shown);
    expect(second.said).toEqual([]);
  });

  it.each([
    ['a byte of the run', ({ path }: { path: string }) => (flip(path, readFileSync(path).length >> 1), {})],
    ['a byte of its recipe', ({ path }: { path: string }) => (flip(path, readFileSync(path).indexOf('three columns')), {})],
    ['a setting', () => ({ settings: { tolerances: { ...defaultTolerances, o2: 0.31 } as never } })],
    ['the program', () => ({ program: 'program 2' })],
    [
      'its length: the run has grown',
      ({ path }: { path: string }) => (
        writeFileSync(path, encodeEntry({ kind: 'line', timeMs: 9e6, bytes: '5.0,20,181.0' }), { flag: 'a' }),
        {}
      ),
    ],
  ] as const)('is read anew when %s is another', async (_, change) => {
    const run = makeRun();
    await open(run.data);
    const { settings, program } = change(run) as { settings?: FoldSettings; program?: string };
    const again = await open(run.data, settings, program);
    expect(again.isFound).toBe(false);
    expect(again.said).toHaveLength(1);
    // and from then on what was read now is kept
    const third = await open(run.data, settings, program);
    expect(third).toMatchObject({ isFound: true, shown: again.shown });
  });

  it.each([4, 10, 30, 60, -1, -500])('is read anew, the same, when byte %i of what was kept is damaged', async (at) => {
    const { data } = makeRun();
    const first = await open(data);
    const file = keptFile(data);
    flip(file, at < 0 ? readFileSync(file).length + at : at);
    const again = await open(data);
    expect(again).toMatchObject({ isFound: false, shown: first.shown });
    expect(again.said).toHaveLength(1);
  });

  /** the export as a program that has just started makes it, and whether what was kept was asked for and found */
  const exported = async (
    data: string,
    path: string,
    { form = 'json', afterFound }: { form?: 'csv' | 'json'; afterFound?: () => void } = {},
  ): Promise<{ text: string; used: string }> => {
    const kept = createKeptResults(data, { program: 'program 1', said: () => undefined, leastBytes: 1 });
    const file = await openRunFile(path);
    if (!file.ok) throw new Error(file.error.code);
    let used = 'not asked';
    const found = async () => {
      const one = await findJudged(kept, 'one', path, {});
      used = one === undefined ? 'not found' : 'found';
      afterFound?.();
      return one;
    };
    const target = join(data, 'export');
    await exportRun(form, { file: file.value, isReplay: false, settings: Settings.parse({}), foldSettings: {}, found }, target);
    return { text: readFileSync(target, 'utf8'), used };
  };

  it('gives the same export, to the last byte, from the saved results', async () => {
    const { data } = makeRun();
    // it begins in fresh air, which does not count
    const path = writeDayRun(data, 'one', 4000);
    const before = await exported(data, path);
    await open(data);
    const after = await exported(data, path);
    expect([before.used, after.used]).toEqual(['not found', 'found']);
    const { readings, excluded } = JSON.parse(before.text) as { readings: unknown[]; excluded: unknown[] };
    expect([readings.length, excluded.length]).not.toContain(0);
    expect(after.text).toBe(before.text);
    // what was kept is of another run now
    flip(path, readFileSync(path).length >> 1);
    expect((await exported(data, path)).used).toBe('not found');
  });

  it('gives the export of the whole run when it grows in the middle of it', async () => {
    const { data, path } = makeRun();
    await open(data);
    const more = Array.from({ length: 200 }, (_, at) => encodeEntry({ kind: 'line', timeMs: 300_000 + at * 500, bytes: '9.0,40,150.0' }));
    const grown = await exported(data, path, { afterFound: () => writeFileSync(path, more.join(''), { flag: 'a' }) });
    expect(grown.used).toBe('found');
    expect(grown.text).toBe((await exported(data, path)).text);
  });

  // a column that was taken for another was put right after the run: nobody may get the wrong one in a file
  it.each(['csv', 'json'] as const)('gives a run that was read anew as it was read anew, like one captured so: %s', async (form) => {
    const other = commaRecipe('other columns', ['o2', 'stackTemperature', 'co'], {
      shape: { kind: 'columns', delimiter: ',', count: 3 },
    });
    const captured = makeRun(other);
    const { data, path } = makeRun();
    await keepReread(path, other);
    const wanted = await exported(captured.data, captured.path, { form });
    const anew = await exported(data, path, { form });
    await open(data);
    const fromKept = await exported(data, path, { form });
    if (form === 'csv') {
      expect(anew.text).toBe(wanted.text);
      expect(fromKept.text).toBe(wanted.text);
      return;
    }
    type Told = { header: { recipe: unknown }; rereadWith?: unknown; samples: unknown; readings: unknown[] };
    const [like, first, second] = [wanted, anew, fromKept].map(({ text }) => JSON.parse(text) as Told);
    expect([anew.used, fromKept.used]).toEqual(['not found', 'found']);
    expect(like?.readings).not.toHaveLength(0);
    for (const one of [first, second]) {
      expect(one).toEqual({ ...like, header: { ...like?.header, recipe }, rereadWith: other });
    }
  });

  it('gives the same report from the saved results', async () => {
    const { data } = makeRun();
    const load = async (): Promise<{ run: unknown; found: number }> => {
      let found = 0;
      const kept = createKeptResults(data, { program: 'program 1', said: () => undefined, leastBytes: 1 });
      const counting = {
        ...kept,
        find: async (...ask: Parameters<typeof kept.find>) => {
          const one = await kept.find(...ask);
          if (one !== undefined) found++;
          return one;
        },
      };
      const runs = createReportRuns(data, counting);
      return { run: await runs.load('one', {}), found };
    };
    const first = await load();
    const second = await load();
    expect([first.found, second.found]).toEqual([0, 1]);
    expect(second.run).toEqual(first.run);
  });
});

describe('what was kept of a run that is no longer here', () => {
  const withStrangers = (): { data: string; path: string; kept: () => string[] } => {
    const run = makeRun();
    mkdirSync(join(run.data, KEPT));
    // somebody else's, under names that are not ours
    for (const name of ['read.txt', 'one.run', '.one.read']) writeFileSync(join(run.data, KEPT, name), 'x');
    return { ...run, kept: () => readdirSync(join(run.data, KEPT)).sort() };
  };
  const strangers = ['.one.read', 'one.run', 'read.txt'];

  it('is gone after the next start, and so is what was half written; the rest and what is not ours stay', async () => {
    const { data, path, kept } = withStrangers();
    await open(data);
    writeFileSync(join(data, KEPT, 'one.report.123.new'), 'half');
    tidyDataFolder(data);
    expect(kept()).toEqual([...strangers, 'one.read'].sort());
    rmSync(path);
    tidyDataFolder(data);
    expect(kept()).toEqual(strangers);
  });

  it('is gone at the next look', async () => {
    const { data, path, kept } = withStrangers();
    await open(data);
    rmSync(path);
    await expect(open(data)).rejects.toThrow('run-not-found');
    expect(kept()).toEqual(strangers);
  });

  it('makes room for what is newer, and never takes the place of what is not ours', async () => {
    const { data, kept } = withStrangers();
    for (let n = 0; n < 45; n++) writeFileSync(join(data, KEPT, `old-${n}.report`), 'x');
    await open(data);
    expect(kept().filter((name) => name.startsWith('old-'))).toHaveLength(39);
    expect(kept()).toEqual(expect.arrayContaining([...strangers, 'one.read']));
  });
});

it.skipIf(process.platform === 'win32')('what is kept is for its owner alone', async () => {
  const { data } = makeRun();
  await open(data);
  expect(statSync(join(data, KEPT)).mode & 0o77).toBe(0);
  expect(statSync(keptFile(data)).mode & 0o77).toBe(0);
});

it('saves no results of a run that is read faster than they are saved', async () => {
  const { data, path } = makeRun();
  const kept = createKeptResults(data, { program: 'program 1', said: () => undefined });
  expect(await kept.stampOf(path)).toBeUndefined();
  writeFileSync(path, 'x'.repeat(1 << 20));
  expect(await kept.stampOf(path)).toBeDefined();
});
