import type { SetUpDraft } from './set-up-draft.ts';
import type { SetUpFacts } from './set-up-facts.ts';

/** What every section of the set-up gets: what is typed and chosen, what follows from it, and how to change it. */
export type SectionProps = {
  readonly draft: SetUpDraft;
  readonly facts: SetUpFacts;
  readonly set: (part: Partial<SetUpDraft>) => void;
};
