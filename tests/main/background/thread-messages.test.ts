/** An error goes from thread to thread as plain data, and says there what it said here. */
import { expect, it } from 'vitest';
import { plain, revive } from '../../../main/background/thread-messages.ts';

const through = (failure: unknown): Error => revive(structuredClone(plain(failure)));

it.each([
  ['a code of the disk', { code: 'ENOSPC' }],
  ['a code of the records', { sqliteCodeName: 'SQLITE_FULL' }],
  ['both', { code: 'ERR', sqliteCodeName: 'SQLITE_BUSY' }],
])('with %s: message, stack and codes are the same', (_, codes) => {
  const failure = Object.assign(new Error('the disk is full'), codes);
  const there = through(failure);
  expect(there).toBeInstanceOf(Error);
  expect([there.message, there.stack]).toEqual([failure.message, failure.stack]);
  expect({ ...there }).toEqual(codes);
});

it('without a code it gets none', () => {
  expect(Object.keys(through(new Error('a')))).toEqual([]);
});

it('what cannot travel or is no code stays behind, and the rest arrives', () => {
  const there = through(Object.assign(new Error('a'), { code: 17, sqliteCodeName: () => 'no data' }));
  expect([there.message, Object.keys(there)]).toEqual(['a', []]);
});

it.each([
  ['a text', 'went wrong', 'went wrong'],
  ['nothing', undefined, 'undefined'],
  ['null', null, 'null'],
  ['an object', { stack: 'at a' }, '[object Object]'],
])('thrown as %s it is an error that says so', (_, failure, message) => {
  const there = through(failure);
  expect(there).toBeInstanceOf(Error);
  expect(there.message).toBe(message);
});
