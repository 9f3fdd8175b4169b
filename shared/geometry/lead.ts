/** What comes next under the hands: decided from the figures alone, so that Space is always the next thing. */
import type { Side } from './record.ts';
import type { HandStep, HandStepId, LoosePart } from './steps.ts';
import type { GeometryVerdict } from './verdict.ts';

export type At = { readonly step: HandStepId; readonly side: Side };
export type Next =
  /** nothing was typed yet, or it cannot be read */
  | { readonly key: 'measure' }
  /** outside the card: set it, then type what it is now */
  | { readonly key: 'measure-again' }
  | { readonly key: 'tighten'; readonly part: LoosePart }
  /** measured before something it hangs on was moved */
  | { readonly key: 'go-to-stale'; readonly to: HandStepId }
  | { readonly key: 'go-on'; readonly to: HandStepId }
  | { readonly key: 'finish' };

export type LeadFacts = {
  readonly steps: readonly HandStep[];
  readonly verdictOf: (side: Side) => GeometryVerdict | undefined;
  readonly loose: readonly LoosePart[];
  /** the steps whose figure has to be measured again */
  readonly stale: readonly HandStepId[];
};

/** Which column a figure goes into at this step: as found first; what the card sets anew is typed as left. */
export function sideAt(step: HandStep, has: Readonly<Record<Side, boolean>>): Side {
  if (step.id === 'adjuster-as-found') return 'asFound';
  if (step.id === 'head-setting') return has.asFound ? 'asLeft' : 'asFound';
  return has.asLeft ? 'asLeft' : 'asFound';
}

export function nextAt(at: At, { steps, verdictOf, loose, stale }: LeadFacts): Next {
  const index = steps.findIndex(({ id }) => id === at.step);
  const step = steps[index];
  const following = steps[index + 1];
  const goOn: Next = following === undefined ? { key: 'finish' } : { key: 'go-on', to: following.id };
  if (step?.id === 'all-tight') {
    const [part] = loose;
    return part === undefined ? goOn : { key: 'tighten', part };
  }
  if (step?.id === 'as-left') {
    const [to] = stale;
    return to === undefined ? goOn : { key: 'go-to-stale', to };
  }
  if (step?.item === undefined) return goOn;
  const verdict = verdictOf(at.side);
  if (verdict === undefined || verdict.verdict === 'not-measured' || verdict.verdict === 'unreadable') return { key: 'measure' };
  // how it was found is written down, not judged: its zero is not known yet
  if (step.id !== 'adjuster-as-found' && verdict.verdict === 'fail') return { key: 'measure-again' };
  return goOn;
}
