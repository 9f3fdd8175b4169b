import type { SiegertGroup } from './fuel.ts';

/** @source 1. BImSchV of 26 Jan 2010 (BGBl. I p. 38), Annex 2 No. 3.4.1 */
export const siegertConstants = {
  oil: { a: 0.68, b: 0.007 },
  gas: { a: 0.66, b: 0.009 },
  lpg: { a: 0.63, b: 0.008 },
} as const satisfies Record<SiegertGroup, { a: number; b: number }>;
