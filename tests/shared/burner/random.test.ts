import { describe, expect, it } from 'vitest';
import { createRandom, xoshiro128 } from '../../../shared/burner/random.ts';

describe('random numbers', () => {
  it('gives the published outputs of xoshiro128** 1.1 for the words 1, 2, 3, 4', () => {
    // source: reference implementation of Blackman and Vigna (prng.di.unimi.it), as quoted by the test vectors of the Rust crate rand_xoshiro
    const next = xoshiro128([1, 2, 3, 4]);
    const expected = [11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804];
    expect(expected.map(() => next())).toEqual(expected);
  });

  it('repeats itself for one seed and stream, and differs between streams and seeds', () => {
    const first = (seed: number, stream: string) => Array.from({ length: 5 }, createRandom(seed, stream).uniform);
    expect(first(7, 'a')).toEqual(first(7, 'a'));
    expect(first(7, 'a')).not.toEqual(first(7, 'b'));
    expect(first(7, 'a')).not.toEqual(first(8, 'a'));
  });

  it('has the moments of the uniform and of the standard normal distribution', () => {
    // bounds: 4.5 standard errors of each moment at n = 40 000
    const random = createRandom(3, 'moments');
    const n = 40_000;
    const uniforms = Array.from({ length: n }, random.uniform);
    expect(Math.min(...uniforms)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...uniforms)).toBeLessThan(1);
    const meanOf = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / n;
    expect(Math.abs(meanOf(uniforms) - 0.5)).toBeLessThan((4.5 * Math.sqrt(1 / 12)) / Math.sqrt(n));
    const normals = Array.from({ length: n }, random.normal);
    expect(Math.abs(meanOf(normals))).toBeLessThan(4.5 / Math.sqrt(n));
    expect(Math.abs(meanOf(normals.map((x) => x * x)) - 1)).toBeLessThan((4.5 * Math.sqrt(2)) / Math.sqrt(n));
    expect(Math.abs(meanOf(normals.map((x, i) => x * (normals[i + 1] ?? 0))))).toBeLessThan(4.5 / Math.sqrt(n));
  });
});
