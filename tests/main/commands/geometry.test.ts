import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { command } from '../../../main/commands/geometry.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { runCommand } from './run-command.ts';

const folder = mkdtempSync(join(tmpdir(), 'flueside-geometry-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const file = (name: string, content: unknown): string => {
  const path = join(folder, name);
  writeFileSync(path, typeof content === 'string' ? content : JSON.stringify(content));
  return path;
};
const card = file('card.json', trainingCards[1]);

describe('geometry', () => {
  it('gives a verdict, a direction and what is stale', async () => {
    const sheet = file('sheet.json', {
      lengthUnit: 'inch',
      burner: { tubeEnd: 'straight', arrangement: 'two', nozzleFlow: '0.70' },
      measured: { electrodeGap: '1/8', heightAboveCentreline: '7/16', headToTubeEnd: '3/4', headSetting: 3 },
      changed: ['zero'],
    });
    const { code, out } = await runCommand(command, [card, '--measured', sheet, '--json']);
    expect(code).toBe(0);
    const result = JSON.parse(out.join('\n')) as {
      items: { item: string; verdict: string; direction?: string; words: string }[];
      stale: { what: string }[];
    };
    const of = (item: string) => result.items.find((one) => one.item === item);
    expect(of('electrodeGap')).toMatchObject({ verdict: 'pass' });
    expect(of('heightAboveCentreline')).toMatchObject({
      verdict: 'fail',
      direction: 'raise-tips',
      words: '1/16\u2009in too low. Raise both tips.',
    });
    expect(of('headToTubeEnd')).toMatchObject({ verdict: 'fail', direction: 'move-head-forward' });
    expect(of('headSetting')).toMatchObject({ verdict: 'fail', words: '1 too high. Set it to 2.' });
    expect(of('nozzleToHead')).toMatchObject({ verdict: 'not-measured' });
    expect(result.stale.map(({ what }) => what)).toEqual(['headSetting', 'readings']);
  });
  it('refuses a card that contradicts itself, in words and with code 1', async () => {
    const conflict = {
      ...trainingCards[1],
      byFlow: {
        unit: 'gph',
        rows: [
          { from: '0.8', to: '1.0', headSetting: '3' },
          { from: '1.0', to: '1.2', headSetting: '4' },
        ],
      },
    };
    const sheet = file('plain.json', { lengthUnit: 'inch', measured: {} });
    const { code, errors } = await runCommand(command, [file('conflict.json', conflict), '--measured', sheet]);
    expect(code).toBe(1);
    expect(errors.join()).toContain('1.0 is in two rows');
  });
  it.each([
    ['no JSON', 'hello'],
    ['another format', { format: 'something-else' }],
    ['an unknown item', { ...trainingCards[1], figures: [{ item: 'sparkColour', figure: { low: '1' } }] }],
  ])('refuses a card file with %s', async (_, content) => {
    const sheet = file('plain.json', { lengthUnit: 'inch', measured: {} });
    const { code, errors } = await runCommand(command, [file('bad.json', content), '--measured', sheet]);
    expect(code).toBe(1);
    expect(errors.join()).toContain('not a figures card');
  });
});
