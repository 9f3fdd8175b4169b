import fc from 'fast-check';
import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { commands } from '../../../shared/ipc/contract.ts';
import { ReplyMessage } from '../../../shared/ipc/message.ts';
import { settle } from '../../helpers/host/fake-clock.ts';
import { openApp, openWindow } from './app-fixture.ts';

const names = Object.keys(commands);
/** Near misses find more than noise does: right envelopes around wrong inputs, names from the prototype, ids out of range. */
const message = fc.oneof(
  { weight: 1, arbitrary: fc.jsonValue() },
  {
    weight: 2,
    arbitrary: fc.record(
      {
        type: fc.constantFrom('call', 'reply', 'event', '__proto__', 7),
        id: fc.oneof(fc.integer(), fc.double(), fc.string()),
        name: fc.string(),
        input: fc.jsonValue(),
      },
      { requiredKeys: [] },
    ),
  },
  {
    weight: 4,
    arbitrary: fc.record({
      type: fc.constant('call'),
      id: fc.nat(),
      name: fc.constantFrom(...names, 'constructor', 'toString', '__proto__'),
      input: fc.oneof(fc.jsonValue(), fc.dictionary(fc.string(), fc.jsonValue())),
    }),
  },
);

describe('10 000 fuzzed messages from a viewer', () => {
  it('are answered or passed over, change nothing, and leave the host well', { timeout: 60_000 }, async () => {
    const { app, runService, folder } = openApp();
    const before = readdirSync(folder).sort();
    const { client, wire } = openWindow(app, 'viewer');
    const messages = fc.sample(message, { numRuns: 10_000, seed: 20_260_101 });
    let answerable = 0;
    for (const [index, one] of messages.entries()) {
      const id = (one as { id?: unknown } | null)?.id;
      if (typeof id === 'number' && Number.isSafeInteger(id) && id >= 0) answerable += 1;
      wire.window.send(one);
      if (index % 500 === 0) await settle();
    }
    await settle();
    const replies = wire.sent.map((sent) => ReplyMessage.safeParse(sent)).filter((checked) => checked.success);
    // every message with an id that can be read gets exactly one answer
    expect(replies.length).toBe(answerable);
    expect(answerable).toBeGreaterThan(4000);
    const changing = runService.called.filter(({ name }) => !['source.list', 'run.export'].includes(name));
    expect(changing).toEqual([]);
    expect(readdirSync(folder).sort()).toEqual(before);
    expect((await client.call('session.hello', {})).ok).toBe(true);
  });
});
