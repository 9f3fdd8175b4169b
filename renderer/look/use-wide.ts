import { useSyncExternalStore } from 'react';

const useMedia = (query: string): boolean =>
  useSyncExternalStore(
    (changed) => {
      const media = matchMedia(query);
      media.addEventListener('change', changed);
      return () => media.removeEventListener('change', changed);
    },
    () => matchMedia(query).matches,
  );

/** The same breakpoint as in views/tune/LiveView.css: large screens get larger figures and lanes. */
export const useWide = (): boolean => useMedia('(min-width: 1500px) and (min-height: 900px)');

/** The same breakpoint as in views/visit/steps/StepFrame.css: one column, and tables that are moved sideways. */
export const useNarrow = (): boolean => useMedia('(max-width: 900px)');
