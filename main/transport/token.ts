import { randomBytes, timingSafeEqual } from 'node:crypto';

/** Nobody guesses it: 24 random bytes, safe in an address. */
export const newToken = (): string => randomBytes(24).toString('base64url');

/** Compares without telling by its duration how much was right. */
export function sameToken(left: string, right: string): boolean {
  const a = Buffer.from(left);
  const b = Buffer.from(right);
  return a.length === b.length && timingSafeEqual(a, b);
}
