import { useState, type ReactNode } from 'react';
import type { MarkBody } from '../../../../shared/measurement/mark.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { entryAfterSmoke, showsFound } from './entry-after.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { useIsHere } from '../../../components/alerts/use-refusal.ts';
import { problem } from '../../../../shared/problem.ts';
import type { NumberedTrial } from '../../../../shared/tuning/trial/numbered-trial.ts';
import { trialsOfRun } from '../../../state/selectors.ts';

type Typed = { body: MarkBody; words: string };
type Save = {
  save: (body: MarkBody, words: string) => Promise<void>;
  /** the trial that was going on with the first letter */
  trial: number;
  /** at which trial was it taken? asked when another setting was marked meanwhile */
  question: ReactNode;
};

/**
 * Saves a mark with the trial that was on screen when it was typed; on success the window closes and the deed is said once. Another window, or the
 * person before this one got the controls back, may have marked a setting meanwhile: then nothing is saved before it is said where it belongs.
 */
export function useSaveMark(close: () => void, { isTyped, forTrial = true }: { isTyped: boolean; forTrial?: boolean }): Save {
  const { actions, sounds, store } = useParts();
  const runId = useApp((state) => state.runId);
  const trials = useApp(trialsOfRun(runId ?? ''));
  const isHere = useIsHere();
  const [held, setHeld] = useState<NumberedTrial>();
  const [asked, setAsked] = useState<Typed>();
  const newest = trials.at(-1);
  // what is typed belongs to the trial that was on screen with the first letter
  if (forTrial && isTyped && held === undefined && newest !== undefined) setHeld(newest);
  const meant = forTrial ? (held ?? newest) : undefined;
  const send = async ({ body, words }: Typed, at: { trialId?: string | undefined; timeMs?: number | undefined }): Promise<void> => {
    const mark = await actions.mark(body, {
      ...at,
      trialChanged: () => (isHere.current ? setAsked({ body, words }) : store.getState().commandFailed(problem('trial-changed'))),
    });
    if (mark === undefined) return;
    sounds.play('mark');
    store.getState().saidChanged(live.marked(words));
    // closed before the answer came: what is open by then is another window, with what is typed in it
    if (!isHere.current) return;
    close();
    const next = body.kind === 'smoke' ? entryAfterSmoke(store.getState()) : undefined;
    if (next !== undefined) return store.getState().entryOpened(next);
    // the last figure of as-found: what it says is looked at next
    if (body.kind === 'draft' && showsFound(store.getState())) store.getState().stepChosen('as-found', 'step');
  };
  const then = meant === undefined ? undefined : trials.find(({ id }) => id === meant.id);
  return {
    save: (body, words) => send({ body, words }, { trialId: meant?.id }),
    trial: meant?.number ?? newest?.number ?? 1,
    question: asked !== undefined && (
      <div className="say notice" role="alert">
        <b className="grow">{live.whichTrial.question(newest?.number ?? 1)}</b>
        {then?.toMs !== undefined && (
          // the last moment of its setting
          <button type="button" className="button" onClick={() => void send(asked, { trialId: then.id, timeMs: then.toMs! - 1 })}>
            {live.whichTrial.at(then.number)}
          </button>
        )}
        {newest !== undefined && (
          <button type="button" className="button" onClick={() => void send(asked, { trialId: newest.id })}>
            {live.whichTrial.at(newest.number)}
          </button>
        )}
      </div>
    ),
  };
}
