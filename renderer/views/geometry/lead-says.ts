/** The set-up sheet, one step at a time: what the main button says, the sentence beside it, and the same for the far view. Pure. */
import type { Next } from '../../../shared/geometry/lead.ts';
import { looseNames } from '../../../shared/words/geometry/geometry-steps.ts';
import { leadWords as words } from '../../../shared/words/geometry/lead.ts';
import type { HandStepId } from '../../../shared/geometry/steps.ts';

export type LeadSays = { button: string; says: string; shortSays: string };

export type LeadSaysFacts = {
  next: Next;
  /** what the card asks for, in a few words, where the figure is outside it */
  order: string | undefined;
  /** what is in the field cannot be read: the figure that was saved before counts until it can */
  wrong?: { saved: string } | undefined;
  looseCount: number;
  nameOf: (id: HandStepId) => string;
  titleOf: (id: HandStepId) => string;
  /** what the button says after the last step */
  finish: string;
};

export function leadSaysOf({ next, order = '', wrong, looseCount, nameOf, titleOf, finish }: LeadSaysFacts): LeadSays {
  const same = (button: string, says: string): LeadSays => ({ button, says, shortSays: says });
  if (wrong !== undefined) return { button: words.correctButton, says: words.correctFirst(wrong.saved), shortSays: words.correctShort };
  switch (next.key) {
    case 'measure':
      return same(words.measureButton, words.measureFirst);
    case 'measure-again':
      return { button: words.againButton, says: words.againSays(order), shortSays: order };
    case 'tighten':
      return same(words.tightButton(looseNames[next.part]), words.tightSays(looseCount));
    case 'go-to-stale':
      return same(words.staleButton(nameOf(next.to)), words.staleTitle);
    case 'go-on':
      return { button: words.nextButton(nameOf(next.to)), says: '', shortSays: titleOf(next.to) };
    case 'finish':
      return same(finish, words.finishSays);
  }
}
