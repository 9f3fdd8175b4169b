import { useCallback, useState } from 'react';

/** A list that grows on demand. */
export function useGrowing(): { limit: number; grow: () => void } {
  const [limit, setLimit] = useState(100);
  return { limit, grow: useCallback(() => setLimit((now) => Math.min(500, now + 100)), []) };
}
