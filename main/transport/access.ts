import type { Greeting } from '../../shared/ipc/handshake.ts';
import type { Role } from '../../shared/ipc/session-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { newToken } from './token.ts';

/** What a window may become: its key says so, for as long as the host runs. */
export type Grant = { readonly key: string; readonly role: Role };

/**
 * One-use codes and the session keys they are exchanged for. Held in memory only: a new start knows none of the old ones. A code that a program
 * uses at once expires soon; one that a person types or clicks later is given longer.
 */
export interface Access {
  /** @returns a code that opens one window with this right */
  newCode(role: Role, forMs?: number): string;
  /** Exchanges a code for a key, or recognises a key. */
  greet(greeting: Greeting): Result<Grant, Problem>;
  find(key: string): Grant | undefined;
}

/** More codes or keys than this are not kept: the oldest go first, so that a script in a loop cannot fill the memory. */
const KEPT = 200;
/** an address on a terminal: time to copy it into a browser */
const CODE_MS = 60 * 60_000;
/** one that a browser is started with */
export const WINDOW_CODE_MS = 60_000;

export function createAccess(nowMs: () => number): Access {
  const codes = new Map<string, { role: Role; untilMs: number }>();
  const keys = new Map<string, Grant>();

  return {
    newCode(role, forMs = CODE_MS) {
      const code = newToken();
      codes.set(code, { role, untilMs: nowMs() + forMs });
      dropOldest(codes);
      return code;
    },
    greet(greeting) {
      if (greeting.type === 'key') {
        const grant = keys.get(greeting.key);
        return grant === undefined ? err(problem('key-unknown')) : ok(grant);
      }
      const found = codes.get(greeting.code);
      codes.delete(greeting.code);
      if (found === undefined || nowMs() > found.untilMs) return err(problem('link-used'));
      const { role } = found;
      const grant: Grant = { key: newToken(), role };
      keys.set(grant.key, grant);
      dropOldest(keys);
      return ok(grant);
    },
    find: (key) => keys.get(key),
  };
}

function dropOldest(map: Map<string, unknown>): void {
  const oldest = map.size > KEPT ? map.keys().next() : undefined;
  if (oldest?.done === false) map.delete(oldest.value);
}
