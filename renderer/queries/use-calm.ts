import { useEffect, useState } from 'react';

/** Typed text, handed on when the person pauses for a moment. */
export function useCalm(text: string, ms = 120): string {
  const [calm, setCalm] = useState(text);
  useEffect(() => {
    const timer = setTimeout(() => setCalm(text), ms);
    return () => clearTimeout(timer);
  }, [text, ms]);
  return calm;
}
