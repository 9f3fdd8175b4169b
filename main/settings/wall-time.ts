import type { Clock } from '../../shared/clock.ts';

/** The wall clock as part of a file's name: no colon, since Windows refuses it. UTC. */
export const isoWallTime = (clock: Clock): string => new Date(clock.wallMs()).toISOString().replace(/:/g, '-').replace(/\.\d+/, '');
