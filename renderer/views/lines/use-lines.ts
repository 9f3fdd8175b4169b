/** The newest lines at a pace that a window can draw, however fast they come. */
import { useEffect, useState } from 'react';
import type { LineReport } from '../../../shared/ipc/run-documents.ts';
import { useParts } from '../../app-parts.ts';

const DRAW_EVERY_MS = 250;
/** all of them while they trickle; a screenful when nobody could read them anyway */
const SHOWN = 200;
const SHOWN_IN_A_FLOOD = 30;
/** so many of the newest lines are enough to see what their pieces are, looked at now and then */
const TEXTS = 40;
const TEXTS_EVERY_MS = 2000;

export type LiveLines = { readonly lines: readonly LineReport[]; readonly droppedCount: number };

export function useLiveLines(): LiveLines {
  const { lines } = useParts();
  const [shown, setShown] = useState<LiveLines>({ lines: [], droppedCount: 0 });
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    let lastNumber = -1;
    const draw = (): void => {
      timer = undefined;
      const all = lines.lines();
      const news = all.filter(({ number }) => number > lastNumber).length;
      const isFlood = lastNumber >= 0 && news > SHOWN_IN_A_FLOOD;
      lastNumber = all.at(-1)?.number ?? -1;
      setShown({ lines: all.slice(isFlood ? -SHOWN_IN_A_FLOOD : -SHOWN), droppedCount: lines.droppedCount() });
    };
    draw();
    const stop = lines.onChange(() => {
      timer ??= setTimeout(draw, DRAW_EVERY_MS);
    });
    return () => {
      stop();
      clearTimeout(timer);
    };
  }, [lines]);
  return shown;
}

/** Texts of the newest lines, for the pieces of a line: their form changes seldom. */
export function useSampleTexts(): readonly string[] {
  const { lines } = useParts();
  const [texts, setTexts] = useState<readonly string[]>([]);
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const look = (): void => {
      timer = undefined;
      setTexts(
        lines
          .lines()
          .slice(-TEXTS)
          .map(({ bytes }) => bytes),
      );
    };
    look();
    const stop = lines.onChange(() => {
      timer ??= setTimeout(look, TEXTS_EVERY_MS);
    });
    // the first lines are not waited for
    const first = setTimeout(look, DRAW_EVERY_MS);
    return () => {
      stop();
      clearTimeout(timer);
      clearTimeout(first);
    };
  }, [lines]);
  return texts;
}
