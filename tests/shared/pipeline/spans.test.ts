import { expect, it } from 'vitest';
import { createSpanList, type Span } from '../../../shared/pipeline/spans.ts';

type Named = Span & { name: string };
const named = (name: string, fromMs: number, toMs?: number): Named => ({ name, fromMs, toMs });

it('a stretch is told when it begins and again when it ends, once each', () => {
  const spans = createSpanList<Named>();
  spans.begin(named('a', 0));
  spans.begin(named('b', 10));
  expect(spans.takeChanged().map(({ name }) => name)).toEqual(['a', 'b']);
  expect(spans.takeChanged()).toEqual([]);
  expect(spans.isOpen(({ name }) => name === 'a')).toBe(true);
  spans.end(({ name }) => name === 'a', 50);
  expect(spans.isOpen(({ name }) => name === 'a')).toBe(false);
  expect(spans.isOpen(({ name }) => name === 'b')).toBe(true);
  expect(spans.takeChanged()).toEqual([named('a', 0, 50)]);
  // one that has ended stays as it ended
  spans.end(({ name }) => name === 'a', 99);
  expect(spans.takeChanged()).toEqual([]);
  expect(spans.all).toEqual([named('a', 0, 50), named('b', 10)]);
});

it('one that comes with its end is not open', () => {
  const spans = createSpanList<Named>();
  spans.begin(named('a', 0, 5));
  expect(spans.isOpen(() => true)).toBe(false);
  spans.end(() => true, 9);
  expect(spans.takeChanged()).toEqual([named('a', 0, 5)]);
});

it('of more than 2 000 the oldest are forgotten, open or not told yet as they may be', () => {
  const spans = createSpanList<Named>();
  spans.begin(named('first', 0));
  for (let at = 1; at < 2000; at++) spans.begin(named(String(at), at, at));
  expect(spans.all).toHaveLength(2000);
  expect(spans.isOpen(({ name }) => name === 'first')).toBe(true);
  spans.begin(named('one more', 2000));
  expect(spans.all).toHaveLength(2000);
  expect(spans.all[0]!.name).toBe('1');
  expect(spans.isOpen(({ name }) => name === 'first')).toBe(false);
  const told = spans.takeChanged();
  expect(told).toHaveLength(2000);
  expect(told[0]!.name).toBe('1');
});
