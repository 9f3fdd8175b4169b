import { useEffect, useRef, useState, type RefObject } from 'react';

/** How wide an element is, so that a drawing in it has letters of their own size: they are not scaled with it. */
export function useWidth<T extends Element>(before: number): [ref: RefObject<T | null>, width: number] {
  const ref = useRef<T>(null);
  const [width, setWidth] = useState(before);
  useEffect(() => {
    const element = ref.current;
    if (element === null) return undefined;
    const sizes = new ResizeObserver(() => {
      if (element.clientWidth > 0) setWidth(element.clientWidth);
    });
    sizes.observe(element);
    return () => sizes.disconnect();
  }, []);
  return [ref, width];
}
