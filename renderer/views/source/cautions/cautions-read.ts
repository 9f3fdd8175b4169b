import type { AppState } from '../../../state/store.ts';

/** A working day: whoever opened Flueside last week reads them again, whoever reloads the window does not. */
const SESSION_MS = 12 * 3_600_000;

export const cautionsAreRead = ({ cautionsSeen, settings }: AppState): boolean =>
  cautionsSeen || (settings.cautionsReadWallMs !== undefined && Date.now() - settings.cautionsReadWallMs < SESSION_MS);
