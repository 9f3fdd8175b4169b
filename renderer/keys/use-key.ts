import { useLayoutEffect, useRef } from 'react';
import { useApp, useParts } from '../app-parts.ts';
import { printed, type KeyAction } from './default-keys.ts';

/** While mounted (and `active`), this key does this: from the moment its button is seen, no press between the two is lost. */
export function useKey(action: KeyAction, run: () => void, active = true): void {
  const { keys } = useParts();
  const latest = useRef(run);
  useLayoutEffect(() => {
    latest.current = run;
  });
  useLayoutEffect(() => (active ? keys.on(action, () => latest.current()) : undefined), [keys, action, active]);
}

export function useDigits(run: (digit: string) => void, active = true): void {
  const { keys } = useParts();
  const latest = useRef(run);
  useLayoutEffect(() => {
    latest.current = run;
  });
  useLayoutEffect(() => (active ? keys.onDigit((digit) => latest.current(digit)) : undefined), [keys, active]);
}

/** The key as printed on its button; follows a change in the settings. */
export function usePrinted(action: KeyAction): string {
  const { keys } = useParts();
  useApp((state) => state.settings.keys);
  return printed(keys.keyOf(action));
}
