/** To which bytes, for which recipe at which device, the user has agreed. Kept over restarts; anything unreadable counts as no consent. */
import { mkdir, readFile, rename, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { z } from 'zod';
import type { PollConsent, PollTarget } from '../../../shared/lines/poll.ts';

const Consents = z.array(z.object({ recipeHash: z.string(), deviceId: z.string(), command: z.string() })).max(1000);

export interface PollConsents {
  find(target: PollTarget, command: string): Promise<PollConsent | undefined>;
  allow(consent: PollConsent): Promise<void>;
  withdraw(target: PollTarget): Promise<void>;
}

export function createPollConsents(path: string): PollConsents {
  let known: Promise<PollConsent[]> | undefined;
  const all = (): Promise<PollConsent[]> =>
    (known ??= readFile(path, 'utf8')
      .then((text) => Consents.parse(JSON.parse(text)))
      .catch(() => []));
  const isFor = (target: PollTarget) => (consent: PollConsent) =>
    consent.recipeHash === target.recipeHash && consent.deviceId === target.deviceId;
  const keep = async (consents: PollConsent[]): Promise<void> => {
    known = Promise.resolve(consents);
    await mkdir(dirname(path), { recursive: true });
    await writeFile(`${path}.new`, `${JSON.stringify(consents, undefined, 2)}\n`, { mode: 0o600, flush: true });
    await rename(`${path}.new`, path);
  };
  return {
    find: async (target, command) => (await all()).find((consent) => isFor(target)(consent) && consent.command === command),
    allow: async (consent) => keep([...(await all()).filter((other) => !isFor(consent)(other)), consent].slice(-1000)),
    withdraw: async (target) => keep((await all()).filter((consent) => !isFor(target)(consent))),
  };
}
