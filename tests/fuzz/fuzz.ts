/** `npm run fuzz [BYTES] [SEED]`: the long form; the short one is a unit test. */
import { fuzzLines } from './lines.ts';

const totalBytes = Number(process.argv[2] ?? 10_000_000);
const seed = Number(process.argv[3] ?? 1);
const start = performance.now();
const { bytes, lines, samples, rejected } = fuzzLines(totalBytes, seed);
const seconds = (performance.now() - start) / 1000;
console.log(
  `lines: ${bytes} bytes, seed ${seed}: ${lines} lines, ${samples} samples, ${rejected} rejected, nothing thrown, ${seconds.toFixed(1)} s`,
);
