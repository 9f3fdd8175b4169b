/** What the work knows of its thread: its program inside one; in the host's own thread there is none, and nobody to tell. */
import { readFileSync } from 'node:fs';
import { transform } from 'esbuild';
import { Worker } from 'node:worker_threads';
import { expect, it } from 'vitest';
import { programOfThread, sayToLog } from '../../../main/background/thread-facts.ts';

const told = async (workerData: unknown): Promise<unknown[]> => {
  const file = new URL('../../../main/background/thread-facts.ts', import.meta.url);
  const { code } = await transform(readFileSync(file, 'utf8'), { loader: 'ts', format: 'cjs' });
  const worker = new Worker(`${code}; sayToLog(String(programOfThread()));`, { eval: true, workerData });
  const messages: unknown[] = [];
  worker.on('message', (message) => messages.push(message));
  await new Promise((done, fail) => worker.on('exit', done).on('error', fail));
  return messages;
};

it('a thread knows its program, and what it says goes to the log', async () => {
  expect(await told({ program: 'abc' })).toEqual([{ kind: 'said', text: 'abc' }]);
});
it('a thread that was given none knows none', async () => {
  expect(await told(null)).toEqual([{ kind: 'said', text: 'undefined' }]);
});
it('the host’s own thread has no program, and says nothing to anybody', () => {
  expect(programOfThread()).toBeUndefined();
  expect(() => sayToLog('a line')).not.toThrow();
});
