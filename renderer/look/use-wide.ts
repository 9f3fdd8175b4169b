import { useSyncExternalStore } from 'react';

/** The same breakpoint as in live.css: large screens get larger figures and lanes. */
const query = '(min-width: 1500px) and (min-height: 900px)';

export function useWide(): boolean {
  return useSyncExternalStore(
    (changed) => {
      const media = matchMedia(query);
      media.addEventListener('change', changed);
      return () => media.removeEventListener('change', changed);
    },
    () => matchMedia(query).matches,
  );
}
