/** Parts of the window that break one by one: the alarms and the source bar outlive whatever else throws. */
import { useCallback, type ReactNode } from 'react';
import { common } from '../../shared/words/common.ts';
import { useApp, useParts } from '../app-parts.ts';
import { Boundary } from './Boundary.tsx';
import { tryAgain } from './Later.tsx';
import { BrokenSlot } from './Signs.tsx';

function useFailed(): (where: string, text: string) => void {
  const { client, store } = useParts();
  return useCallback(
    (where, text) => {
      store.getState().viewBroke(where);
      void client.call('session.windowFailed', { where, text });
    },
    [client, store],
  );
}

/** A workspace or a panel: says what happened, and can be opened again. */
export function MainPart({ where, children }: { where: string; children: ReactNode }) {
  const failed = useFailed();
  const viewMended = useApp((state) => state.viewMended);
  return (
    <Boundary
      key={where}
      where={where}
      failed={failed}
      fallback={(again) => (
        <div className="workspace-empty" role="alert">
          <div className="about">
            <div className="row gap-5">
              <BrokenSlot large />
              <h1>{common.broken.title}</h1>
            </div>
            <p className="second about-next">{common.broken.next}</p>
            <button
              type="button"
              className="button main"
              onClick={() => {
                viewMended();
                tryAgain();
                again();
              }}
            >
              {common.broken.again}
            </button>
          </div>
        </div>
      )}
    >
      {children}
    </Boundary>
  );
}

/** A bar or a line: leaves its place empty rather than take others with it. */
export function SmallPart({ where, children }: { where: string; children: ReactNode }) {
  const failed = useFailed();
  return (
    <Boundary where={where} failed={failed} fallback={() => null}>
      {children}
    </Boundary>
  );
}
