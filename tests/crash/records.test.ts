import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { recordsKillRounds, recordsWorks } from './records-rounds.ts';

describe('kill -9 during (short form of npm run crash -- records)', () => {
  it.each(recordsWorks)('%s leaves one whole state and loses nothing that was acknowledged', { timeout: 120_000 }, async (work) => {
    const scripts = pathToFileURL(join(process.cwd(), 'main', 'scripts', 'build-output.mjs')).href;
    const { bundleProgram } = (await import(/* @vite-ignore */ scripts)) as { bundleProgram: (entry: string) => Promise<string> };
    const report = await recordsKillRounds(await bundleProgram('tests/crash/records-child.ts'), work, 3, 5);
    expect(report).toMatchObject({ killed: 3, lost: 0, halfStates: 0, silentEmptyBooks: 0, problems: [] });
  });
});
