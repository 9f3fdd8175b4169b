import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

const MB = 1024 * 1024;

/** What is really held, after collecting: heap and buffers, MB. */
export function heldMb(): number {
  collect();
  collect();
  const { heapUsed, external } = process.memoryUsage();
  return (heapUsed + external) / MB;
}
export const residentMb = (): number => process.memoryUsage().rss / MB;
export const rounded = (value: number): number => Math.round(value * 10) / 10;
