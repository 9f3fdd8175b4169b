import { useParts } from '../../../app-parts.ts';

/** Acknowledged now: for this session, and kept in the settings. */
export function useReadCautions(): () => void {
  const { actions, store } = useParts();
  return () => {
    store.getState().cautionsRead();
    void actions.changeSettings({ cautionsReadWallMs: Date.now() });
  };
}
