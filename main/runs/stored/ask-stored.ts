/** Asks about stored runs where long work is done; only answers arrive here. */
import type { StoredAnswers, StoredAsk } from './stored-answers.ts';
import type { Background } from '../../background/background.ts';
import type { FoldSettings } from '../../../shared/pipeline/run-fold.ts';

export interface AskStored extends StoredAnswers {
  /** its file has changed */
  forget(runId: string): void;
  /** other files took the place of all of them */
  forgetAll(): void;
}

export function createAskStored(background: Background, runsFolder: string, settings: () => FoldSettings): AskStored {
  // nobody starts a thread to forget what it never saw
  let hasAsked = false;
  const ask = (): StoredAsk => {
    hasAsked = true;
    return { runsFolder, settings: settings() };
  };
  const forget = (runId: string | undefined): void => {
    if (hasAsked) void background.run('forgetStored', { runsFolder, runId }).catch(() => undefined);
  };
  return {
    history: (runId, wish) => background.run('storedHistory', { ...ask(), runId, wish }),
    lines: (runId, count) => background.run('storedLines', { ...ask(), runId, count }),
    logged: (runId, count) => background.run('storedLogged', { ...ask(), runId, count }),
    recipes: (runId) => background.run('storedRecipes', { ...ask(), runId }),
    reread: (runId, recipe) => background.run('storedReread', { ...ask(), runId, recipe }),
    forget,
    forgetAll: () => forget(undefined),
  };
}
