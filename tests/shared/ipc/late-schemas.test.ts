import { describe, expect, it, vi } from 'vitest';
import { createClient, type Contract } from '../../../shared/ipc/client.ts';
import * as contract from '../../../shared/ipc/contract.ts';

function wireWith(fetch: () => Promise<Contract>) {
  let hear: (message: unknown) => void = () => undefined;
  const load = vi.fn(fetch);
  const client = createClient({ send: () => undefined, onMessage: (listener) => ((hear = listener), () => undefined) }, load);
  return { client, load, say: (message: unknown) => hear(message) };
}
const reply = (id: number, value: unknown) => ({ type: 'reply', id, result: { ok: true, value } });
const ports = { ports: [] };

describe('a window whose schemas come later', () => {
  it('takes what the first figure needs as the host sent it, and fetches nothing for it', async () => {
    const { client, load, say } = wireWith(() => Promise.resolve(contract));
    const heard: unknown[] = [];
    client.on('sources.changed', (payload) => heard.push(payload));
    say({ type: 'event', name: 'sources.changed', payload: ports });
    const asked = client.call('source.list', {});
    say(reply(1, ports));
    expect(await asked).toEqual({ ok: true, value: ports });
    expect(heard).toEqual([ports]);
    expect(load).not.toHaveBeenCalled();
  });

  it('checks every other answer, and from then on everything', async () => {
    const { client, load, say } = wireWith(() => Promise.resolve(contract));
    const asked = client.call('visit.list', {});
    say(reply(1, { visits: 'none' }));
    expect(await asked).toMatchObject({ ok: false, error: { code: 'internal' } });
    expect(load).toHaveBeenCalledTimes(1);
    const warned = vi.spyOn(console, 'warn').mockImplementation(() => undefined);
    const heard: unknown[] = [];
    client.on('sources.changed', (payload) => heard.push(payload));
    say({ type: 'event', name: 'sources.changed', payload: { ports: 'none' } });
    const again = client.call('source.list', {});
    say(reply(2, { ports: 'none' }));
    expect(await again).toMatchObject({ ok: false, error: { code: 'internal' } });
    expect(heard).toEqual([]);
    expect(warned).toHaveBeenCalledTimes(1);
    warned.mockRestore();
  });

  it('says that an answer could not be checked, and asks for the schemas again with the next one', async () => {
    let isThere = false;
    const { client, load, say } = wireWith(() => (isThere ? Promise.resolve(contract) : Promise.reject(new Error('not fetched'))));
    const asked = client.call('visit.list', {});
    say(reply(1, { visits: [], total: 0 }));
    expect(await asked).toMatchObject({ ok: false, error: { code: 'internal' } });
    isThere = true;
    const again = client.call('visit.list', {});
    say(reply(2, { visits: [], total: 0 }));
    expect(await again).toMatchObject({ ok: true });
    expect(load).toHaveBeenCalledTimes(2);
  });

  it.each([
    ['no object', 'text'],
    ['an answer without a result', { type: 'reply', id: 1 }],
    ['an answer whose refusal has no known code', { type: 'reply', id: 1, result: { ok: false, error: { code: 'nonsense' } } }],
    ['an event without a name', { type: 'event', payload: ports }],
  ])('passes over %s', async (_what, message) => {
    const { client, say } = wireWith(() => Promise.resolve(contract));
    const heard: unknown[] = [];
    client.on('sources.changed', (payload) => heard.push(payload));
    const asked = client.call('source.list', {});
    say(message);
    expect(heard).toEqual([]);
    say(reply(1, ports));
    expect(await asked).toEqual({ ok: true, value: ports });
  });
});
