/** sfc32 (Chris Doty-Humphrey's PractRand family, public domain), seeded by splitting the seed. */
export function createRandom(seed: number) {
  let a = seed | 0;
  let b = 0x9e3779b9;
  let c = 0x243f6a88;
  let d = 1;
  const next = (): number => {
    const t = (((a + b) | 0) + d) | 0;
    d = (d + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + t) | 0;
    return (t >>> 0) / 4294967296;
  };
  for (let i = 0; i < 20; i++) next();
  const between = (low: number, high: number): number => low + (high - low) * next();
  return {
    next,
    between,
    log: (low: number, high: number): number => low * (high / low) ** next(),
    chance: (p: number): boolean => next() < p,
    pick: <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)]!,
    normal: (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
  };
}
