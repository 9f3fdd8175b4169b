/** What a window's page can do, called by name: the same wire that its buttons use. */
import type { Page } from 'playwright-core';

type Wire = { send(message: unknown): void; onMessage(listener: (message: unknown) => void): () => void };

let nextId = 1_000_000;

export async function call<T = Record<string, unknown>>(page: Page, name: string, input: object = {}): Promise<T> {
  const id = (nextId += 1);
  const result = await page.evaluate(
    ([callId, command, values]) =>
      new Promise<unknown>((done) => {
        const wire = (window as unknown as { flueside: Wire }).flueside;
        const stop = wire.onMessage((message) => {
          const reply = message as { type?: string; id?: number; result?: unknown };
          if (reply.type !== 'reply' || reply.id !== callId) return;
          stop();
          done(reply.result);
        });
        wire.send({ type: 'call', id: callId, name: command, input: values });
      }),
    [id, name, input] as const,
  );
  const { ok, value, error } = result as { ok: boolean; value: T; error?: unknown };
  if (!ok) throw new Error(`${name}: ${JSON.stringify(error)}`);
  return value;
}
