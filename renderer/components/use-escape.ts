import { useEffect, useRef, type RefObject } from 'react';

/** Dialogs that are open, the one on top last. */
const open: HTMLDialogElement[] = [];

/**
 * What Escape does while this dialog lies on top. It is not left to the browser: there a second Escape closes a dialog whatever was said against the
 * first, and what has to be answered would be gone without an answer.
 */
export function useEscape(dialog: RefObject<HTMLDialogElement | null>, escape: () => void): void {
  const latest = useRef(escape);
  useEffect(() => {
    latest.current = escape;
  });
  useEffect(() => {
    const element = dialog.current;
    if (element === null) return undefined;
    open.push(element);
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.key !== 'Escape' || event.defaultPrevented || event.isComposing || open.at(-1) !== element) return;
      event.preventDefault();
      latest.current();
    };
    document.addEventListener('keydown', onKeyDown);
    return () => {
      document.removeEventListener('keydown', onKeyDown);
      open.splice(open.indexOf(element), 1);
    };
  }, [dialog]);
}
