import { appendFileSync, copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createReportRuns } from '../../../main/report/load-run.ts';
import { encodeEntry, encodeHeader } from '../../../shared/measurement/run-format.ts';
import { burnerLines, lineEntries, runHeader } from '../../helpers/ports/run-lines.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-test-'));
  mkdirSync(join(folder, 'runs'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const lines = lineEntries(burnerLines({ seconds: 400 })).map(encodeEntry);
const path = (): string => join(folder, 'runs', 'run-1.run');
const begin = (count: number): void => writeFileSync(path(), encodeHeader(runHeader()) + lines.slice(0, count).join(''), 'latin1');

describe('a run as a report reads it', () => {
  it('is read on when it has grown, a half line and all, and reads as if it had been read at once', async () => {
    begin(150);
    const runs = createReportRuns(folder);
    expect((await runs.load('run-1', {}))?.lines).toBe(150);
    const rest = lines.slice(150).join('');
    appendFileSync(path(), rest.slice(0, 1007), 'latin1');
    await runs.load('run-1', {});
    appendFileSync(path(), rest.slice(1007), 'latin1');
    const grown = await runs.load('run-1', {});
    expect(grown?.lines).toBe(lines.length);
    expect(grown).toEqual(await createReportRuns(folder).load('run-1', {}));
  });

  it('is read once when two look at the same time', async () => {
    begin(200);
    const runs = createReportRuns(folder);
    const both = await Promise.all([runs.load('run-1', {}), runs.load('run-1', {})]);
    expect(both.map((run) => run?.lines)).toEqual([200, 200]);
    expect(both[0]).toEqual(both[1]);
  });

  it('is kept read, with the two that were looked at after it; a fourth takes its place', async () => {
    const names = ['run-1', 'run-2', 'run-3', 'run-4'];
    begin(20);
    for (const name of names.slice(1)) copyFileSync(path(), join(folder, 'runs', `${name}.run`));
    const runs = createReportRuns(folder);
    /** the first lines are damaged where they lie: one who reads on from the last of them does not meet that */
    const linesOf = async (name: string): Promise<number | undefined> => (await runs.load(name, {}))?.lines;
    for (const name of names) expect(await linesOf(name)).toBe(20);
    for (const name of names) {
      const file = join(folder, 'runs', `${name}.run`);
      const bytes = readFileSync(file);
      bytes.fill('#', encodeHeader(runHeader()).length, encodeHeader(runHeader()).length + (lines[0]?.length ?? 0) - 1);
      writeFileSync(file, bytes);
    }
    expect(await Promise.all(names.slice(1).map(linesOf))).toEqual([20, 20, 20]);
    expect(await linesOf('run-1')).toBeLessThan(20);
  });

  it('is read again with other settings, or when the file was replaced', async () => {
    begin(200);
    const runs = createReportRuns(folder);
    await runs.load('run-1', {});
    const other = await runs.load('run-1', { bands: { o2Percent: 2, coPpm: 500, coShare: 1, stackK: 50, airK: 50 } });
    expect(other?.lines).toBe(200);
    writeFileSync(path(), encodeHeader(runHeader({ fuelId: 'b5' })) + lines.slice(0, 20).join(''), 'latin1');
    expect((await runs.load('run-1', {}))?.lines).toBe(20);
    rmSync(path());
    expect(await runs.load('run-1', {})).toBeUndefined();
    expect(await runs.load('../run-1', {})).toBeUndefined();
  });

  it('is as its readings were taken when its lines were read with another recipe afterwards, and says so', async () => {
    begin(200);
    const runs = createReportRuns(folder);
    const before = await runs.load('run-1', {});
    const recipe = { ...runHeader().recipe, name: 'the other way round' } as never;
    appendFileSync(path(), encodeEntry({ kind: 'change', timeMs: 999_000, change: { recipe, rereads: true } }), 'latin1');
    const after = await runs.load('run-1', {});
    expect(before?.isReread).toBeUndefined();
    expect(after).toEqual({ ...before, hash: after?.hash, isReread: true });
    expect(after?.hash).not.toBe(before?.hash);
  });
});
