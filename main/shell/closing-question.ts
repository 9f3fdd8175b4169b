import { desktop } from '../../shared/words/desktop.ts';

/** Asked when the window is closed while a run is measured; Enter and Escape both keep measuring. */
export const closingQuestion = {
  type: 'question' as const,
  title: desktop.name,
  message: desktop.closing.message,
  detail: desktop.closing.detail,
  buttons: [desktop.closing.stay, desktop.closing.end] as string[],
  defaultId: 0,
  cancelId: 0,
  noLink: true,
};

const END = 1;

export type ClosingParts = {
  readonly isCapturing: () => boolean;
  /** shows the question beside the running loop; a dialog that waits would stamp every line of that time alike */
  readonly ask: () => Promise<{ response: number }>;
  readonly close: () => void;
};

/** @returns the listener of a window's 'close' event */
export function createClosingGuard({ isCapturing, ask, close }: ClosingParts): (event: { preventDefault(): void }) => void {
  let isAsking = false;
  let isAgreed = false;
  const askOnce = async (): Promise<void> => {
    isAsking = true;
    try {
      const { response } = await ask();
      isAgreed = response === END;
    } finally {
      isAsking = false;
    }
    if (isAgreed) close();
  };
  return (event) => {
    if (isAgreed || !isCapturing()) return;
    event.preventDefault();
    // a question that could not be shown leaves the run as it is; the next press on the cross asks again
    if (!isAsking) void askOnce().catch(() => undefined);
  };
}
