/** One zip for support: versions, what is set without names, the log. Readings only when the person ticks them. */
import { readdir, stat } from 'node:fs/promises';
import { arch, release, type } from 'node:os';
import { join } from 'node:path';
import type { Settings } from '../../shared/ipc/settings.ts';
import { writeZip, type ZipSource } from '../store/backup/zip.ts';
import type { Log } from './log.ts';

export type SupportParts = {
  readonly version: string;
  readonly host: string;
  readonly settings: Settings;
  readonly log: Log;
  readonly dataFolder: string;
  readonly withReadings: boolean;
};

export async function writeSupportReport(path: string, parts: SupportParts): Promise<void> {
  const { version, host, settings, log, dataFolder, withReadings } = parts;
  const { technician: _person, adjusters, keys: _keys, office, ...rest } = settings;
  const about = {
    flueside: version,
    host,
    node: process.versions.node,
    electron: process.versions['electron'],
    system: `${type()} ${release()} ${arch()}`,
    settings: { ...rest, adjusters: adjusters.length, office: office.kind },
  };
  await writeZip(path, [
    { name: 'about.json', text: `${JSON.stringify(about, null, 2)}\n` },
    ...log.files().map(({ name, text }) => ({ name: `logs/${name}`, text })),
    ...(withReadings ? await newestRuns(dataFolder) : []),
  ]);
}

const MOST_RUNS = 3;
const LARGEST_BYTES = 30_000_000;

/** The run files written last; a very long one is left out. */
async function newestRuns(dataFolder: string): Promise<ZipSource[]> {
  const folder = join(dataFolder, 'runs');
  const names = (await readdir(folder).catch(() => [])).filter((name) => name.endsWith('.run'));
  const known = await Promise.all(names.map(async (name) => ({ name, ...(await stat(join(folder, name))) })));
  return known
    .filter(({ size }) => size <= LARGEST_BYTES)
    .sort((a, b) => b.mtimeMs - a.mtimeMs)
    .slice(0, MOST_RUNS)
    .map(({ name }) => ({ name: `runs/${name}`, path: join(folder, name) }));
}
