/** Dialects written without a look at the learner; the bytes go the whole way, from the splitter on. */
import { describe, expect, it } from 'vitest';
import { createLineSplitter } from '../../../shared/lines/line-splitter.ts';
import { learn } from '../../../shared/lines/learn.ts';
import { createLiveLearner, type Judgement } from '../../../shared/pipeline/propose.ts';
import { burnerRows, makeStream } from './shapes/corpus.ts';
import type { Dialect } from './shapes/dialect.ts';
import { furtherDialects } from './shapes/corpus-further.ts';
import { scoreStream } from './score-learning.ts';

/** The lines as the splitter finds them, with the seconds that they were formatted for. */
function streamOf(dialect: Dialect, seed: number) {
  const stream = makeStream(dialect, 'none', seed);
  const splitter = createLineSplitter();
  const lines = [...splitter.push(stream.bytes, 0), ...splitter.end()].map(({ bytes }) => bytes.replace(/^\u0000+/, ''));
  return { lines, stream: { ...stream, lines: stream.lines.map((line, at) => ({ ...line, bytes: lines[at] ?? '' })) } };
}

describe('learning recipes: further dialects', () => {
  it.each(furtherDialects.map((dialect, at) => [dialect.name, dialect, at] as const))(
    '%s',
    (_, dialect, at) => {
      const { lines, stream } = streamOf(dialect, at + 101);
      expect(lines).toEqual(makeStream(dialect, 'none', at + 101).lines.map(({ bytes }) => bytes));
      const score = scoreStream(dialect, stream);
      expect(score.isRight, `confidence ${score.confidence.toFixed(2)}, right ${score.rightShare.toFixed(2)}, ${score.note}`).toBe(true);
    },
    30_000,
  );
});

describe('learning: what a first glance may not decide', () => {
  const rows = burnerRows(60, 12);
  const lines = rows.map(
    ({ o2, stack, air }, at) => `${o2.toFixed(1)},${40 + ((at * 7) % 5)},${42 + ((at * 3) % 5)},${stack.toFixed(1)},${air.toFixed(1)}`,
  );

  it('takes no recipe after five lines where two columns could be CO, and asks', () => {
    const told: string[] = [];
    const learner = createLiveLearner(({ kind }) => void told.push(kind));
    for (const [at, bytes] of lines.entries()) learner.push({ timeMs: at * 1000, bytes });
    expect(told).not.toContain('adopt');
    expect(told.at(-1)).toBe('ask');
  });

  it('asks for the unit of a stack where neither a unit nor the air beside it tells degF from degC, hot or cold', () => {
    const judged = (row: (one: (typeof rows)[number]) => string, count = rows.length): string[] => {
      const told: Judgement[] = [];
      const learner = createLiveLearner((judgement) => void told.push(judgement));
      for (const [at, one] of rows.slice(0, count).entries()) learner.push({ timeMs: at * 1000, bytes: row(one) });
      const last = told.at(-1);
      const looks = last?.kind === 'ask' ? last.proposal.columns.filter(({ sureness }) => sureness === 'look') : [];
      return [
        last?.kind ?? 'nothing',
        ...looks.flatMap(({ evidence }) => evidence.filter(({ side }) => side === 'open').map(({ key }) => key)),
      ];
    };
    const inF = (celsius: number): string => (celsius * 1.8 + 32).toFixed(1);
    expect(judged(({ o2, co, stack }) => `O2=${o2.toFixed(1)} CO=${co.toFixed(0)} STACK=${inF(stack)}`)).toEqual(['ask', 'unit-missing']);
    expect(judged(({ o2, co }) => `O2=${o2.toFixed(1)} CO=${co.toFixed(0)} STACK=${inF(30 + o2)}`)).toEqual(['ask', 'unit-missing']);
    expect(judged(({ o2, co, stack }) => `O2=${o2.toFixed(1)} CO=${co.toFixed(0)} STACK=${inF(stack)}F`)).toEqual(['adopt']);
    expect(judged(({ o2, co, stack, air }) => `O2=${o2.toFixed(1)} CO=${co.toFixed(0)} STACK=${inF(stack)} AIR=${inF(air)}`)).toEqual([
      'adopt',
    ]);
  });

  it('is sure after five lines where names and units say it', () => {
    const named = rows.slice(0, 5).map((row, at) => ({
      timeMs: at * 1000,
      bytes: `O2=${row.o2.toFixed(1)}% CO=${row.co.toFixed(0)}ppm TS=${row.stack.toFixed(1)}C TA=${row.air.toFixed(1)}C`,
    }));
    expect(learn(named).proposals[0]?.confidence).toBeGreaterThan(0.93);
  });
});
