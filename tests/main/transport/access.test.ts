import { describe, expect, it } from 'vitest';
import { createAccess, WINDOW_CODE_MS } from '../../../main/transport/access.ts';

describe('codes and keys', () => {
  it('lets a code in once', () => {
    const access = createAccess(() => 0);
    const code = access.newCode('operator');
    expect(access.greet({ type: 'code', code })).toMatchObject({ ok: true, value: { role: 'operator' } });
    expect(access.greet({ type: 'code', code })).toMatchObject({ ok: false, error: { code: 'link-used' } });
  });

  it('recognises its key after a reload, with the right of its code', () => {
    const access = createAccess(() => 0);
    const first = access.greet({ type: 'code', code: access.newCode('viewer') });
    if (!first.ok) throw new Error('the code was refused');
    expect(access.greet({ type: 'key', key: first.value.key })).toEqual(first);
    expect(access.find(first.value.key)).toEqual(first.value);
  });

  it('knows no key of an earlier start', () => {
    const earlier = createAccess(() => 0);
    const grant = earlier.greet({ type: 'code', code: earlier.newCode('operator') });
    if (!grant.ok) throw new Error('the code was refused');
    expect(createAccess(() => 0).greet({ type: 'key', key: grant.value.key })).toMatchObject({ ok: false, error: { code: 'key-unknown' } });
  });

  it('takes a code for no key and a key for no code', () => {
    const access = createAccess(() => 0);
    const code = access.newCode('operator');
    expect(access.greet({ type: 'key', key: code }).ok).toBe(false);
    expect(access.greet({ type: 'code', code }).ok).toBe(true);
  });

  it('keeps a bounded number of unused codes, the newest ones', () => {
    const access = createAccess(() => 0);
    const codes = Array.from({ length: 1000 }, () => access.newCode('operator'));
    expect(access.greet({ type: 'code', code: codes[0] ?? '' }).ok).toBe(false);
    expect(access.greet({ type: 'code', code: codes.at(-1) ?? '' }).ok).toBe(true);
  });

  it('makes codes that nobody guesses: 192 bits, all different', () => {
    const access = createAccess(() => 0);
    const codes = new Set(Array.from({ length: 500 }, () => access.newCode('operator')));
    expect(codes.size).toBe(500);
    // base64url carries 6 bits in a sign (RFC 4648 section 5)
    for (const code of codes) expect(code.length * 6).toBeGreaterThanOrEqual(192);
  });

  it('lets nobody in with a code that has expired', () => {
    let nowMs = 0;
    const access = createAccess(() => nowMs);
    const quick = access.newCode('operator', WINDOW_CODE_MS);
    const slow = access.newCode('operator');
    nowMs = WINDOW_CODE_MS + 1;
    expect(access.greet({ type: 'code', code: quick })).toMatchObject({ ok: false, error: { code: 'link-used' } });
    expect(access.greet({ type: 'code', code: slow }).ok).toBe(true);
  });
});
