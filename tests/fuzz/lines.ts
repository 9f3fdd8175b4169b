/**
 * Bytes of every kind through splitter, readers and learner. Nothing may throw; the same bytes in other chunks must give the same
 * reads. Seeded, so that a failure can be had again.
 */
import { createLineReader } from '../../shared/lines/reading/read-line.ts';
import { createLineSplitter } from '../../shared/lines/line-splitter.ts';
import { learn } from '../../shared/lines/learn.ts';
import { shippedRecipes } from '../../shared/lines/shipped-recipes.ts';
import type { StampedLine } from '../../shared/measurement/line.ts';
import type { LineRecipe } from '../../shared/measurement/recipe.ts';
import { dialects, disturbances, makeStream, seeded } from '../shared/lines/shapes/corpus.ts';
import type { LineRead } from '../../shared/lines/reading/line-read.ts';

export type FuzzResult = { readonly bytes: number; readonly lines: number; readonly samples: number; readonly rejected: number };

/** A block of bytes: pure noise, text-like noise, or a dialect's stream with bytes knocked out of it. */
function makeBlock(random: () => number, size: number): Uint8Array {
  const kind = random();
  const block = new Uint8Array(size);
  if (kind < 0.25) {
    for (let at = 0; at < size; at++) block[at] = Math.floor(random() * 256);
    return block;
  }
  if (kind < 0.45) {
    const alphabet = '0123456789.,;:=-+eE% \t\r\nO2COT{}[]"$*#>\u0002\u0003\u001b';
    for (let at = 0; at < size; at++) block[at] = alphabet.charCodeAt(Math.floor(random() * alphabet.length));
    return block;
  }
  const dialect = dialects[Math.floor(random() * dialects.length)] ?? dialects[0];
  const kindOf = disturbances[Math.floor(random() * disturbances.length)] ?? 'none';
  if (dialect === undefined) return block;
  const { bytes } = makeStream(dialect, kindOf, Math.floor(random() * 1e6), 60);
  for (let at = 0; at < size; at++) {
    const hit = random();
    block[at] = hit < 0.003 ? Math.floor(random() * 256) : (bytes[at % bytes.length] ?? 0);
  }
  return block;
}

const split = (block: Uint8Array, chunk: (at: number) => number): StampedLine[] => {
  const splitter = createLineSplitter({ longestLine: 256 });
  const lines: StampedLine[] = [];
  for (let at = 0; at < block.length;) {
    const size = Math.max(1, chunk(at));
    lines.push(...splitter.push(block.subarray(at, at + size), 0));
    at += size;
  }
  lines.push(...splitter.end());
  return lines;
};

function readAll(lines: readonly StampedLine[], recipe: LineRecipe): LineRead[] {
  const reader = createLineReader(recipe);
  const reads = lines.map((line) => reader.read(line));
  const rest = reader.end();
  return rest === undefined ? reads : [...reads, rest];
}

/** @throws Error with seed and block number when something throws or depends on the chunks */
export function fuzzLines(totalBytes: number, seed: number): FuzzResult {
  const random = seeded(seed);
  const recipes = Object.values(shippedRecipes);
  let bytes = 0;
  let lineCount = 0;
  let samples = 0;
  let rejected = 0;
  for (let number = 0; bytes < totalBytes; number++) {
    const block = makeBlock(random, Math.min(8192, totalBytes - bytes));
    bytes += block.length;
    try {
      const whole = split(block, () => block.length);
      const pieces = split(block, () => 1 + Math.floor(random() * 37));
      if (JSON.stringify(whole) !== JSON.stringify(pieces)) throw new Error('other chunks give other lines');
      lineCount += whole.length;
      const learned = number % 8 === 0 ? learn(whole).proposals.map(({ recipe }) => recipe) : [];
      const chosen = [...learned, recipes[number % recipes.length] ?? recipes[0]];
      for (const recipe of chosen) {
        if (recipe === undefined) continue;
        const reads = readAll(whole, recipe);
        if (JSON.stringify(reads) !== JSON.stringify(readAll(whole, recipe))) throw new Error('the same lines give other reads');
        for (const read of reads) {
          if (read.kind === 'rejected') rejected += 1;
          if (read.kind !== 'sample') continue;
          samples += 1;
          for (const value of Object.values(read.sample.values)) if (!Number.isFinite(value)) throw new Error(`a value is ${value}`);
        }
      }
    } catch (cause) {
      throw new Error(`fuzz: seed ${seed}, block ${number}: ${cause instanceof Error ? (cause.stack ?? cause.message) : String(cause)}`, {
        cause,
      });
    }
  }
  return { bytes, lines: lineCount, samples, rejected };
}
