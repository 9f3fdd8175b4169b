import { KNOWLEDGE_FORMAT, KNOWLEDGE_VERSION, type SettlingKnowledge } from '../measurement/knowledge.ts';
import { learned } from './bank/bank-members.ts';
import type { Watched } from './watch/watched.ts';

/** What a run has taught of its appliance, together with what it began with. @returns undefined before the first change */
export function knowledgeOf(watched: readonly Watched[], known: SettlingKnowledge | undefined): SettlingKnowledge | undefined {
  const taught = watched.filter((w) => w.tracker.turns() > 0 || (known?.channels[w.channel] !== undefined && w.seen));
  const isTaught = taught.some((w) => w.tracker.turns() > 0);
  // what the bench found stays with the instrument
  if (taught.length === 0 || (!isTaught && known?.visits === 0)) return known?.visits === 0 ? undefined : known;
  return {
    format: KNOWLEDGE_FORMAT,
    version: KNOWLEDGE_VERSION,
    appliance: 'pressure-atomizing oil burner',
    visits: (known?.visits ?? 0) + 1,
    channels: {
      ...known?.channels,
      // without a change of its own a run has taught nothing: what was known stays as it was
      ...Object.fromEntries(taught.filter((w) => w.tracker.turns() > 0).map((w) => [w.channel, learned(w.tracker.bank.members)])),
    },
  };
}
