import { common } from '../../../shared/words/common.ts';
import { useApp, useParts } from '../../app-parts.ts';

/** A second window looks on until it takes over. */
export function ViewerStrip() {
  const { actions, store } = useParts();
  const isViewer = useApp((state) => state.role === 'viewer' && state.wire.phase === 'open');
  if (!isViewer) return null;
  const takeOver = (): void =>
    void actions
      .ask('session.takeOver', {})
      .then((answer) => answer !== undefined && store.getState().roleChanged(answer.role, store.getState().host?.otherWindows ?? 0));
  return (
    <div className="say" role="status">
      <b className="grow">{common.viewer.title}</b>
      <button type="button" className="button" onClick={takeOver}>
        {common.viewer.takeOver}
      </button>
    </div>
  );
}
