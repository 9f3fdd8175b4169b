import { describe, expect, it } from 'vitest';
import { createLiveLearner, type Judgement, type LinesToJudge } from '../../../shared/pipeline/propose.ts';

const refusal = (lineCount: number): Judgement => ({ kind: 'refuse', trouble: 'no-shape', ruledOut: [], lineCount });

/** A learner whose looks are answered when the test says so. */
function slowLearner() {
  const told: Judgement[] = [];
  const looks: { ask: LinesToJudge; judged: (judgement: Judgement | undefined) => void }[] = [];
  const learner = createLiveLearner(
    (judgement) => void told.push(judgement),
    (ask, judged) => void looks.push({ ask, judged }),
  );
  let count = 0;
  const push = (lines: number): void => {
    for (let i = 0; i < lines; i++) learner.push({ timeMs: 1000 * count, bytes: `line ${++count}` });
  };
  return { told, looks, push };
}

describe('learning while lines come in', () => {
  it('looks once at a time; what fell due meanwhile is one look at all lines so far', () => {
    const { told, looks, push } = slowLearner();
    push(31);
    expect(looks.map(({ ask }) => ask.lines.length)).toEqual([5]);
    looks[0]?.judged(refusal(5));
    expect(told).toHaveLength(1);
    expect(looks.map(({ ask }) => ask.lines.length)).toEqual([5, 31]);
    looks[1]?.judged(refusal(31));
    expect(looks).toHaveLength(2);
  });

  it('hands over lines that do not change while they are looked at', () => {
    const { looks, push } = slowLearner();
    push(5);
    push(400);
    expect(looks[0]?.ask.lines.map(({ bytes }) => bytes)).toEqual(['line 1', 'line 2', 'line 3', 'line 4', 'line 5']);
  });

  it('keeps the head that names the columns, and the newest', () => {
    const { looks, push } = slowLearner();
    push(199);
    for (let at = 0; at < looks.length; at++) looks[at]?.judged(undefined);
    push(201);
    looks.at(-1)?.judged(undefined);
    const { lines = [] } = looks.at(-1)?.ask ?? {};
    expect(lines).toHaveLength(200);
    expect([lines[0]?.bytes, lines[59]?.bytes, lines.at(-1)?.bytes]).toEqual(['line 1', 'line 60', 'line 400']);
  });

  it('goes on after a look that failed', () => {
    const { told, looks, push } = slowLearner();
    push(5);
    looks[0]?.judged(undefined);
    push(5);
    looks[1]?.judged(refusal(10));
    expect(told).toHaveLength(1);
  });
});
