/** The office's password: in the system's keychain where the shell offers one, else in memory for this session. Never in settings, never in the log. */
import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { parseJson } from '../store/documents.ts';
import { writeWhole } from '../store/files.ts';

export interface Secrets {
  /** what is saved outlives this session */
  readonly isKept: boolean;
  /** @returns false when it is not kept */
  save(name: string, secret: string): boolean;
  read(name: string): string | undefined;
  forget(): void;
}

/** What the desktop shell brings; `encrypt` binds to the account of this system. */
export type Keychain = {
  readonly isAvailable: () => boolean;
  readonly encrypt: (text: string) => Uint8Array;
  readonly decrypt: (bytes: Uint8Array) => string;
};

const FILE = 'office-secret.json';
const Kept = z.object({ name: z.string(), secret: z.base64() });

export const noSecrets: Secrets = { isKept: false, save: () => false, read: () => undefined, forget: () => undefined };

export function keychainSecrets(dataFolder: string, keychain: Keychain): Secrets {
  const path = join(dataFolder, FILE);
  return {
    get isKept() {
      return keychain.isAvailable();
    },
    save(name, secret) {
      if (!keychain.isAvailable()) return false;
      try {
        writeWhole(path, JSON.stringify({ name, secret: Buffer.from(keychain.encrypt(secret)).toString('base64') }), 0o600);
        return true;
      } catch {
        return false;
      }
    },
    read(name) {
      try {
        const kept = Kept.safeParse(parseJson(readFileSync(path, 'utf8'))).data;
        return kept?.name === name && keychain.isAvailable() ? keychain.decrypt(Buffer.from(kept.secret, 'base64')) : undefined;
      } catch {
        // not there, or another account's: it is asked for
        return undefined;
      }
    },
    forget: () => rmSync(path, { force: true }),
  };
}
