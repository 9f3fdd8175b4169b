/**
 * Seeded random numbers: xoshiro128** seeded through splitmix32. Not for secrets.
 *
 * Every purpose takes its own stream by name ("noise o2", "draw burner.smokeOnsetO2"), so that a new random number in one
 * place does not move those of another and an old seed keeps telling the same story.
 *
 * @source xoshiro128** 1.1 and splitmix: Blackman and Vigna, public domain reference code; FNV-1a hash for the stream's name (from memory)
 */
export interface Random {
  /** @returns a number in [0, 1) */
  readonly uniform: () => number;
  /** @returns a number in [low, high) */
  readonly between: (low: number, high: number) => number;
  /** @returns a standard normal deviate */
  readonly normal: () => number;
}

function splitmix32(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 16), 0x21f0aaad);
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
    return (mixed ^ (mixed >>> 15)) >>> 0;
  };
}

function hashName(name: string): number {
  let hash = 0x811c9dc5;
  for (let index = 0; index < name.length; index++) hash = Math.imul(hash ^ name.charCodeAt(index), 0x01000193);
  return hash >>> 0;
}

const rotateLeft = (value: number, by: number): number => ((value << by) | (value >>> (32 - by))) >>> 0;

/** xoshiro128** on the given words (not all zero). @returns unsigned 32-bit numbers, one a call */
export function xoshiro128(words: readonly [number, number, number, number]): () => number {
  let [a, b, c, d] = words;
  return () => {
    const result = Math.imul(rotateLeft(Math.imul(b, 5) >>> 0, 7), 9) >>> 0;
    const shifted = (b << 9) >>> 0;
    c = (c ^ a) >>> 0;
    d = (d ^ b) >>> 0;
    b = (b ^ c) >>> 0;
    a = (a ^ d) >>> 0;
    c = (c ^ shifted) >>> 0;
    d = rotateLeft(d, 11);
    return result;
  };
}

/** @param seed any number; only its lower 32 bits count */
export function createRandom(seed: number, stream: string): Random {
  const next32 = splitmix32((seed >>> 0) ^ hashName(stream));
  const next = xoshiro128([next32(), next32(), next32(), next32()]);
  const uniform = (): number => next() / 0x1_0000_0000;
  let spare: number | undefined;
  const normal = (): number => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    // Box-Muller; 1 - u keeps the logarithm finite
    const radius = Math.sqrt(-2 * Math.log(1 - uniform()));
    const angle = 2 * Math.PI * uniform();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
  return { uniform, between: (low, high) => low + (high - low) * uniform(), normal };
}
