/** `learn`: which recipes fit a captured text, how sure, and why. */
import { createLineSplitter, LONGEST_UNKNOWN } from '../../shared/lines/line-splitter.ts';
import { learn } from '../../shared/lines/learn.ts';
import { type LearnResult, type Proposal } from '../../shared/lines/learning/proposal.ts';
import type { StampedLine } from '../../shared/measurement/line.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { choiceWords, columnReasons, question, questionText, troubleText } from '../../shared/words/lines/learning.ts';
import { lineReason } from '../../shared/words/lines/line-reasons.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { EXIT_DONE, fail, readOptions, type Command, type CommandIo } from './command.ts';
import { openInput } from './input/read-input.ts';
import { learnTexts } from '../../shared/words/commands/runs.ts';

const USAGE = learnTexts.usage;

/** A captured text is looked at so far; how the numbers move shows early. */
const MOST_LINES_READ = 20_000;

async function linesOf(name: string, io: CommandIo): Promise<Result<StampedLine[], Problem>> {
  const input = await openInput(name, io);
  if (!input.ok) return input;
  const lines: StampedLine[] = [];
  try {
    if (input.value.kind === 'run') {
      for await (const entry of input.value.entries) {
        if (entry.kind === 'line') lines.push({ timeMs: entry.timeMs, bytes: entry.bytes, cutBytes: entry.cutBytes });
        if (lines.length >= MOST_LINES_READ) break;
      }
      return ok(lines);
    }
    const splitter = createLineSplitter({ longestLine: LONGEST_UNKNOWN });
    for await (const chunk of input.value.chunks) {
      for (const line of splitter.push(chunk, 0)) lines.push(line);
      if (lines.length >= MOST_LINES_READ) break;
    }
    for (const line of splitter.end()) lines.push(line);
    return ok(lines);
  } catch (cause) {
    return err(problem('file-damaged', (cause as NodeJS.ErrnoException).code ?? String(cause)));
  }
}

const visible = (bytes: string): string =>
  bytes.replace(/[\u0000-\u001f\u007f-\u00ff]/g, (byte) => `<${byte.charCodeAt(0).toString(16).toUpperCase().padStart(2, '0')}>`);

function previewText({ bytes, read }: Proposal['preview'][number]): string {
  const found =
    read.kind === 'sample'
      ? [
          ...Object.entries(read.sample.values).map(([channel, value]) => `${channel} ${value}`),
          ...Object.entries(read.sample.absent ?? {}).map(([channel, why]) => `${channel} absent (${why})`),
        ].join(', ')
      : read.kind === 'ignored'
        ? `ignored (${read.why})`
        : read.kind === 'rejected'
          ? `not understood: ${read.detail}`
          : 'part of a reading';
  return `    ${visible(bytes).slice(0, 100)}\n      -> ${found}`;
}

function print({ proposals }: LearnResult, io: CommandIo): void {
  for (const [index, proposal] of proposals.entries()) {
    io.out(`${index + 1}. ${proposal.recipe.name}: ${Math.round(proposal.confidence * 100)} % sure`);
    for (const reason of [...proposal.reasons.map(lineReason), ...columnReasons(proposal.columns)]) io.out(`  - ${reason}`);
    if (proposal.isOpen) io.out(`  ? ${questionText(proposal.columns)}`);
    for (const line of proposal.preview) io.out(previewText(line));
    for (const { key } of proposal.choices)
      io.out(`  ? ${choiceWords[key].text}\n    1: ${choiceWords[key].first}\n    2: ${choiceWords[key].second}`);
  }
}

const asJson = ({ recipe, confidence, reasons, columns, isOpen, preview, choices }: Proposal): object => ({
  recipe,
  confidence,
  reasons: [...reasons.map(lineReason), ...columnReasons(columns)],
  columns,
  preview: preview.map(({ bytes, read }) => ({ line: bytes, ...read })),
  questions: [
    ...(isOpen ? [{ text: questionText(columns), needed: true, answers: [{ text: question.use(recipe.fields.length), recipe }] }] : []),
    ...choices.map(({ key, recipe: other }) => ({
      text: choiceWords[key].text,
      needed: false,
      answers: [
        { text: choiceWords[key].first, recipe },
        { text: choiceWords[key].second, recipe: other },
      ],
    })),
  ],
});

export const command: Command = {
  name: 'learn',
  usage: USAGE,
  async run(args, io) {
    const options = readOptions(args, { json: { type: 'boolean' } }, 1);
    if (!options.ok) return fail(io, options.error);
    const [name] = options.value.positionals;
    if (name === undefined) return fail(io, problem('usage', learnTexts.nameFile));
    const lines = await linesOf(name, io);
    if (!lines.ok) return fail(io, lines.error);
    const result = learn(lines.value);
    if (result.proposals.length === 0) {
      const cause = troubleText(result.trouble ?? 'no-shape', result.ruledOut, result.lineCount);
      return fail(io, problem(lines.value.length === 0 ? 'no-samples' : 'lines-refused', cause));
    }
    if (options.value.values.json === true) io.out(JSON.stringify({ lines: result.lineCount, proposals: result.proposals.map(asJson) }));
    else print(result, io);
    return EXIT_DONE;
  },
};
