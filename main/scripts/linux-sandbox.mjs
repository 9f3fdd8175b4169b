// Can Chromium's sandbox work here? Seen before the desktop app is started: without it Electron ends at once, with words for programmers.
import { readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';

const setting = (path) => {
  try {
    return readFileSync(path, 'utf8').trim();
  } catch {
    return undefined;
  }
};
const fileOf = (path) => {
  try {
    const { uid, mode } = statSync(path);
    return { uid, mode };
  } catch {
    return undefined;
  }
};

/**
 * Either a helper beside the program that belongs to root with its setuid bit, or namespaces that every program may make.
 *
 * @param program path of Electron
 * @returns {{ why: string, command: string } | undefined} in words why it cannot work, and what to type once; undefined when it can
 */
export function sandboxTrouble(program, { platform = process.platform, uid = process.getuid?.(), read = setting, look = fileOf } = {}) {
  if (platform !== 'linux' || uid === 0) return undefined;
  const helper = join(dirname(program), 'chrome-sandbox');
  const file = look(helper);
  const isSetUid = file !== undefined && file.uid === 0 && (file.mode & 0o4000) !== 0 && (file.mode & 0o001) !== 0;
  if (isSetUid) return undefined;
  const why = namespacesBarred(read);
  if (why === undefined) return undefined;
  return { why, command: `sudo chown root:root ${quoted(helper)} && sudo chmod 4755 ${quoted(helper)}` };
}

function namespacesBarred(read) {
  // Ubuntu 23.10 and later; Debian's own switch; the kernel's own limit
  if (read('/proc/sys/kernel/apparmor_restrict_unprivileged_userns') === '1') return 'AppArmor bars programs from making their own sandbox';
  if (read('/proc/sys/kernel/unprivileged_userns_clone') === '0') return 'this system bars programs from making their own sandbox';
  if (read('/proc/sys/user/max_user_namespaces') === '0') return 'this system bars user namespaces';
  return undefined;
}

const quoted = (path) => (/^[\w./@+-]+$/.test(path) ? path : `'${path.replaceAll("'", "'\\''")}'`);
