import type { SettlingKnowledge } from '../measurement/knowledge.ts';
import type { RunHeader } from '../measurement/run.ts';

/** What a run taught about its instrument, with the day that it was learned; what the run only began with keeps its own day. */
export const datedKnowledge = (
  knowledge: SettlingKnowledge | undefined,
  { known, startWallMs }: Pick<RunHeader, 'known' | 'startWallMs'>,
): SettlingKnowledge | undefined =>
  knowledge === undefined || knowledge === known ? knowledge : { ...knowledge, ...(startWallMs > 0 && { learnedWallMs: startWallMs }) };
