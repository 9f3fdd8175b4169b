/** When a process was started, so that its number alone is not taken for it. */
import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { afterEach, describe, expect, it } from 'vitest';
import { processStart } from '../../../main/session/process-start.ts';

const children: ChildProcess[] = [];
afterEach(async () => {
  for (const child of children.splice(0)) {
    child.kill('SIGKILL');
    if (child.exitCode === null && child.signalCode === null) await once(child, 'close');
  }
});
async function started(): Promise<number> {
  const child = spawn(process.execPath, ['-e', 'console.log(1); setInterval(() => {}, 1000)'], { stdio: ['ignore', 'pipe', 'ignore'] });
  children.push(child);
  await once(child.stdout, 'data');
  return child.pid ?? 0;
}

describe('when a process was started', () => {
  it('is the same whenever it is asked', () => expect(processStart(process.pid)).toBe(processStart(process.pid)));

  // Windows is not asked: there a process that runs counts, whenever it was started
  it.runIf(process.platform === 'linux')('is another time for one that was started later', async () => {
    const one = await started();
    const other = await started();
    const starts = [process.pid, one, other].map(processStart);
    expect(new Set(starts).size).toBe(3);
    // clock ticks since the boot, rising, behind the boot's own id (proc(5), field 22)
    const [boots, ticks] = [0, 1].map((part) => starts.map((start) => start?.split(':')[part]));
    expect(new Set(boots).size).toBe(1);
    expect(boots?.[0]).toMatch(/^[0-9a-f-]{36}$/);
    const rising = (ticks ?? []).map(Number);
    expect(rising).toEqual([...rising].sort((a, b) => a - b));
  });

  it('is none for a process that has ended', async () => {
    const pid = await started();
    const [child] = children;
    child?.kill('SIGKILL');
    await once(child!, 'close');
    expect(processStart(pid)).toBeUndefined();
  });
});
