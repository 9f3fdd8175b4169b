/** A stored run as CSV, JSON or plain text. Streams from file to file, so that a day's run needs no memory. */
import { createWriteStream } from 'node:fs';
import { once } from 'node:events';
import type { Settings } from '../../shared/ipc/settings.ts';
import { channelIds, type ChannelId } from '../../shared/measurement/channel.ts';
import type { RunEntry, RunHeader } from '../../shared/measurement/run.ts';
import type { Sample } from '../../shared/measurement/sample.ts';
import { createBreather } from '../breather.ts';
import { csvRow, timeText, type CsvStyle } from './csv.ts';
import { createRunFold, type FoldSettings, type FoldSink, type RunFold } from '../../shared/pipeline/fold-run.ts';
import { deriveReading } from '../../shared/pipeline/derive-now.ts';
import { quantities } from '../../shared/units/quantities.ts';
import type { RunFile } from './run-file.ts';

export type ExportForm = 'csv' | 'json' | 'text';

export type ExportParts = {
  readonly file: RunFile;
  readonly isReplay: boolean;
  readonly settings: Settings;
  readonly foldSettings: FoldSettings;
};

export const exportKinds: Record<ExportForm, { ending: string; mime: string }> = {
  csv: { ending: 'csv', mime: 'text/csv; charset=utf-8' },
  json: { ending: 'json', mime: 'application/json' },
  text: { ending: 'txt', mime: 'text/plain; charset=iso-8859-1' },
};

/** @returns the mark that data which measured nothing must carry, first thing in the file */
export function watermark(header: RunHeader, isReplay: boolean): string | undefined {
  if (header.source.kind === 'simulated') return 'SIMULATED DATA - not a measurement';
  return isReplay ? 'REPLAYED DATA - not a measurement of today' : undefined;
}

/** Writes the export to `path`. @throws what the disk throws */
export async function exportRun(form: ExportForm, parts: ExportParts, path: string): Promise<void> {
  const out = createWriteStream(path, { encoding: form === 'text' ? 'latin1' : 'utf8', mode: 0o600 });
  const failed = once(out, 'error').then(([cause]) => Promise.reject(cause as Error));
  failed.catch(() => undefined);
  const write = async (text: string): Promise<void> => {
    if (!out.write(text)) await Promise.race([once(out, 'drain'), failed]);
  };
  await writers[form](parts, write);
  out.end();
  await Promise.race([once(out, 'finish'), failed]);
}

type Write = (text: string) => Promise<void>;
const writers: Record<ExportForm, (parts: ExportParts, write: Write) => Promise<void>> = {
  csv: writeCsv,
  json: writeJson,
  text: writeText,
};

/** The raw lines as they came, one per line; bytes and all. */
async function writeText({ file, isReplay }: ExportParts, write: Write): Promise<void> {
  const mark = watermark(file.header, isReplay);
  if (mark !== undefined) await write(`# ${mark}\r\n`);
  const breather = createBreather();
  for await (const entry of file.entries()) {
    if (entry.kind === 'line') await write(`${entry.bytes}\r\n`);
    if (breather.isDue()) await breather.rest();
  }
}

/** Runs the file through the chain; what the sink was told since the last entry is written after it. */
async function fold(parts: ExportParts, sink: FoldSink, after: (entry: RunEntry, run: RunFold) => Promise<void>): Promise<RunFold> {
  const run = createRunFold(parts.file.header, parts.foldSettings, sink);
  const breather = createBreather();
  for await (const entry of parts.file.entries()) {
    run.push(entry);
    await after(entry, run);
    if (breather.isDue()) await breather.rest();
  }
  return run;
}

const channelsOf = async ({ file }: ExportParts): Promise<ChannelId[]> => {
  const found = new Set<ChannelId>();
  const take = (recipe: RunHeader['recipe']): void => recipe?.fields.forEach(({ channel }) => found.add(channel));
  take(file.header.recipe);
  const breather = createBreather();
  for await (const entry of file.entries()) {
    if (entry.kind === 'change') take(entry.change.recipe);
    if (breather.isDue()) await breather.rest();
  }
  return channelIds.filter((channel) => found.has(channel));
};

async function writeCsv(parts: ExportParts, write: Write): Promise<void> {
  const { header } = parts.file;
  const style: CsvStyle = parts.settings.csv.separator;
  const row = (cells: (string | number | undefined)[]): string => csvRow(cells, style);
  if (style === 'semicolon') await write('\ufeff'); // so that spreadsheets take it for UTF-8
  const mark = watermark(header, parts.isReplay);
  if (mark !== undefined) await write(row([mark]));
  const channels = await channelsOf(parts);
  const title = (channel: ChannelId): string => {
    const { label, unit } = quantities[channel];
    return unit === '' ? label : `${label} [${unit}]`;
  };
  await write(row(['Time [s]', 'Local time', ...channels.map(title), 'Not measured', 'Event']));
  let samples: Sample[] = [];
  const cells = (timeMs: number): [number, string] => [timeMs / 1000, timeText(header.startWallMs + timeMs, header.zoneMinutes)];
  await fold(parts, { sample: (sample) => samples.push(sample) }, async (entry) => {
    for (const { timeMs, values, absent } of samples) {
      const why = Object.entries(absent ?? {}).map(([channel, reason]) => `${quantities[channel as ChannelId].label} ${reason}`);
      await write(row([...cells(timeMs), ...channels.map((channel) => values[channel]), why.join('; '), undefined]));
    }
    samples = [];
    const event = eventText(entry);
    if (event !== undefined) await write(row([...cells(entry.timeMs), ...channels.map(() => undefined), undefined, event]));
  });
}

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
        ...(body.overFirePa === undefined ? [] : [`Draft over fire ${body.overFirePa} Pa`]),
        ...(body.breechPa === undefined ? [] : [`Draft at the breech ${body.breechPa} Pa`]),
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
async function writeJson(parts: ExportParts, write: Write): Promise<void> {
  const { header } = parts.file;
  const mark = watermark(header, parts.isReplay);
  const channels = await channelsOf(parts);
  await write(`{${mark === undefined ? '' : `"watermark":${JSON.stringify(mark)},`}\n"header":${JSON.stringify(header)},\n`);
  await write(`"units":${JSON.stringify(Object.fromEntries(channels.map((channel) => [channel, quantities[channel].unit])))},\n`);
  await write(`"columns":${JSON.stringify(['timeMs', ...channels])},\n"samples":[`);
  let samples: Sample[] = [];
  let isFirst = true;
  const run = await fold(parts, { sample: (sample) => samples.push(sample) }, async () => {
    for (const { timeMs, values } of samples) {
      await write(`${isFirst ? '' : ','}\n${JSON.stringify([timeMs, ...channels.map((channel) => values[channel] ?? null)])}`);
      isFirst = false;
    }
    samples = [];
  });
  const { tolerances } = run.settings;
  const readings = run
    .readings()
    .map((reading) => ({ ...reading, derived: deriveReading({ reading, fuel: run.fuel, typedAirC: run.typedAirC, tolerances }) }));
  await write(`\n],\n"readings":${JSON.stringify(readings)},\n"marks":${JSON.stringify(run.marks)},\n`);
  await write(
    `"gaps":${JSON.stringify(run.gaps.all)},\n"excluded":${JSON.stringify(run.excluded.all)},\n"counters":${JSON.stringify(run.counters)}}\n`,
  );
}
