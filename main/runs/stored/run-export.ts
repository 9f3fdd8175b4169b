/** A stored run as CSV, JSON or plain text. Streams from file to file, so that a day's run needs no memory. */
import { createWriteStream } from 'node:fs';
import { once } from 'node:events';
import type { Settings } from '../../../shared/ipc/settings.ts';
import { channelIds, type ChannelId } from '../../../shared/measurement/channel.ts';
import type { LineRecipe } from '../../../shared/measurement/recipe.ts';
import type { RunEntry, RunHeader } from '../../../shared/measurement/run.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import { createPauses } from '../../pauses.ts';
import { createRunFold } from '../../../shared/pipeline/fold-run.ts';
import { type FoldSettings, type RunFold } from '../../../shared/pipeline/run-fold.ts';
import { deriveReading } from '../../../shared/pipeline/derive-now.ts';
import { quantities } from '../../../shared/units/quantities.ts';
import type { RunFile } from '../file/run-file.ts';
import { asCaptured, rereadRecipeOf, underRecipe } from './reread.ts';
import type { ToldOfRun } from './run-trace.ts';
import { csvRow, type CsvStyle } from '../../../shared/format/csv.ts';
import { isoStamps } from '../../../shared/format/date.ts';
import { runsTexts } from '../../../shared/words/host.ts';
import { whenDefined } from '../../../shared/defined.ts';

export type ExportForm = 'csv' | 'json' | 'text';

export type ExportParts = {
  readonly file: RunFile;
  readonly isReplay: boolean;
  readonly settings: Settings;
  readonly foldSettings: FoldSettings;
  /** what was found when this very file was last read; undefined where nothing was kept of it */
  readonly found?: () => Promise<FoundBefore | undefined>;
};
export type FoundBefore = Pick<ToldOfRun, 'readings' | 'excluded'> & {
  /** is the file still what it was when this was found? */
  isStill(): Promise<boolean>;
};

export const exportKinds: Record<ExportForm, { ending: string; mime: string }> = {
  csv: { ending: 'csv', mime: 'text/csv; charset=utf-8' },
  json: { ending: 'json', mime: 'application/json' },
  text: { ending: 'txt', mime: 'text/plain; charset=iso-8859-1' },
};

/** @returns the mark that data which measured nothing must carry, first thing in the file */
function watermark(header: RunHeader, isReplay: boolean): string | undefined {
  if (header.source.kind === 'simulated') return 'SIMULATED DATA - not a measurement';
  return isReplay ? runsTexts.replayed : undefined;
}

/** How an export is followed: told which share of the run has been read, stopped when the signal says so. */
export type ExportWatch = { readonly reached: (share: number) => void; readonly signal?: AbortSignal };

/** Writes the export to `path`. @throws what the disk throws, and the signal's reason when it was stopped; half a file is left then */
export async function exportRun(form: ExportForm, parts: ExportParts, path: string, watch?: ExportWatch): Promise<void> {
  const out = createWriteStream(path, { encoding: form === 'text' ? 'latin1' : 'utf8', mode: 0o600 });
  const failed = once(out, 'error').then(([cause]) => Promise.reject(cause as Error));
  failed.catch(() => undefined);
  let waiting = '';
  const flush = async (): Promise<void> => {
    const text = waiting;
    waiting = '';
    if (text !== '' && !out.write(text)) await Promise.race([once(out, 'drain'), failed]);
  };
  try {
    await writers[form](parts, {
      write(text) {
        waiting += text;
      },
      async rest(share) {
        watch?.signal?.throwIfAborted();
        await flush();
        if (share !== undefined) watch?.reached(share);
      },
    });
    await flush();
    out.end();
    await Promise.race([once(out, 'finish'), failed]);
  } catch (cause) {
    out.destroy();
    if (!out.closed) await once(out, 'close').catch(() => undefined);
    throw cause;
  }
}

/** Text is gathered between two rests; whoever writes much rests often. */
type Out = { write(text: string): void; rest(share?: number): Promise<void> };
const writers: Record<ExportForm, (parts: ExportParts, out: Out) => Promise<void>> = {
  csv: writeCsv,
  json: writeJson,
  text: writeText,
};

/** Every entry of the file in order, with pauses for everybody else. */
async function eachEntry(file: RunFile, out: Out, take: (entry: RunEntry) => void): Promise<void> {
  const pauses = createPauses();
  for await (const { entries, share } of file.groups()) {
    for (const entry of entries) {
      take(entry);
      if (!pauses.isDue()) continue;
      await out.rest();
      await pauses.take();
    }
    await out.rest(share);
  }
}

/** The raw lines as they came, one per line; bytes and all. */
async function writeText({ file, isReplay }: ExportParts, out: Out): Promise<void> {
  const mark = watermark(file.header, isReplay);
  if (mark !== undefined) out.write(`# ${mark}\r\n`);
  await eachEntry(file, out, (entry) => {
    if (entry.kind === 'line') out.write(`${entry.bytes}\r\n`);
  });
}

/** The run as the window shows it: through the recipe that it was last read anew with, else as it was captured. */
type Seen = ReturnType<typeof underRecipe> & { readonly channels: ChannelId[]; readonly rereadWith: LineRecipe | undefined };
async function seenThrough(file: RunFile): Promise<Seen> {
  const rereadWith = await rereadRecipeOf(file);
  const recipes = rereadWith === undefined ? [file.header.recipe] : [rereadWith];
  if (rereadWith === undefined) for await (const { recipe } of file.changes()) recipes.push(recipe);
  const found = new Set(recipes.flatMap((recipe) => recipe?.fields.map(({ channel }) => channel) ?? []));
  const seen = rereadWith === undefined ? { header: file.header, entry: asCaptured } : underRecipe(file.header, rereadWith);
  return { ...seen, channels: channelIds.filter((channel) => found.has(channel)), rereadWith };
}

async function writeCsv(parts: ExportParts, out: Out): Promise<void> {
  const { header } = parts.file;
  const style: CsvStyle = parts.settings.csv.separator;
  const row = (cells: (string | number | undefined)[]): string => csvRow(cells, style);
  if (style === 'semicolon') out.write('\ufeff'); // so that spreadsheets take it for UTF-8
  const mark = watermark(header, parts.isReplay);
  if (mark !== undefined) out.write(row([mark]));
  const seen = await seenThrough(parts.file);
  const { channels } = seen;
  const title = (channel: ChannelId): string => {
    const { label, unit } = quantities[channel];
    return unit === '' ? label : `${label} [${unit}]`;
  };
  out.write(row(['Time [s]', 'Local time', ...channels.map(title), 'Not measured', 'Event']));
  const stamp = isoStamps(header.zoneMinutes);
  const cells = (timeMs: number): [number, string] => [timeMs / 1000, stamp(header.startWallMs + timeMs)];
  // one for all rows: a day has a million
  const filled: (string | number | undefined)[] = [];
  const sample = ({ timeMs, values, absent }: Sample): void => {
    filled.length = 0;
    filled.push(timeMs / 1000, stamp(header.startWallMs + timeMs));
    for (const channel of channels) filled.push(values[channel]);
    filled.push(absent === undefined ? undefined : whyAbsent(absent), undefined);
    out.write(row(filled));
  };
  // it has no readings, so nobody has to wait until they are found
  const run = createRunFold(seen.header, parts.foldSettings, { sample }, 'samples');
  await eachEntry(parts.file, out, (entry) => {
    const read = seen.entry(entry);
    if (read !== undefined) run.push(read);
    const event = eventText(entry);
    if (event !== undefined) out.write(row([...cells(entry.timeMs), ...channels.map(() => undefined), undefined, event]));
  });
}

const whyAbsent = (absent: NonNullable<Sample['absent']>): string =>
  Object.entries(absent)
    .map(([channel, reason]) => `${quantities[channel as ChannelId].label} ${reason}`)
    .join('; ');

function eventText(entry: RunEntry): string | undefined {
  if (entry.kind === 'gap') return `Gap: ${entry.gap.reason}`;
  if (entry.kind !== 'mark') return undefined;
  const { body } = entry.mark;
  switch (body.kind) {
    case 'adjustment':
      return body.setting.positions.map(({ name, value }) => `${name} ${value}`).join(', ');
    case 'smoke':
      return body.notTaken === true ? 'Smoke not taken' : `Smoke ${body.spots.map(({ number }) => number).join(', ')}`;
    case 'draft':
      return [
        ...whenDefined(body.overFirePa, (overFirePa) => `Draft over fire ${overFirePa} Pa`),
        ...whenDefined(body.breechPa, (breechPa) => runsTexts.draftBreech(breechPa)),
      ].join(', ');
    case 'pressure':
      return `Pump pressure ${body.pumpPa} Pa`;
    case 'note':
      return body.text;
    case 'pause':
      return body.on ? 'Pause' : 'Pause ends';
  }
}

/** One object; the samples as rows of columns, because a day of objects would be many times as long. */
async function writeJson(parts: ExportParts, out: Out): Promise<void> {
  const { header } = parts.file;
  const mark = watermark(header, parts.isReplay);
  const seen = await seenThrough(parts.file);
  const { channels, rereadWith } = seen;
  out.write(`{${mark === undefined ? '' : `"watermark":${JSON.stringify(mark)},`}\n"header":${JSON.stringify(header)},\n`);
  // the header stays as captured: what the samples were read with stands beside it
  if (rereadWith !== undefined) out.write(`"rereadWith":${JSON.stringify(rereadWith)},\n`);
  out.write(`"units":${JSON.stringify(Object.fromEntries(channels.map((channel) => [channel, quantities[channel].unit])))},\n`);
  out.write(`"columns":${JSON.stringify(['timeMs', ...channels])},\n"samples":[`);
  let isFirst = true;
  const sample = ({ timeMs, values }: Sample): void => {
    let row = `${isFirst ? '' : ','}\n[${timeMs}`;
    for (const channel of channels) {
      const value = values[channel];
      row += value === undefined || !Number.isFinite(value) ? ',null' : `,${value}`;
    }
    out.write(`${row}]`);
    isFirst = false;
  };
  const found = await parts.found?.();
  const run = createRunFold(seen.header, parts.foldSettings, { sample }, found === undefined ? 'all' : 'samples');
  await eachEntry(parts.file, out, (entry) => {
    const read = seen.entry(entry);
    if (read !== undefined) run.push(read);
  });
  // judging what has settled takes four fifths of the time: it is not done again for a file that was read before, to the last byte
  let judged: Pick<ToldOfRun, 'readings' | 'excluded'> = run;
  if (found !== undefined) judged = (await found.isStill()) ? found : await judgedAnew(parts, seen, out);
  const { tolerances } = run.settings;
  const readings = judged
    .readings()
    .map((reading) => ({ ...reading, derived: deriveReading({ reading, fuel: run.fuel, typedAirC: run.typedAirC, tolerances }) }));
  out.write(`\n],\n"readings":${JSON.stringify(readings)},\n"marks":${JSON.stringify(run.marks)},\n`);
  out.write(
    `"gaps":${JSON.stringify(run.gaps.all)},\n"excluded":${JSON.stringify(judged.excluded.all)},\n"counters":${JSON.stringify(run.counters)}}\n`,
  );
}

async function judgedAnew({ file, foldSettings }: ExportParts, seen: Seen, out: Out): Promise<RunFold> {
  const run = createRunFold(seen.header, foldSettings);
  await eachEntry(file, out, (entry) => {
    const read = seen.entry(entry);
    if (read !== undefined) run.push(read);
  });
  return run;
}
