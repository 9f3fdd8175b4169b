import type { MarkBody } from '../../../../shared/measurement/mark.ts';
import { live } from '../../../../shared/words/live.ts';
import { entryAfterSmoke } from './entry-after.ts';
import { useParts } from '../../../app-parts.ts';

/** Keeps a mark; on success the small window closes and the deed is said once. */
export function useSaveMark(close: () => void): (body: MarkBody, words: string) => void {
  const { actions, sounds, store } = useParts();
  return (body, words) =>
    void actions.mark(body).then((mark) => {
      if (mark === undefined) return;
      sounds.play('mark');
      store.getState().saidChanged(live.marked(words));
      close();
      const next = body.kind === 'smoke' ? entryAfterSmoke(store.getState()) : undefined;
      if (next !== undefined) store.getState().entryOpened(next);
    });
}
