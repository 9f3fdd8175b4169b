import { useEffect, useRef, useState, type RefObject } from 'react';
import type { Problem } from '../../../shared/problem.ts';
import { useParts } from '../../app-parts.ts';

/** Whether this part is still on the screen, for an answer that comes later. */
export function useIsHere(): RefObject<boolean> {
  const isHere = useRef(true);
  useEffect(() => {
    isHere.current = true;
    return () => {
      isHere.current = false;
    };
  }, []);
  return isHere;
}

/** What the host refused of a small window: said in it while it is open; over the screen when it was closed before the answer came. */
export function useRefusal(): { refused: Problem | undefined; refuse: (problem: Problem) => void; isHere: RefObject<boolean> } {
  const { store } = useParts();
  const [refused, setRefused] = useState<Problem>();
  const isHere = useIsHere();
  return { refused, refuse: (problem) => (isHere.current ? setRefused(problem) : store.getState().commandFailed(problem)), isHere };
}
