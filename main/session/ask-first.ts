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
  if (address === undefined || secret === undefined || !isOwnAddress(address)) return undefined;
  try {
    const response = await fetch(new URL(`${LINK_PATH}?role=${role}`, address), {
      method: 'POST',
      headers: { [SECRET_HEADER]: secret },
      redirect: 'error',
      signal: AbortSignal.timeout(3000),
    });
    const answer = z.object({ link: z.url() }).safeParse(await response.json());
    // opened by whoever asked: nothing but a page of the very host that was asked
    return answer.success && new URL(answer.data.link).origin === new URL(address).origin ? answer.data.link : undefined;
  } catch {
    return undefined;
  }
}

/** The lock file may have been written by anybody who can write the folder: only an address of this computer is asked. */
const isOwnAddress = (address: string): boolean => /^http:\/\/127\.0\.0\.1:\d{1,5}\/$/.test(address) && URL.canParse(address);
