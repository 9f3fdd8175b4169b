import type { CommandIo } from '../command.ts';

/** Results go out in portions: one write per line would cost more than reading the line did. */
export function createLineOutput(io: CommandIo): { readonly line: (text: string) => void; readonly flush: () => void } {
  let waiting: string[] = [];
  const flush = (): void => {
    if (waiting.length === 0) return;
    io.out(waiting.join('\n'));
    waiting = [];
  };
  return {
    line(text) {
      waiting.push(text);
      if (waiting.length >= PORTION) flush();
    },
    flush,
  };
}

const PORTION = 200;
