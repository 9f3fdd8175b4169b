/**
 * Air let in before the probe: O2 and CO move on the straight line towards air, so CO on an air-free basis stays what it was, while
 * the stack temperature does not answer. A turn of the air moves all three. Needs enough CO to tell.
 *
 * @source air-free CO = CO * 20.9 / (20.9 - O2): balance over dry air
 */
const AIR_PERCENT = 20.9;
const LEAST_RISE_PERCENT = 1;
const LEAST_CO_PPM = 40;
const SAME_FRACTION = 0.04;
const STACK_STANDS_C = 2;

export type GasLevel = { readonly o2Percent: number; readonly coPpm: number; readonly stackC: number | undefined };

const airFree = ({ o2Percent, coPpm }: GasLevel): number => (coPpm * AIR_PERCENT) / (AIR_PERCENT - o2Percent);

/** @returns whether `now` looks like `before` with air mixed in; never without a stack temperature to compare */
export function looksDiluted(before: GasLevel, now: GasLevel): boolean {
  if (before.stackC === undefined || now.stackC === undefined) return false;
  if (now.o2Percent - before.o2Percent < LEAST_RISE_PERCENT || before.coPpm < LEAST_CO_PPM || now.o2Percent > 18) return false;
  return Math.abs(airFree(now) / airFree(before) - 1) < SAME_FRACTION && Math.abs(now.stackC - before.stackC) < STACK_STANDS_C;
}
