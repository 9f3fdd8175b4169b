import type { KeyAction } from '../keys/default-keys.ts';
import { usePrinted } from '../keys/use-key.ts';

/** The printed key of an action, on its button. */
export function Key({ action }: { action: KeyAction }) {
  return <kbd aria-hidden="true">{usePrinted(action)}</kbd>;
}
