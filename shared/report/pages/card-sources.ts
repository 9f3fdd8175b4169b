/** Where page 1 puts the sources of its limits, so that curve, efficiency and signature stay on it. */

/** Under its limit a longer one would wrap onto a third line. */
const LONGEST_UNDER_LIMIT = 36;
/** Below the table longer ones together would push the signature off the page: they are in the technical record, with their limits. */
const MOST_BELOW = 160;

type LongSources = { readonly sources: readonly string[]; readonly place: 'below' | 'record' };

/** @param all the sources of the rows, in their order */
export function longSources(all: readonly string[]): LongSources {
  const sources = [...new Set(all.filter((source) => source.length > LONGEST_UNDER_LIMIT))];
  const letters = sources.reduce((sum, { length }) => sum + length, 0);
  return { sources, place: letters > MOST_BELOW ? 'record' : 'below' };
}
