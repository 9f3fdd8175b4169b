/** Times on the face of the window. Steps grow with the time, so that figures do not flicker. */
import { isoDay, isoWithZone } from './date.ts';

const twoDigits = (value: number): string => String(value).padStart(2, '0');

/** '52 s', '1 min 40 s', '20 min', '2 h 05 min' */
export function formatDuration(ms: number): string {
  const seconds = Math.max(0, Math.floor(ms / 1000));
  if (seconds < 60) return `${seconds} s`;
  const minutes = Math.floor(seconds / 60);
  if (minutes < 10) return seconds % 60 === 0 ? `${minutes} min` : `${minutes} min ${twoDigits(seconds % 60)} s`;
  if (minutes < 60) return `${minutes} min`;
  return `${Math.floor(minutes / 60)} h ${twoDigits(minutes % 60)} min`;
}

/** Time left: below 60 s in steps of 5 s, below 10 min in 10 s, above in minutes with 'about'. */
export function formatTimeLeft(seconds: number): string {
  if (seconds < 57.5) return `${Math.max(5, Math.round(seconds / 5) * 5)} s`;
  if (seconds < 595) {
    const rounded = Math.round(seconds / 10) * 10;
    return rounded % 60 === 0 ? `${rounded / 60} min` : `${Math.floor(rounded / 60)} min ${twoDigits(rounded % 60)} s`;
  }
  const minutes = Math.round(seconds / 60);
  return minutes < 60 ? `about ${minutes} min` : `about ${Math.floor(minutes / 60)} h ${twoDigits(minutes % 60)} min`;
}

/** Coarser, for sentences: 'about 40 s', 'about 4 min'. */
export function formatAbout(seconds: number): string {
  if (seconds < 57.5) return `about ${Math.max(5, Math.round(seconds / 5) * 5)} s`;
  const minutes = Math.round(seconds / 60);
  return minutes < 60 ? `about ${minutes} min` : `about ${Math.floor(minutes / 60)} h ${twoDigits(minutes % 60)} min`;
}

/** Age of the last line: tenths below ten seconds. */
export const formatAge = (ms: number): string => (ms < 9950 ? `${(Math.max(0, ms) / 1000).toFixed(1)} s` : formatDuration(ms));

/** Wall-clock time of a run moment, in the zone of the run: '14:03' or '14:03:20'. */
export function formatClock(wallMs: number, zoneMinutes: number, form: 'minutes' | 'seconds' | 'milliseconds'): string {
  const local = isoWithZone(wallMs, zoneMinutes);
  return local === '' ? '–' : local.slice(11, form === 'minutes' ? 16 : form === 'seconds' ? 19 : 23);
}

export const formatDate = (wallMs: number, zoneMinutes: number): string => isoDay(wallMs, zoneMinutes);
