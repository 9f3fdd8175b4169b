import { describe, expect, it } from 'vitest';
import { fail, readNumber, readOptions, type CommandIo } from '../../../main/commands/command.ts';
import { problem } from '../../../shared/problem.ts';
import { systemClock } from '../../../main/system-clock.ts';

const table = { o2: { type: 'string' }, json: { type: 'boolean' }, many: { type: 'string', multiple: true } } as const;
const refused = (args: string[], maxPositionals = 0): string => {
  const result = readOptions(args, table, maxPositionals);
  return result.ok ? '' : `${result.error.code}: ${result.error.detail ?? ''}`;
};

describe('options', () => {
  it('are read with their values', () => {
    const result = readOptions(['--o2', '5', '--json', 'word'], table, 1);
    expect(result.ok && result.value).toEqual({ values: { o2: '5', json: true }, positionals: ['word'] });
  });

  it.each(['-10', '-.5', '-,5', '-3,2'])('take the negative number %s as a value', (value) => {
    const result = readOptions(['--o2', value], table);
    expect(result.ok && result.value.values.o2).toBe(value);
  });

  it('may be repeated only where the table says so', () => {
    expect(refused(['--many', 'a', '--many', 'b'])).toBe('');
    expect(refused(['--o2', '5', '--o2', '6'])).toMatch(/^usage: --o2 was given twice/);
  });

  it.each([
    [['--nope'], /no option --nope/],
    [['--o2'], /--o2 needs a value/],
    [['--o2', '--json'], /needs a value|ambiguous/],
    [['--json=yes'], /takes no value/],
    [['-x'], /no option -x/],
    [['word'], /"word" was not expected/],
  ])('refuse %s in one line', (args, words) => {
    expect(refused(args)).toMatch(words);
    expect(refused(args)).not.toMatch(/\n/);
  });
});

it('names the option in front of a number that is none', () => {
  const result = readNumber('o2', 'five');
  expect(result.ok ? '' : result.error.detail).toBe('--o2 "five"');
  expect(readNumber('o2', undefined)).toEqual({ ok: true, value: undefined });
});

it('ends with 2 for wrong usage and 1 for a failure, with one line on the error channel', () => {
  const errors: string[] = [];
  const io: CommandIo = {
    out: () => expect.unreachable(),
    error: (text) => void errors.push(text),
    stdin: () => expect.unreachable(),
    clock: systemClock,
    cwd: '.',
  };
  expect(fail(io, problem('usage', 'x'))).toBe(2);
  expect(fail(io, problem('not-a-number', 'x'))).toBe(2);
  expect(fail(io, problem('fuel-unknown', 'x'))).toBe(1);
  expect(errors.length).toBe(3);
});
