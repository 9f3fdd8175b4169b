import { useEffect, useState } from 'react';

const REST_MS = 300;

/**
 * A main button that has just changed what it does rests for a moment, and shows it: a press that was on its way was meant for what it said before.
 *
 * @param deed what it does, as text
 * @param before what stood at its place before it was drawn for the first time
 */
export function useRest(deed: string, ms = REST_MS, before = deed): boolean {
  const [rested, setRested] = useState(before);
  useEffect(() => {
    if (rested === deed) return undefined;
    const over = setTimeout(() => setRested(deed), ms);
    return () => clearTimeout(over);
  }, [deed, rested, ms]);
  return rested !== deed;
}
