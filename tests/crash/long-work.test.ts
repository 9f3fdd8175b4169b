/** kill -9 in the middle of an export and of the first opening of a long run: nothing half done is offered, and the next start does both. */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { WORK_FOLDER } from '../../main/store/work-folder.ts';
import { writeDayRun } from '../helpers/day-run.ts';

const LINES = 60_000;
let folder: string;
let path: string;
let child: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-long-work-'));
  path = writeDayRun(folder, 'long', LINES);
  const scripts = pathToFileURL(join(process.cwd(), 'main', 'scripts', 'build-output.mjs')).href;
  const { bundleProgram } = (await import(/* @vite-ignore */ scripts)) as { bundleProgram: (entry: string) => Promise<string> };
  child = await bundleProgram('tests/crash/long-work-child.ts');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const hash = (): string => createHash('sha256').update(readFileSync(path)).digest('hex');

/** @returns what the child said last; undefined when it was killed on its way */
function run(work: 'open' | 'export', killed: boolean): Promise<{ last: string; wasKilled: boolean }> {
  return new Promise((done, fail) => {
    const one = spawn(process.execPath, [child, folder, work, 'long'], { stdio: ['ignore', 'pipe', 'inherit'] });
    let last = '';
    one.stdout.on('data', (chunk: Buffer) => {
      for (const line of chunk.toString().split('\n').filter(Boolean)) {
        last = line;
        const share = Number(/^at (.+)$/.exec(line)?.[1] ?? 0);
        if (killed && share > 0.2 && share < 0.95) one.kill('SIGKILL');
      }
    });
    one.once('error', fail);
    one.once('close', (_, signal) => done({ last, wasKilled: signal === 'SIGKILL' }));
  });
}

describe('kill -9 in the middle of', () => {
  it('an export: no file that could be taken for a whole one, and the next start makes it whole', { timeout: 60_000 }, async () => {
    const before = hash();
    const left = join(folder, WORK_FOLDER);
    expect((await run('export', true)).wasKilled).toBe(true);
    const halves = readdirSync(left);
    expect(halves).toHaveLength(1);
    expect(halves[0]).toMatch(/\.part$/);
    const next = await run('export', false);
    const made = /^done (.+)$/.exec(next.last)?.[1] ?? '';
    expect(existsSync(made)).toBe(true);
    expect((JSON.parse(readFileSync(made, 'utf8')) as { samples: unknown[] }).samples).toHaveLength(LINES);
    expect(readdirSync(left)).not.toContain(halves[0]);
    expect(hash()).toBe(before);
  });

  it('a first opening: the run file is untouched, and the next start opens it', { timeout: 60_000 }, async () => {
    const before = hash();
    expect((await run('open', true)).wasKilled).toBe(true);
    expect(hash()).toBe(before);
    const { points, readings } = JSON.parse(/^done (.+)$/.exec((await run('open', false)).last)?.[1] ?? '{}') as Record<string, number>;
    expect(points).toBeGreaterThan(900);
    expect(readings).toBeGreaterThan(0);
    expect(readdirSync(join(folder, 'runs'))).toEqual(['long.run']);
  });
});
