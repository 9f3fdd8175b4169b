import { APPEND } from '../../../shared/tuning/visit/at-path.ts';
import { problemLine } from '../../../shared/words/problems.ts';
import { useParts } from '../../app-parts.ts';

/**
 * A reading of the room goes to the visit whose room it is. The one on screen is edited as always; of another one the window has no copy, so the host is
 * asked to put it behind the last reading there.
 *
 * @returns `done` is told why it was not saved
 */
export function useSaveRoom(visitId: string): (ppm: number, done: (why: string | undefined) => void) => void {
  const { visits, client, store } = useParts();
  return (ppm, done) => {
    const after = { wallMs: visits.nowWallMs(), ppm };
    const front = store.getState().visit;
    if (front?.id === visitId) {
      const why = visits.edit([{ path: ['roomCo', front.roomCo.length], after }]);
      return done(why && (why.detail ?? problemLine(why)));
    }
    void client
      .call('visit.edit', { id: visitId, changes: [{ path: ['roomCo', APPEND], after }] })
      .then((answer) => done(answer.ok ? undefined : (answer.error.detail ?? problemLine(answer.error))));
  };
}
