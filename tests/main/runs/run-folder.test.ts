import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { inThisThread } from '../../../main/background/background.ts';
import { createRunFolder } from '../../../main/runs/file/run-folder.ts';
import { encodeEntry, encodeHeader } from '../../../shared/measurement/run-format.ts';
import { runHeader } from '../../helpers/ports/run-lines.ts';

const TIME_S = 1_760_000_000;
let folder: string;
beforeEach(() => {
  folder = join(mkdtempSync(join(tmpdir(), 'flueside-test-')), 'runs');
  mkdirSync(folder);
});
afterEach(() => rmSync(join(folder, '..'), { recursive: true, force: true }));

const pathOf = (runId: string): string => join(folder, `${runId}.run`);
function keep(runId: string, lines: number): void {
  const entries = Array.from({ length: lines }, (_, at) => encodeEntry({ kind: 'line', timeMs: at * 1000, bytes: `${at},4.2` }));
  writeFileSync(pathOf(runId), encodeHeader(runHeader({ runId })) + entries.join(''), 'latin1');
  utimesSync(pathOf(runId), TIME_S, TIME_S);
}
const linesOf = async (): Promise<Record<string, number>> =>
  Object.fromEntries((await createRunFolder(folder).list()).map(({ runId, lines }) => [runId, lines]));

describe('the list of runs', () => {
  it('is not measured again by the next start, only what is new or changed', async () => {
    keep('run-1', 3);
    keep('run-2', 5);
    expect(await linesOf()).toEqual({ 'run-1': 3, 'run-2': 5 });
    // the same size and time, yet nothing that could be measured: whoever read it again would leave it out
    writeFileSync(pathOf('run-1'), 'x'.repeat(statSync(pathOf('run-1')).size));
    utimesSync(pathOf('run-1'), TIME_S, TIME_S);
    keep('run-2', 6);
    keep('run-3', 1);
    expect(await linesOf()).toEqual({ 'run-1': 3, 'run-2': 6, 'run-3': 1 });
  });

  it('does not measure what grows, and keeps what it knew of it', async () => {
    keep('run-1', 3);
    keep('run-2', 5);
    const measured: unknown[] = [];
    const folderOf = createRunFolder(folder, {
      ...inThisThread,
      run: (name, ask, watch) => (measured.push((ask as { runId: string }).runId), inThisThread.run(name, ask, watch)),
    });
    expect((await folderOf.list(new Set(['run-1']))).map(({ runId }) => runId)).toEqual(['run-2']);
    expect(measured).toEqual(['run-2']);
    expect(await folderOf.list()).toHaveLength(2);
    await folderOf.list(new Set(['run-1']));
    expect(readFileSync(`${folder}-summaries.json`, 'utf8')).toContain('run-1');
  });

  it('forgets runs that are gone, and is made anew when its own file is torn or foreign', async () => {
    keep('run-1', 3);
    keep('run-2', 5);
    await linesOf();
    rmSync(pathOf('run-2'));
    expect(await linesOf()).toEqual({ 'run-1': 3 });
    const index = `${folder}-summaries.json`;
    expect(readFileSync(index, 'utf8')).not.toContain('run-2');
    for (const text of ['[["run-1",{"st', '{"format":"another"}']) {
      writeFileSync(index, text);
      expect(await linesOf()).toEqual({ 'run-1': 3 });
    }
  });
});
