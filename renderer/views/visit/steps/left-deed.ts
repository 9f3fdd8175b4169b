/** As-left, chosen from the trials and read again with the screws tight: what the sentence asks for, and what the one main button does. Pure. */
import { leftScreen as words } from '../../../../shared/words/visit/screens/as-left.ts';

/** `use`: leave it at this trial. `pick`: a target card. `tight`: mark that the screws are tight. `read`: take the reading. `compare`: with this trial. */
export type LeftDeed = { does: 'use' | 'pick' | 'tight' | 'read' | 'compare'; says: string; text: string };

export type LeftFacts = {
  /** number of the trial that could be left, while none is chosen */
  suggested: number | undefined;
  /** the trial that was chosen; `isStale`: something was changed since that moves its figures */
  chosen: { isStale: boolean } | undefined;
  isCardSaid: boolean;
  hasRun: boolean;
  hasEcho: boolean;
  /** number of a trial read at the same setting afterwards */
  check: number | undefined;
  isTight: boolean;
  canTighten: boolean;
};

/** Undefined: nothing is done here; the button goes on, and the sentence is what is missing. */
export function leftDeedOf(facts: LeftFacts): LeftDeed | undefined {
  const { suggested, chosen, isCardSaid, hasRun, hasEcho, check, isTight, canTighten } = facts;
  if (chosen === undefined)
    return suggested === undefined ? undefined : { does: 'use', says: words.useSays(suggested), text: words.use(suggested) };
  if (!isCardSaid) return { does: 'pick', says: words.pickSays, text: words.pick };
  // what was changed since is asked for first: the sentence says so, and tightening the screws would not answer it
  if (chosen.isStale || hasEcho) return undefined;
  if (!hasRun) return undefined;
  if (check !== undefined) return { does: 'compare', says: words.compareSays(check), text: words.compare(check) };
  if (isTight) return { does: 'read', says: words.tightWaits, text: '' };
  return canTighten ? { does: 'tight', says: words.echoSame, text: words.tight } : undefined;
}
