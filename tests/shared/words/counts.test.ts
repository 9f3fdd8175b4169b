/**
 * Sentences that count say how many, whatever is counted: one failed test that a sentence leaves out would be silently wrong. Every function of the
 * catalogue whose parameters are all counts is called, those that are added later too.
 */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';

type Says = (...counts: number[]) => unknown;
const folder = join(import.meta.dirname, '../../../shared/words');
const COUNTS =
  /^(count|visits|trials|calls|edits|items|wrong|passed|failed|open|stale|loose|found|missed|falseAlarms|cautions|earlier|pieces)$/;
/** the names of the parameters, as they are written */
const parametersOf = (says: Says): string[] =>
  (/^(?:function \w*)?\(?([^)=]*?)\)?\s*(?:=>|\{)/.exec(says.toString())?.[1] ?? '?').split(',').map((name) => name.trim());

/** some take a record of counts under the same name */
function takesFigures(says: Says): boolean {
  try {
    const sentence = says(...Array.from({ length: says.length }, () => 5));
    return typeof sentence === 'string' && !/undefined|NaN/.test(sentence);
  } catch {
    return false;
  }
}
/** A label with its figure beside it, an answer to what is on screen, and a band that needs three curves. */
const notAsked = /lookAndTell\.falseAlarm$|display\.yes$|warmUp\.bandAbout$/;
const found: [string, Says][] = [];
function collect(value: unknown, path: string, seen = new Set<unknown>()): void {
  if (value === null || seen.has(value)) return;
  seen.add(value);
  if (typeof value === 'function') {
    if (parametersOf(value as Says).every((name) => COUNTS.test(name)) && !notAsked.test(path) && takesFigures(value as Says))
      found.push([path, value as Says]);
  } else if (typeof value === 'object') for (const [key, part] of Object.entries(value)) collect(part, `${path}.${key}`, seen);
}
beforeAll(async () => {
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((one) => one.endsWith('.ts'))
    .sort())
    collect(await import(join(folder, name)), name);
});

const asWord: Readonly<Record<number, RegExp>> = {
  1: /\b(1|one|a|an|it|its|once|this|the|yes)\b|^[^0-9]*$/i,
  2: /\b(2|two|both|twice)\b/i,
  3: /\b(3|three|all)\b/i,
  7: /\b(7|seven)\b/i,
};
const text = (says: Says, ...counts: number[]): string => JSON.stringify(says(...counts));

describe('a sentence that counts', () => {
  it('is found where there are some', () => expect(found.length).toBeGreaterThan(40));

  it('says how many, in figures or in words', () => {
    const wrong: string[] = [];
    for (const [path, says] of found)
      for (const count of [1, 2, 3, 7]) {
        const sentence = text(says, ...Array.from({ length: says.length }, () => count));
        if (asWord[count]?.test(sentence) !== true) wrong.push(`${path}(${count}): ${sentence}`);
      }
    expect(wrong).toEqual([]);
  });

  it('says of each count by itself how many, whatever the others are', () => {
    const wrong: string[] = [];
    for (const [path, says] of found.filter(([, { length }]) => length > 1))
      for (let at = 0; at < says.length; at++)
        for (const [count, word] of [
          [1, /\b(1|one)\b/i],
          [7, /\b(7|seven)\b/i],
        ] as const) {
          const sentence = text(says, ...Array.from({ length: says.length }, (_, other) => (other === at ? count : 0)));
          if (!word.test(sentence)) wrong.push(`${path}: ${sentence}`);
        }
    expect(wrong).toEqual([]);
  });

  it('speaks of one as one, and of none without a wrong figure', () => {
    const wrong: string[] = [];
    for (const [path, says] of found) {
      const one = text(says, ...Array.from({ length: says.length }, () => 1));
      if (/\b(1|one) (\w+ )?(are|were|have|entries|visits|trials|tests|curves|columns|photos|parts|items)\b/i.test(one))
        wrong.push(`${path}: ${one}`);
      const none = text(says, ...Array.from({ length: says.length }, () => 0));
      if (/\b[1-9]\b/.test(none)) wrong.push(`${path}(0): ${none}`);
    }
    expect(wrong).toEqual([]);
  });
});
