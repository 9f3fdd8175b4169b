import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createRunFold } from '../../../shared/pipeline/fold-run.ts';
import { encodeEntry, encodeHeader } from '../../../shared/measurement/run-format.ts';
import type { RunEntry } from '../../../shared/measurement/run.ts';
import { openRunFile, type RunFile } from '../../../main/runs/file/run-file.ts';
import { readRun, type RunSoFar } from '../../../main/runs/stored/run-reading.ts';
import { createRunTrace } from '../../../main/runs/stored/run-trace.ts';
import { writeDayRun } from '../../helpers/day-run.ts';
import { burnerLines, columnsRecipe, lineEntries, runHeader } from '../../helpers/ports/run-lines.ts';

let folder: string;
let path: string;
let file: RunFile;
const header = runHeader();
let entries: RunEntry[];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-reading-'));
  path = join(folder, 'run-1.run');
  // several pieces of the file, with what else can stand between lines
  const lines = lineEntries(burnerLines({ seconds: 1800, ratePerSecond: 10, turns: [{ atS: 900, value: 5 }] }));
  const mark: RunEntry = {
    kind: 'mark',
    timeMs: 900_000,
    mark: {
      id: 'm1',
      timeMs: 900_000,
      body: { kind: 'adjustment', setting: { stage: '1', positions: [{ name: 'Shutter', value: 5 }] } },
    },
  };
  const gap: RunEntry = { kind: 'gap', timeMs: 1_500_000, gap: { reason: 'unplugged', fromMs: 1_490_000 } };
  entries = [
    ...lines.filter(({ timeMs }) => timeMs < 900_000),
    mark,
    ...lines.filter(({ timeMs }) => timeMs >= 900_000 && timeMs < 1_490_000),
    gap,
    { kind: 'change', timeMs: 1_500_000, change: { recipe: { ...columnsRecipe, name: 'other name' } } },
    ...lines.filter(({ timeMs }) => timeMs >= 1_500_000),
    { kind: 'end', timeMs: 1_801_000 },
  ];
  writeFileSync(path, encodeHeader(header) + entries.map(encodeEntry).join(''), 'latin1');
  const opened = await openRunFile(path);
  if (!opened.ok) throw new Error(opened.error.code);
  file = opened.value;
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const told = ({ told: { marks, readings, gaps, excluded, settled }, trace }: Pick<RunSoFar, 'told' | 'trace'>) => ({
  marks,
  readings: readings(),
  gaps: gaps.all,
  excluded: excluded.all,
  settled: settled.all,
  history: trace.history({ marks, readings, gaps, excluded, settled }, 0, 2e6, 3000),
});

describe('a stored run that is read', () => {
  it('gives what one pass through the chain gives, to the last digit', async () => {
    const trace = createRunTrace(1 << 20);
    const fold = createRunFold(header, {}, { sample: (sample) => trace.sample(sample), gap: () => trace.gap() });
    for (const entry of entries) fold.push(entry);
    const expected = told({ told: fold, trace });
    expect(expected.readings.length).toBeGreaterThan(1);
    expect(expected.gaps).toHaveLength(1);

    const whole = await readRun(file, {}).whole();
    expect(told({ told: whole.fold, trace: whole.trace })).toEqual(expected);
    expect(whole.fold.counters).toEqual(fold.counters);
    expect(whole.fold.states()).toEqual(fold.states());
    expect(whole.earlier).toHaveLength(1);
  });

  it('shows the curves first and says how far it is, then the readings, then that it is through', async () => {
    const reading = readRun(file, {});
    const seen: RunSoFar[] = [];
    const readings: number[] = [];
    let openSpans = 0;
    do {
      const one = await reading.soFar(1);
      seen.push(one);
      readings.push(one.told.readings().length);
      if (one.progress?.stage === 'readings') openSpans += one.told.settled.all.filter(({ toMs }) => toMs === undefined).length;
    } while (seen.at(-1)?.progress !== undefined);
    expect(openSpans).toBe(0); // nothing is shown as settled beyond what has been read
    const stages = seen.map(({ progress }) => progress?.stage ?? 'through');
    expect([...new Set(stages)]).toEqual(['curves', 'readings', 'through']);
    for (const stage of ['curves', 'readings'] as const) {
      const shares = seen.flatMap(({ progress }) => (progress?.stage === stage ? [progress.share] : []));
      expect(shares).toEqual([...shares].sort((a, b) => a - b));
      expect(shares.every((share) => share >= 0 && share <= 1)).toBe(true);
    }
    const beforeReadings = stages.lastIndexOf('curves');
    expect(readings.slice(0, beforeReadings + 1).every((count) => count === 0)).toBe(true);
    expect(readings.at(-1)).toBeGreaterThan(1);
  });

  it('pauses while nobody looks or waits, and goes on from there', async () => {
    let clockMs = 0;
    const reading = readRun(file, {}, undefined, () => clockMs);
    const first = await reading.soFar(1);
    expect(first.progress?.share).toBeLessThan(1);
    clockMs += 10_000; // the window is gone: what is being read is read, and no more
    await new Promise((resolve) => setTimeout(resolve, 300));
    const samplesThen = first.trace.history(first.told, 0, 2e6, 3000).series[0]?.timeMs.at(-1) ?? 0;
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(first.trace.history(first.told, 0, 2e6, 3000).series[0]?.timeMs.at(-1) ?? 0).toBe(samplesThen);
    expect(samplesThen).toBeLessThan(1_700_000);

    const again = await reading.soFar(1); // somebody is back
    expect(again.trace).toBe(first.trace);
    clockMs += 10_000; // and gone once more, but something waits for the whole
    const whole = await reading.whole();
    expect(whole.fold.counters.lines).toBe(entries.filter(({ kind }) => kind === 'line').length);
    expect((await reading.soFar(1)).progress).toBeUndefined();
  });

  it('can be looked at sample by sample at any place, also long before its end', async () => {
    const long = mkdtempSync(join(tmpdir(), 'flueside-long-'));
    const opened = await openRunFile(writeDayRun(long, 'long', 80_000));
    if (!opened.ok) throw new Error(opened.error.code);
    const { trace, fold } = await readRun(opened.value, {}).whole();
    const [series] = trace.history(fold, 600_000, 610_000, 3000).series;
    expect(series?.timeMs.filter((ms) => ms >= 600_000 && ms < 610_000)).toHaveLength(100);
    rmSync(long, { recursive: true, force: true });
  });

  it('says so when the disk fails, every time', async () => {
    const gone = join(folder, 'gone.run');
    writeFileSync(gone, encodeHeader(header), 'latin1');
    const opened = await openRunFile(gone);
    if (!opened.ok) throw new Error(opened.error.code);
    rmSync(gone);
    const reading = readRun(opened.value, {});
    await expect(reading.soFar(60_000)).rejects.toThrow('ENOENT');
    await expect(reading.whole()).rejects.toThrow('ENOENT');
  });
});
