/** Tells when serial ports come and go, by looking; only while somebody is there to see it. */
import type { Clock } from '../../../shared/clock.ts';
import type { PortInfo } from '../../../shared/ipc/run-documents.ts';

const LOOK_EVERY_MS = 2000;

export function createPortWatch(clock: Clock, list: () => Promise<PortInfo[]>, onChange: (ports: PortInfo[]) => void) {
  let watchers = 0;
  let stop: (() => void) | undefined;
  let seen: string | undefined;
  let isLooking = false;
  const look = async (): Promise<void> => {
    // a slow driver must not be asked again before it has answered
    if (isLooking) return;
    isLooking = true;
    try {
      const ports = await list();
      const now = JSON.stringify(ports);
      if (seen !== undefined && now !== seen && watchers > 0) onChange(ports);
      seen = now;
    } catch {
      // the next look may work
    } finally {
      isLooking = false;
    }
  };
  return {
    /** @returns a function that stops this watcher */
    watch(): () => void {
      let isWatching = true;
      if (watchers++ === 0) {
        void look();
        stop = clock.every(LOOK_EVERY_MS, () => void look());
      }
      return () => {
        if (!isWatching) return;
        isWatching = false;
        if (--watchers === 0) stop?.();
      };
    },
    stop: () => stop?.(),
  };
}
