import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, it } from 'vitest';
import { storeKillRounds } from './store-rounds.ts';

it(
  'kill -9 while a visit is edited loses nothing that was acknowledged (short form of npm run crash -- store)',
  { timeout: 60_000 },
  async () => {
    const scripts = pathToFileURL(join(process.cwd(), 'main', 'scripts', 'build-output.mjs')).href;
    const { bundleProgram } = (await import(/* @vite-ignore */ scripts)) as { bundleProgram: (entry: string) => Promise<string> };
    const report = await storeKillRounds(await bundleProgram('tests/crash/store-child.ts'), 3, 11);
    expect(report).toMatchObject({ killed: 3, lost: 0, problems: [] });
    expect(report.acknowledged).toBeGreaterThan(0);
  },
);
