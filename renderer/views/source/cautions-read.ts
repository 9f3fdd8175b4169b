import type { AppState } from '../../state/store.ts';

/** Once per session of this window: a technician who opened Flueside last week reads them again. */
export const cautionsAreRead = (state: AppState): boolean => state.cautionsSeen;
