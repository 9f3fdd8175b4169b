import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

/**
 * When a process was started, in whatever words the system has for it. A process id is used again after a while; together with its start
 * it is not.
 *
 * @returns undefined when there is no such process; '' when it is there but the system does not tell
 */
export function processStart(pid: number): string | undefined {
  try {
    process.kill(pid, 0);
  } catch (error) {
    // EPERM: it is there, but another user's
    if ((error as NodeJS.ErrnoException).code !== 'EPERM') return undefined;
  }
  try {
    if (process.platform === 'linux') return linuxStart(readFileSync(`/proc/${pid}/stat`, 'utf8'));
    if (process.platform === 'darwin')
      return execFileSync('/bin/ps', ['-o', 'lstart=', '-p', String(pid)], { encoding: 'utf8', timeout: 3000 }).trim();
  } catch {
    return '';
  }
  return '';
}

/**
 * Field 22 of proc(5) stat, clock ticks since boot, with the boot's own id before it. The name in field 2 may hold blanks and brackets, so
 * counting starts behind the last bracket. A zombie has ended.
 */
function linuxStart(stat: string): string | undefined {
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  if (fields[0] === 'Z' || fields[0] === 'X') return undefined;
  return `${readBootId()}:${fields[19] ?? ''}`;
}

function readBootId(): string {
  try {
    return readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
  } catch {
    return '';
  }
}
