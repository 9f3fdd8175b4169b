/** Two people at two windows send what they like, in any order and several at once, to a whole host; `npm run soak -- commands` plays thousands. */
import { expect, it } from 'vitest';
import { playCommands } from './random-commands.ts';

it.each([1, 6, 9])(
  'commands of two windows in any order: nothing signed changes, nothing confirmed is lost, both are told the same; seed %i',
  { timeout: 120_000 },
  async (seed) => {
    const { commands, faults } = await playCommands(seed, 40);
    expect(faults.join('\n\n')).toBe('');
    expect(commands).toBeGreaterThan(40);
  },
);
