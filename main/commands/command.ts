/**
 * What a command on the command line is, and how its options are read.
 * Standard output carries results only; everything else goes through `error`.
 */
import { parseArgs, type ParseArgsConfig } from 'node:util';
import type { Clock } from '../../shared/clock.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { parseTypedNumber } from '../../shared/units/parse-number.ts';
import { problemLine } from '../../shared/words/problems.ts';
import { optionTexts } from '../../shared/words/commands/start.ts';

export interface CommandIo {
  /** One line of the result; the line end is added. */
  out(text: string): void;
  /** One line for the person; the line end is added. */
  error(text: string): void;
  stdin(): AsyncIterable<Uint8Array>;
  readonly clock: Clock;
  /** Relative file names start here. */
  readonly cwd: string;
  /** `--data DIR`, when it was given */
  readonly dataFolder?: string | undefined;
  /** Aborted on Ctrl-C and when standard output was closed; commands that run on end then, orderly. */
  readonly signal?: AbortSignal | undefined;
}

export type Command = {
  readonly name: string;
  /** What `--help` prints. */
  readonly usage: string;
  /** @returns the exit code: 0 done, 2 wrong usage, 1 failure (said in one line on `error`) */
  run(args: string[], io: CommandIo): Promise<number>;
};

export const EXIT_DONE = 0;
export const EXIT_FAILURE = 1;
export const EXIT_USAGE = 2;

/** One table row per option: `{ fuel: { type: 'string' }, json: { type: 'boolean' } }`. */
export type OptionTable = NonNullable<ParseArgsConfig['options']>;
type Parsed<T extends OptionTable> = ReturnType<typeof parseArgs<{ options: T; allowPositionals: true; strict: true }>>;
export type Options<T extends OptionTable> = { readonly values: Parsed<T>['values']; readonly positionals: string[] };

/**
 * Reads options strictly: an unknown or repeated option, a missing value or too many plain words are refused.
 * `--air-c -10` is taken as one option with its value.
 */
export function readOptions<T extends OptionTable>(args: readonly string[], options: T, maxPositionals = 0): Result<Options<T>, Problem> {
  try {
    const { values, positionals, tokens } = parseArgs({
      args: joinNegativeValues(args),
      options,
      allowPositionals: true,
      strict: true,
      tokens: true,
    });
    const seen = new Set<string>();
    for (const token of tokens) {
      if (token.kind !== 'option') continue;
      if (seen.has(token.name) && options[token.name]?.multiple !== true) return err(problem('usage', optionTexts.givenTwice(token.name)));
      seen.add(token.name);
    }
    const extra = positionals[maxPositionals];
    if (extra !== undefined) return err(problem('usage', optionTexts.notExpected(extra)));
    return ok({ values, positionals });
  } catch (cause) {
    return err(problem('usage', usageSentence(cause)));
  }
}

/** parseArgs takes a value that starts with '-' for another option; a negative number is no option. */
const joinNegativeValues = (args: readonly string[]): string[] => {
  const joined: string[] = [];
  for (let i = 0; i < args.length; i += 1) {
    const arg = args[i] ?? '';
    const next = args[i + 1];
    if (/^--[a-z][a-z0-9-]*$/.test(arg) && next !== undefined && /^-[.,]?\d/.test(next)) {
      joined.push(`${arg}=${next}`);
      i += 1;
    } else joined.push(arg);
  }
  return joined;
};

function usageSentence(cause: unknown): string {
  const text = cause instanceof Error ? cause.message : String(cause);
  const option = /'(-[^' ]*)/.exec(text)?.[1] ?? '';
  const code = (cause as { code?: string }).code;
  if (code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION') return optionTexts.noOption(option);
  if (code === 'ERR_PARSE_ARGS_INVALID_OPTION_VALUE')
    return /does not take/.test(text) ? optionTexts.takesNoValue(option) : optionTexts.needsValue(option);
  return text.split('\n')[0] ?? text;
}

/** Reads a number that a person typed after an option; absent stays absent. */
export function readNumber(name: string, text: string | undefined): Result<number | undefined, Problem> {
  if (text === undefined) return ok(undefined);
  const number = parseTypedNumber(text);
  return number.ok ? number : err({ code: number.error.code, detail: `--${name} ${number.error.detail ?? ''}`.trim() });
}

/** Prints the problem as one line and gives the exit code that belongs to it. */
export function fail(io: CommandIo, error: Problem): number {
  io.error(problemLine(error));
  return error.code === 'usage' || error.code === 'not-a-number' || error.code === 'two-separators' ? EXIT_USAGE : EXIT_FAILURE;
}
