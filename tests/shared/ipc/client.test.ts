import { describe, expect, it } from 'vitest';
import { createClient } from '../../../shared/ipc/client.ts';
import * as contract from '../../../shared/ipc/contract.ts';

describe('what a window sends', () => {
  it.each([NaN, Infinity, -Infinity])('a figure that is none does not travel: %s', async (value) => {
    const sent: unknown[] = [];
    const client = createClient({ send: (message) => sent.push(message), onMessage: () => () => undefined }, contract);
    const answer = await client.call('document.save', { kind: 'gas', body: { components: [{ value }] } });
    expect(answer).toMatchObject({ ok: false, error: { code: 'value-out-of-range' } });
    expect(sent).toEqual([]);
    void client.call('document.save', { kind: 'gas', body: { components: [{ value: 0 }] } });
    expect(sent).toHaveLength(1);
  });
});
