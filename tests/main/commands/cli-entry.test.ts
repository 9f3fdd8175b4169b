/** The command line as a process: what it answers to no word, to a wrong one and to a call for help, and with which code it ends. */
import { afterEach, expect, it, vi } from 'vitest';
import { commands } from '../../../main/commands/index.ts';
import { cliTexts } from '../../../shared/words/commands/start.ts';

const before = [...process.argv];
afterEach(() => {
  process.argv = before;
  vi.restoreAllMocks();
  for (const name of ['SIGINT', 'SIGTERM'] as const) process.removeAllListeners(name);
  process.stdout.removeAllListeners('error');
});

async function run(...words: string[]): Promise<{ out: string; error: string; code: unknown }> {
  let [out, error] = ['', ''];
  vi.spyOn(process.stdout, 'write').mockImplementation((text, done?: unknown) => {
    out += String(text);
    if (typeof done === 'function') (done as () => void)();
    return true;
  });
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    error += String(text);
    return true;
  });
  const ended = new Promise((end) => vi.spyOn(process, 'exit').mockImplementation((code) => end(code) as never));
  process.argv = ['node', 'cli', ...words];
  vi.resetModules();
  await import('../../../main/cli.ts');
  return { code: await ended, out, error };
}

it('without a word it lists its commands, each with a line, and ends as used wrongly', async () => {
  const { out, error, code } = await run();
  expect(out).toContain(cliTexts.usage);
  for (const [name, { summary }] of Object.entries(commands))
    expect(out).toMatch(new RegExp(`^  ${name} +${summary.slice(0, 20).replace(/[^\w ]/g, '.')}`, 'm'));
  expect(error).toBe('');
  expect(code).toBe(2);
});
it.each(['help', '--help', '-h'])('asked by %s it does the same and ends well', async (word) => {
  const { out, code } = await run(word);
  expect(out).toContain(cliTexts.usage);
  expect(code).toBe(0);
});
it.each(['comput', 'toString', '__proto__'])('“%s” is no command: it says so where errors go', async (word) => {
  const { out, error, code } = await run(word);
  expect(error).toContain(word);
  expect(out).toBe('');
  expect(code).toBe(2);
});
it('a command that is asked for help tells its usage and does nothing', async () => {
  const { command } = await commands['compute']!.load();
  for (const words of [
    ['compute', '--help'],
    ['compute', '--o2', '5', '-h'],
    ['--data', '/nowhere', 'compute', '-h'],
  ]) {
    const { out, code } = await run(...words);
    expect(out.trim()).toBe(command.usage.trim());
    expect(code).toBe(0);
  }
});
it('a command runs with its words, and its code is the code of the process', async () => {
  const done = await run('compute', '--fuel', 'no2', '--o2', '5', '--stack-c', '200', '--air-c', '20');
  expect(done).toMatchObject({ error: '', code: 0 });
  expect(done.out).toMatch(/CO2/);
  const refused = await run('compute', '--fuel', 'no2', '--o2', 'much');
  expect(refused.code).toBe(2);
  expect(refused.error).toContain('much');
});
