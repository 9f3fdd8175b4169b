import { z } from 'zod';
import type { Role } from '../../shared/ipc/session-commands.ts';
import { LINK_PATH, SECRET_HEADER } from '../transport/websocket.ts';
import type { LockHolder } from './instance-lock.ts';

/**
 * Asks the program that is running already for a link to a new window.
 *
 * @returns undefined when it does not answer within 3 s
 */
export async function askFirstForLink({ address, secret }: LockHolder, role: Role = 'operator'): Promise<string | undefined> {
  if (address === undefined || secret === undefined) return undefined;
  try {
    const response = await fetch(new URL(`${LINK_PATH}?role=${role}`, address), {
      method: 'POST',
      headers: { [SECRET_HEADER]: secret },
      signal: AbortSignal.timeout(3000),
    });
    const answer = z.object({ link: z.url() }).safeParse(await response.json());
    return answer.success ? answer.data.link : undefined;
  } catch {
    return undefined;
  }
}
