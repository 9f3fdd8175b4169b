import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { RUN_VERSION, type RunEntry } from '../../../shared/measurement/run.ts';
import { encodeEntry, encodeHeader } from '../../../shared/measurement/run-format.ts';
import type { Problem } from '../../../shared/problem.ts';
import { recoverFallback } from '../../../main/runs/file/fallback.ts';
import { measureRunFile, openRunFile } from '../../../main/runs/file/run-file.ts';
import { createRunWriter } from '../../../main/runs/file/run-writer.ts';
import { runHeader } from '../../helpers/ports/run-lines.ts';

let folder: string;
beforeEach(() => (folder = mkdtempSync(join(tmpdir(), 'flueside-test-'))));
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const line = (timeMs: number, bytes = `${timeMs},4.2`): RunEntry => ({ kind: 'line', timeMs, bytes });
const read = async (path: string) => {
  const file = await openRunFile(path);
  if (!file.ok) return { code: file.error.code, entries: [], damaged: 0 };
  const entries: RunEntry[] = [];
  for await (const entry of file.value.entries()) entries.push(entry);
  return { code: 'ok', entries, damaged: file.value.damagedLines };
};
const writerFor = async (path: string, fromByte = 0, more: object = {}) => {
  const problems: (Problem | undefined)[] = [];
  const writer = await createRunWriter(path, fromByte, {
    onProblem: (found) => problems.push(found),
    fallbackFolder: folder,
    runId: 'run-1',
    retryEveryMs: 20,
    syncEveryMs: 10,
    ...more,
  });
  return { writer, problems };
};

describe('run file', () => {
  it('reads back what was written, and measures it without decoding', async () => {
    const path = join(folder, 'a.run');
    const { writer, problems } = await writerFor(path);
    writer.append(encodeHeader(runHeader()));
    const entries = [line(0), line(100, '\x00\xff\t\\'), { kind: 'end', timeMs: 200 } as const];
    for (const entry of entries) writer.append(encodeEntry(entry));
    await writer.close();
    expect(problems).toEqual([]);
    expect(await read(path)).toEqual({ code: 'ok', entries, damaged: 0 });
    expect(await measureRunFile(path)).toMatchObject({ durationMs: 200, lines: 2, ended: true, damaged: false });
  });

  it('leaves a torn last line out, and cuts it off when the run goes on', async () => {
    const path = join(folder, 'torn.run');
    writeFileSync(path, encodeHeader(runHeader()) + encodeEntry(line(0)) + '1000\tline\t1000,4');
    expect((await read(path)).entries).toEqual([line(0)]);
    const { goodBytes, ended } = await measureRunFile(path);
    expect(ended).toBe(false);
    const { writer } = await writerFor(path, goodBytes);
    writer.append(encodeEntry(line(2000)));
    await writer.close();
    expect(await read(path)).toEqual({ code: 'ok', entries: [line(0), line(2000)], damaged: 0 });
  });

  it('skips damage and keeps the rest', async () => {
    const path = join(folder, 'damaged.run');
    writeFileSync(
      path,
      encodeHeader(runHeader()) + encodeEntry(line(0)) + '\x00\x00\x00\n' + 'x'.repeat(100) + '\n' + encodeEntry(line(1000)),
    );
    const found = await read(path);
    expect(found).toMatchObject({ damaged: 2, entries: [line(0), line(1000)] });
    expect((await measureRunFile(path)).damaged).toBe(true);
  });

  it.each([
    ['4.2,12,180\n', 'file-foreign'],
    ['', 'file-damaged'],
    [encodeHeader({ ...runHeader(), version: RUN_VERSION + 1 }), 'file-newer'],
    ['x'.repeat(6 << 20) + '\n', 'file-damaged'],
  ])('refuses %# with a reason', async (text, code) => {
    const path = join(folder, 'x.run');
    writeFileSync(path, text);
    expect((await read(path)).code).toBe(code);
    expect((await read(join(folder, 'none'))).code).toBe('file-not-found');
  });
});

describe('run writer in trouble', () => {
  it('says that the disk is full, keeps everything aside, and puts it back when there is room', async () => {
    const path = join(folder, 'full.run');
    // a folder in the file's place refuses to be opened; taking it away is the space that somebody freed
    const { mkdirSync, rmdirSync } = await import('node:fs');
    mkdirSync(path);
    const { writer, problems } = await writerFor(path);
    writer.append(encodeHeader(runHeader()));
    for (let i = 0; i < 50; i++) writer.append(encodeEntry(line(i)));
    await writer.flush();
    expect(problems.map((found) => found?.code)).toEqual(['disk-failed']);
    expect(readdirSync(folder).filter((name) => name.endsWith('.part'))).toHaveLength(1);
    rmdirSync(path);
    await new Promise((resolve) => setTimeout(resolve, 30)); // the writer itself waits in real time before it tries again
    writer.append(encodeEntry(line(50)));
    await writer.close();
    expect(problems.at(-1)).toBeUndefined();
    expect((await read(path)).entries).toEqual(Array.from({ length: 51 }, (_, i) => line(i)));
    expect(readdirSync(folder)).toEqual(['full.run']);
    expect(writer.lostBytes).toBe(0);
  });

  it.skipIf(process.platform !== 'linux')('tells a full disk from a failing one (/dev/full)', async () => {
    const { writer, problems } = await writerFor('/dev/full', 0, { retryEveryMs: 1e9 });
    writer.append('x');
    await writer.flush();
    expect(problems).toEqual([{ code: 'disk-full', detail: 'ENOSPC' }]);
    expect(readdirSync(folder)).toHaveLength(1);
    await writer.close();
  });

  it('keeps the newest lines in bounded memory when nothing takes them, and counts what was given up', async () => {
    const { writer } = await writerFor(join(folder, 'none', 'x.run'), 0, {
      fallbackFolder: join(folder, 'gone'),
      memoryLimit: 1000,
      retryEveryMs: 1e9,
    });
    for (let i = 0; i < 100; i++) writer.append('x'.repeat(100));
    await writer.flush();
    expect(writer.waitingBytes).toBeLessThanOrEqual(1000);
    expect(writer.lostBytes).toBe(10_000 - writer.waitingBytes);
    await writer.close();
  });

  it('joins what a killed process had set aside to its run file', async () => {
    const path = join(folder, 'a.run');
    const good = encodeHeader(runHeader()) + encodeEntry(line(0));
    writeFileSync(path, `${good}7\tline\thalf`);
    writeFileSync(join(folder, `flueside-run-1-from-${good.length}-0011aabb.part`), encodeEntry(line(7)) + encodeEntry(line(8)));
    writeFileSync(join(folder, 'flueside-other-from-3-0011aabb.part'), 'not mine');
    expect(await recoverFallback(folder, 'run-1', path)).toBeGreaterThan(0);
    expect((await read(path)).entries).toEqual([line(0), line(7), line(8)]);
    expect(readFileSync(join(folder, 'flueside-other-from-3-0011aabb.part'), 'utf8')).toBe('not mine');
  });

  it('finds every change, wherever the file is cut into pieces', async () => {
    const path = join(folder, 'changes.run');
    const before = `${encodeHeader(runHeader())}${encodeEntry(line(1)).repeat(15_000)}`;
    const PIECE = 1 << 18;
    const change = encodeEntry({ kind: 'change', timeMs: 2, change: { typedAirC: 20 } });
    for (let into = 0; into <= change.length + 2; into++) {
      // the first piece ends `into` bytes into the change
      const note = encodeEntry(line(1, '7'.repeat(PIECE - before.length - '1\tline\t\n'.length - into)));
      writeFileSync(path, before + note + change + encodeEntry(line(3)) + encodeEntry(line(4)).repeat(40_000) + change);
      const file = await openRunFile(path);
      const found = [];
      if (file.ok) for await (const one of file.value.changes()) found.push(one);
      expect(found, `${into} bytes`).toEqual([{ typedAirC: 20 }, { typedAirC: 20 }]);
    }
  });
});
