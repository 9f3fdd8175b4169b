/** As-found, chosen from the trials: what the sentence asks for, and what the one main button does. Pure. */
import type { ProbeGate } from '../../../../shared/tuning/trial/probe-gate.ts';
import { probeHeadline, probeWords } from '../../../../shared/words/tune/probe.ts';
import { foundWords as words } from '../../../../shared/words/visit/screens/as-found.ts';
import { visitWords } from '../../../../shared/words/visit/visit-thread.ts';

/** `spot`: type the smoke spot. `use`: this trial is as found. `live`: the reading is taken there. `connect`: an instrument first. */
export type FoundDeed = { does: 'spot' | 'use' | 'live' | 'connect'; says: string; text: string };

export type FoundFacts = {
  gate: ProbeGate;
  hasRun: boolean;
  isSkipped: boolean;
  /** the trial that is looked at, by its number, and whether it is as-found already */
  candidate: { number: number; isChosen: boolean } | undefined;
};

/** Undefined where as-found is chosen or skipped: the button goes on, and the sentence is what is missing. */
export function foundDeedOf({ gate, hasRun, isSkipped, candidate }: FoundFacts): FoundDeed | undefined {
  if (isSkipped || candidate?.isChosen === true) return undefined;
  const headline = probeHeadline(gate);
  const isDark = gate.state === 'too-dark' || gate.state === 'oil';
  if (headline !== undefined && hasRun && (isDark || candidate === undefined))
    return {
      does: 'spot',
      says: isDark ? `${headline.strong} ${headline.rest}` : headline.strong,
      text: isDark ? probeWords.another : probeWords.type,
    };
  if (candidate !== undefined) return { does: 'use', says: words.useSays(candidate.number), text: words.use(candidate.number) };
  return hasRun
    ? { does: 'live', says: words.liveSays, text: visitWords.liveSide }
    : { does: 'connect', says: words.connectSays, text: visitWords.connect };
}
