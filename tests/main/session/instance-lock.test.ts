import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { once } from 'node:events';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { holderIsAlive, LOCK_FILE, takeLock, type LockHolder } from '../../../main/session/instance-lock.ts';
import { processStart } from '../../../main/session/process-start.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-lock-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const lockPath = () => join(folder, LOCK_FILE);
const held = () => {
  const taken = takeLock(folder, 'browser');
  if (!('lock' in taken)) throw new Error('the lock was not given');
  return taken.lock;
};
const leave = (holder: LockHolder) => writeFileSync(lockPath(), JSON.stringify(holder));

describe('the lock', () => {
  it('is given once, and the second learns where the first is', () => {
    held().announce({ address: 'http://127.0.0.1:1/', secret: 's' });
    expect(takeLock(folder, 'browser')).toEqual({
      holder: { pid: process.pid, started: processStart(process.pid), host: 'browser', address: 'http://127.0.0.1:1/', secret: 's' },
    });
  });

  it('is free again after its release, and leaves nothing behind', () => {
    held().release();
    expect(readdirSync(folder)).toEqual([]);
    held();
  });

  // Windows keeps no such bits; there the folder is the user's own
  it.skipIf(process.platform === 'win32')('can be read by its owner only: it holds a secret', () => {
    held().announce({ address: 'http://127.0.0.1:1/', secret: 's' });
    expect(statSync(lockPath()).mode & 0o077).toBe(0);
  });

  it('of a process that has ended is taken over', async () => {
    const child = spawn(process.execPath, ['-e', '']);
    await once(child, 'close');
    leave({ pid: child.pid ?? 0, started: 'x', host: 'browser' });
    held();
    expect(JSON.parse(readFileSync(lockPath(), 'utf8'))).toMatchObject({ pid: process.pid });
    expect(readdirSync(folder)).toEqual([LOCK_FILE]);
  });

  it.skipIf(process.platform === 'win32')('of a killed process whose id was given to another one since is taken over', () => {
    // this very process runs, but it was not started then
    leave({ pid: process.pid, started: 'another boot:1', host: 'browser' });
    held();
  });

  it('that is no lock at all is taken over', () => {
    writeFileSync(lockPath(), '{"pid": ');
    held();
  });

  it('is not removed by somebody who does not hold it any more', () => {
    const first = held();
    leave({ pid: 1, started: processStart(1) ?? '', host: 'electron' });
    first.release();
    expect(existsSync(lockPath())).toBe(true);
  });

  it.skipIf(process.platform === 'win32')('goes to exactly one of many that find the same stale one', async () => {
    leave({ pid: process.pid, started: 'another boot:1', host: 'browser' });
    const program = `
      import { takeLock } from ${JSON.stringify(new URL('../../../dist/lock-race.mjs', import.meta.url).href)};
      process.stdout.write('lock' in takeLock(${JSON.stringify(folder)}, 'browser') ? 'held' : 'refused');
      setTimeout(() => undefined, 3000);`;
    await bundleLock();
    const children = Array.from({ length: 8 }, () => spawn(process.execPath, ['--input-type=module', '-e', program]));
    const answers = await Promise.all(children.map(async ({ stdout }) => String(((await once(stdout, 'data')) as [Buffer])[0])));
    for (const child of children) child.kill('SIGKILL');
    expect(answers.filter((answer) => answer === 'held')).toHaveLength(1);
  });
});

describe('a holder', () => {
  it('is alive when it runs and was started then', () => {
    expect(holderIsAlive({ pid: process.pid, started: processStart(process.pid) ?? '', host: 'browser' })).toBe(true);
  });
  it('counts as alive where the system does not tell when a process was started, and only there', () => {
    // a lock that says nothing of it where the system does tell was not written by us: any process may be named in it
    expect(holderIsAlive({ pid: process.pid, started: '', host: 'browser' })).toBe(processStart(process.pid) === '');
  });
});

/** The race needs real processes, which need the module as plain JavaScript. */
async function bundleLock(): Promise<void> {
  const { build } = await import('esbuild');
  await build({
    entryPoints: ['main/session/instance-lock.ts'],
    bundle: true,
    platform: 'node',
    format: 'esm',
    outfile: 'dist/lock-race.mjs',
    logLevel: 'error',
  });
}
