/** `advise`: what Tune says of a visit, one visit a line, without a window. */
import { StringDecoder } from 'node:string_decoder';
import { problem } from '../../shared/problem.ts';
import type { Advice } from '../../shared/tuning/advice/advice.ts';
import { advise } from '../../shared/tuning/advice/advise.ts';
import { readPlainVisit } from '../../shared/tuning/visit/plain-visit.ts';
import { judgeSafe } from '../../shared/tuning/advice/safe.ts';
import { adviceText, safeHeadline } from '../../shared/words/tune/advice.ts';
import { testTitle } from '../../shared/report/safety-facts.ts';
import { plainFormats } from '../../shared/words/tune/tune-formats.ts';
import { EXIT_DONE, fail, readOptions, type Command } from './command.ts';
import { createLineOutput } from './output/line-output.ts';
import { openBytes } from './input/read-input.ts';
import { problemLine } from '../../shared/words/problems.ts';
import { adviseTexts } from '../../shared/words/commands/records.ts';

const options = { json: { type: 'boolean' } } as const;
const LONGEST_LINE = 4 << 20;

const usage = adviseTexts.usage;

export const command: Command = {
  name: 'advise',
  usage,
  async run(args, io) {
    const parsed = readOptions(args, options, 1);
    if (!parsed.ok) return fail(io, parsed.error);
    const [name] = parsed.value.positionals;
    if (name === undefined) return fail(io, problem('usage', adviseTexts.nameFile));
    const input = await openBytes(name, io);
    if (!input.ok) return fail(io, input.error);
    const output = createLineOutput(io);
    const decoder = new StringDecoder('utf8');
    let rest = '';
    try {
      for await (const chunk of input.value) {
        const lines = (rest + decoder.write(Buffer.from(chunk))).split('\n');
        rest = (lines.pop() ?? '').slice(0, LONGEST_LINE);
        for (const line of lines) answer(line, output.line);
        // an answer is not held back for a question that may never come
        output.flush();
        if (io.signal?.aborted === true) return EXIT_DONE;
      }
    } catch (cause) {
      output.flush();
      return fail(io, problem('file-damaged', (cause as NodeJS.ErrnoException).code ?? String(cause)));
    }
    answer(rest + decoder.end(), output.line);
    output.flush();
    return EXIT_DONE;
  },
};

function answer(line: string, out: (text: string) => void): void {
  if (line.trim() === '') return;
  out(JSON.stringify(adviseLine(line)));
}

/** One line of JSON -> one answer. Never throws: what cannot be read is said. */
export function adviseLine(line: string): Record<string, unknown> {
  let json: unknown;
  try {
    json = JSON.parse(line.replace(/^\uFEFF/, ''));
  } catch {
    return { id: null, problem: problemLine(problem('visit-not-clear', adviseTexts.lineNotJson)) };
  }
  const id = typeof json === 'object' && json !== null && !Array.isArray(json) ? ((json as { id?: unknown }).id ?? null) : null;
  const facts = readPlainVisit(json);
  if (!facts.ok) return { id, problem: problemLine(facts.error) };
  const advice = advise(facts.value.advice);
  const safe = judgeSafe(facts.value.safe);
  const { limits } = facts.value.advice;
  const because = [...advice.because, ...safe.unsafe.map(({ key }) => key), ...safe.unknown.map(({ key }) => key)];
  return {
    id,
    advice: advice.advice,
    adjuster: advice.adjuster ?? null,
    from: advice.adjuster === undefined ? null : (advice.from ?? null),
    to: advice.to ?? null,
    aim_o2_pct: advice.aimO2 === undefined ? null : advice.aimO2.map(rounded),
    words: [adviceText(advice, limits, plainFormats), safeHeadline(safe, plainFormats, testTitle)].filter(Boolean).join(' '),
    safe: safe.safe,
    because: [...new Set(because)],
    expected_o2_pct: expectedOf(advice),
  };
}

const rounded = (value: number): number => Number(value.toFixed(3));
const expectedOf = ({ expected }: Advice): number[] | null => (expected === undefined ? null : [expected.low, expected.high].map(rounded));
