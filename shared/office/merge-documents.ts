/** Documents without a history of their fields: a later state takes the place of an earlier one only where its author had seen that one. */
import type { ApplianceKnowledge } from '../measurement/knowledge.ts';

export type DocumentMerge = 'new' | 'same' | 'later' | 'earlier' | 'apart';

export type DocumentSide = {
  /** hash of the item that it is, or was made from; undefined when it was never shared */
  readonly hash: string | undefined;
  /** not changed here since then */
  readonly isUnchanged: boolean;
  readonly text: string;
  /** states that were here before, or were put aside for this one */
  readonly earlier: readonly string[];
};

export function mergeDocument(
  here: DocumentSide | undefined,
  there: { readonly hash: string; readonly text: string; readonly earlier: readonly string[] },
): DocumentMerge {
  if (here === undefined) return 'new';
  if (here.text === there.text) return 'same';
  if (here.earlier.includes(there.hash) || here.hash === there.hash) return 'earlier';
  return here.isUnchanged && here.hash !== undefined && there.earlier.includes(here.hash) ? 'later' : 'apart';
}

/** Of what two laptops learned of one appliance, the one with more visits behind it; else the newer one. */
export function betterKnown(here: ApplianceKnowledge, there: ApplianceKnowledge): ApplianceKnowledge {
  const [a, b] = [rankOf(here), rankOf(there)];
  const at = a.findIndex((value, place) => value !== b[place]);
  if (at >= 0) return (a[at] as number) > (b[at] as number) ? here : there;
  return JSON.stringify(here) <= JSON.stringify(there) ? here : there;
}
const rankOf = ({ visitIds, knowledge }: ApplianceKnowledge): number[] => [visitIds.length, knowledge.learnedWallMs ?? 0];
