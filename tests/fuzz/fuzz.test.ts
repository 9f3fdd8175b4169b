import { expect, it } from 'vitest';
import { fuzzFiles } from './files.ts';
import { fuzzMessages } from './messages.ts';

it(
  'changed backups, packages, run files, records and recipes are answers, never a throw (short form of npm run fuzz)',
  { timeout: 120_000 },
  async () => {
    const found = await fuzzFiles(150_000, 7);
    expect(found.map(({ kind }) => kind)).toEqual(['backups', 'packages', 'runs', 'records', 'recipes']);
    for (const { files } of found) expect(files).toBeGreaterThan(1);
  },
);

it('hostile messages to a host that may do everything end nothing (short form of npm run fuzz)', { timeout: 120_000 }, async () => {
  expect(await fuzzMessages(600, 3)).toMatchObject({ thrown: [], isAlive: true });
});
