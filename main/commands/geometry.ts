/** `geometry`: a set-up sheet against a figures card: verdict and direction for each figure, and what has to be done again. */
import { readFile, stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { MOST_CARD_BYTES, readCardFile } from '../../shared/geometry/card-file.ts';
import type { FiguresCard } from '../../shared/geometry/figures-card.ts';
import { judgeSheet, MeasuredSheet, type JudgedItem } from '../../shared/geometry/sheet.ts';
import { isLength } from '../../shared/geometry/items.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import {
  cardFigureWords,
  cardProblemWords,
  geometryNames,
  geometryVerdictWords,
  staleSince,
  staleWords,
} from '../../shared/words/geometry/geometry.ts';
import { EXIT_DONE, EXIT_FAILURE, fail, readOptions, type Command, type CommandIo } from './command.ts';
import { jsonNumber } from './output/json-number.ts';
import { cardFileWords } from '../../shared/words/geometry/geometry-cards.ts';
import { geometryTexts } from '../../shared/words/commands/records.ts';
import { plainRefusal } from '../../shared/plain-refusal.ts';

const options = { measured: { type: 'string' }, json: { type: 'boolean' } } as const;

const usage = geometryTexts.usage;

export const command: Command = {
  name: 'geometry',
  usage,
  async run(args, io) {
    const parsed = readOptions(args, options, 1);
    if (!parsed.ok) return fail(io, parsed.error);
    const { values, positionals } = parsed.value;
    const [cardFile] = positionals;
    if (values.measured === undefined) return fail(io, problem('usage', geometryTexts.nameSheet));
    const card: Result<FiguresCard | undefined, Problem> = cardFile === undefined ? ok(undefined) : await readCard(io, cardFile);
    if (!card.ok) return fail(io, card.error);
    const sheet = await readSheet(io, values.measured);
    if (!sheet.ok) return fail(io, sheet.error);
    const { items, stale, cardProblems, flow } = judgeSheet(card.value, sheet.value);
    const unit = sheet.value.lengthUnit;
    const figureText = ({ item, found }: JudgedItem): string | null =>
      found.state === 'given' ? cardFigureWords(item, found.figure, card.value?.lengthUnit ?? unit) : null;
    const words = ({ item, verdict, staleBecause }: JudgedItem): string => {
      const said = geometryVerdictWords(item, verdict, unit);
      return staleBecause === undefined || verdict.verdict === 'not-measured'
        ? said
        : `${said.replace(/\.$/, '')}; ${staleSince(staleBecause)}`;
    };
    if (values.json === true) {
      io.out(
        JSON.stringify({
          card: card.value === undefined ? null : { name: card.value.name, revision: card.value.revision, training: card.value.training },
          nozzle_flow: flow === undefined ? null : { value: jsonNumber(flow.value), unit: flow.unit, unit_from: flow.unitFrom },
          card_problems: cardProblems.map((found) => ({ ...found, words: cardProblemWords(found) })),
          items: items.map((judged) => ({
            item: judged.item,
            measured: judged.typed ?? null,
            card: figureText(judged),
            ...verdictJson(judged),
            stale_because: judged.staleBecause ?? null,
            words: geometryVerdictWords(judged.item, judged.verdict, unit),
          })),
          stale: stale.map((reason) => ({ ...reason, words: staleWords(reason) })),
        }),
      );
    } else {
      for (const judged of items)
        io.out(
          `${geometryNames[judged.item].padEnd(26)}${(judged.typed ?? '--').padEnd(10)}${(figureText(judged) ?? '--').padEnd(20)}${words(judged)}`,
        );
      for (const reason of stale) io.out(staleWords(reason));
    }
    if (cardProblems.length > 0) io.error(cardProblems.map(cardProblemWords).join(' '));
    // a card that contradicts itself must not look like a verdict to a script
    return cardProblems.length === 0 ? EXIT_DONE : EXIT_FAILURE;
  },
};

function verdictJson({ item, verdict }: JudgedItem): Record<string, unknown> {
  const key = isLength(item) ? 'mm' : 'marks';
  if (verdict.verdict === 'not-measured') return { verdict: verdict.verdict };
  if (verdict.verdict === 'unreadable') return { verdict: verdict.verdict, why: verdict.problem.key };
  const value = { [`value_${key}`]: jsonNumber(verdict.value) };
  if (verdict.verdict === 'no-figure') return { verdict: verdict.verdict, why: verdict.why, ...value };
  const limits = { [`low_${key}`]: jsonNumber(verdict.limits.low), [`high_${key}`]: jsonNumber(verdict.limits.high) };
  if (verdict.verdict === 'pass') return { verdict: verdict.verdict, ...value, ...limits };
  return {
    verdict: verdict.verdict,
    side: verdict.side,
    direction: verdict.direction,
    [`by_${key}`]: jsonNumber(verdict.by),
    ...value,
    ...limits,
  };
}

/** @returns its text, the size looked at first: what is bigger is not read at all */
async function readText(io: CommandIo, file: string): Promise<Result<string, Problem>> {
  const path = resolve(io.cwd, file);
  try {
    if ((await stat(path)).size > MOST_CARD_BYTES) return err(problem('figures-file-wrong', geometryTexts.tooBig(file)));
    return ok(await readFile(path, 'utf8'));
  } catch {
    return err(problem('file-not-found', file));
  }
}

async function readCard(io: CommandIo, file: string): Promise<Result<FiguresCard, Problem>> {
  const text = await readText(io, file);
  if (!text.ok) return text;
  // one that contradicts itself is judged by where it does not, and said to
  const card = readCardFile(text.value, { contradicting: true });
  if (card.ok) return card;
  if (card.error.key === 'newer') return err(problem('file-newer', file));
  return err(problem('figures-file-wrong', `${file}: ${cardFileWords(card.error)}`));
}

async function readSheet(io: CommandIo, file: string): Promise<Result<MeasuredSheet, Problem>> {
  const text = await readText(io, file);
  if (!text.ok) return text;
  let parsed: unknown;
  try {
    // some editors put a byte order mark first
    parsed = JSON.parse(text.value.replace(/^\uFEFF/, ''));
  } catch {
    return err(problem('figures-file-wrong', geometryTexts.notJson(file)));
  }
  const checked = MeasuredSheet.safeParse(parsed);
  return checked.success ? ok(checked.data) : err(problem('figures-file-wrong', `${file}: ${plainRefusal(checked.error)}`));
}
