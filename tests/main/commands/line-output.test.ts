import { expect, it } from 'vitest';
import { createLineOutput } from '../../../main/commands/output/line-output.ts';
import type { CommandIo } from '../../../main/commands/command.ts';

it.each([0, 1, 199, 200, 201, 1000, 1001])(
  '%i results go out in order, each once, in few portions, and the last ones with the flush',
  (count) => {
    const written: string[] = [];
    const output = createLineOutput({ out: (text: string) => void written.push(text) } as unknown as CommandIo);
    const all = Array.from({ length: count }, (_, at) => `line ${at}`);
    for (const line of all) output.line(line);
    // held back for a moment only: a reader of the pipe is never far behind
    expect(count - written.flatMap((text) => text.split('\n')).length).toBeLessThan(200);
    output.flush();
    output.flush();
    expect(written.flatMap((text) => text.split('\n'))).toEqual(all);
    expect(written.length).toBeLessThanOrEqual(Math.ceil(count / 200));
  },
);
