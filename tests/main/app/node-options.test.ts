import { describe, expect, it } from 'vitest';
import { readNodeOptions } from '../../../main/node-options.ts';

const read = (...args: string[]) => {
  const result = readNodeOptions(args);
  if (!result.ok) throw new Error(result.error.detail);
  return result.value;
};

describe('the options of npm start', () => {
  it('have plain defaults', () => {
    expect(read()).toEqual({
      dataFolder: undefined,
      speed: 1,
      port: 0,
      opensWindow: true,
      firstRun: 'newcomer',
      lingerMs: 30_000,
      role: 'operator',
      why: '',
    });
  });

  it.each([
    { args: ['--simulated'], firstRun: { kind: 'simulated' } },
    { args: ['--source', 'simulated'], firstRun: { kind: 'simulated' } },
    { args: ['--source', 'typed'], firstRun: { kind: 'typed' } },
    { args: ['--source', '/dev/ttyUSB0'], firstRun: { kind: 'serial', path: '/dev/ttyUSB0' } },
    { args: ['--source', 'COM3'], firstRun: { kind: 'serial', path: 'COM3' } },
  ])('$args begins with $firstRun', ({ args, firstRun }) => {
    expect(read(...args).firstRun).toMatchObject(firstRun);
  });

  it('know a start without a source', () => {
    expect(read('--source', 'none').firstRun).toBe('none');
  });

  it.each([
    [['--speed', 'fast']],
    [['--speed', '0']],
    [['--port', '70000']],
    [['--port', '1.5']],
    [['--linger', '-1']],
    [['--as', 'boss']],
    [['--unknown']],
    [['--data']],
    [['stray']],
  ])('refuse %j', (args) => {
    expect(readNodeOptions(args)).toMatchObject({ ok: false, error: { code: 'usage' } });
  });
});
