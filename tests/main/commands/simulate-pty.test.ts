/** `simulate --port` on a real pseudo-terminal: this computer acts as the instrument, a second one reads what comes over the wire. POSIX only. */
import { tmpdir } from 'node:os';
import { describe, expect, it } from 'vitest';
import type { CommandIo } from '../../../main/commands/command.ts';
import { command } from '../../../main/commands/simulate.ts';
import { systemClock } from '../../../main/system-clock.ts';
import { createBurner } from '../../../shared/burner/burner.ts';
import { findScenario } from '../../../shared/burner/scenarios/catalogue.ts';
import { noPty, startPty } from '../../helpers/ports/pty.ts';

const LINES = 12;

describe.skipIf(noPty !== undefined)('an instrument made by simulate --port', () => {
  it.each(['cold-start', 'creeping-co'])('writes the very lines of the scenario %s, and ends with its time', async (name) => {
    const pty = await startPty();
    try {
      const errors: string[] = [];
      const io: CommandIo = {
        out: () => undefined,
        error: (text) => errors.push(text),
        // oxlint-disable-next-line require-yield -- nothing is typed
        stdin: async function* () {
          await Promise.resolve();
        },
        clock: systemClock,
        cwd: tmpdir(),
      };
      const args = ['--port', pty.path, '--scenario', name, '--seed', '5', '--shape', 'keyed', '--speed', '20', '--seconds', String(LINES)];
      const running = command.run(args, io);
      const heard: string[] = [];
      while (heard.length < LINES) {
        const answer = await pty.ask('rate 0', 'received');
        heard.push(
          Buffer.from(answer.split(' ')[1] ?? '', 'hex')
            .toString('latin1')
            .trim(),
        );
      }
      expect(await running).toBe(0);
      expect(errors).toEqual([]);
      const scenario = findScenario(name);
      if (!scenario.ok) throw new Error(name);
      const burner = createBurner({ scenario: scenario.value, seed: 5, shape: 'keyed' });
      expect(heard).toEqual(
        burner
          .advanceTo(LINES * 1000 - 1)
          .slice(0, LINES)
          .map(({ text }) => text.trim()),
      );
    } finally {
      await pty.stop();
    }
  });
});
