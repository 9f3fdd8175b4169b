import type { Greeting } from '../../shared/ipc/handshake.ts';
import type { Role } from '../../shared/ipc/session-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { newToken } from './token.ts';

/** What a window may become: its key says so, for as long as the host runs. */
export type Grant = { readonly key: string; readonly role: Role };

/** One-use codes and the session keys they are exchanged for. Held in memory only: a new start knows none of the old ones. */
export interface Access {
  /** @returns a code that opens one window with this right */
  newCode(role: Role): string;
  /** Exchanges a code for a key, or recognises a key. */
  greet(greeting: Greeting): Result<Grant, Problem>;
  find(key: string): Grant | undefined;
}

/** More codes or keys than this are not kept: the oldest go first, so that a script in a loop can not fill the memory. */
const KEPT = 200;

export function createAccess(): Access {
  const codes = new Map<string, Role>();
  const keys = new Map<string, Grant>();

  return {
    newCode(role) {
      const code = newToken();
      codes.set(code, role);
      dropOldest(codes);
      return code;
    },
    greet(greeting) {
      if (greeting.type === 'key') {
        const grant = keys.get(greeting.key);
        return grant === undefined ? err(problem('key-unknown')) : ok(grant);
      }
      const role = codes.get(greeting.code);
      if (role === undefined) return err(problem('link-used'));
      codes.delete(greeting.code);
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
