import { learn } from '../../../shared/lines/learn.ts';
import { createLineReader } from '../../../shared/lines/reading/read-line.ts';
import type { ChannelId } from '../../../shared/measurement/channel.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import type { Stream } from './shapes/corpus.ts';
import type { Dialect } from './shapes/dialect.ts';

export type Score = {
  readonly isRight: boolean;
  readonly confidence: number;
  /** share of the rows that nothing disturbed whose four values all came out right */
  readonly rightShare: number;
  /** values that came out and are wrong, over all values */
  readonly wrongShare: number;
  readonly note: string;
};

/** What a stream gives through the best proposal, against what was written into it. */
export function scoreStream(dialect: Dialect, stream: Stream): Score {
  const result = learn(stream.lines);
  const best = result.proposals[0];
  if (best === undefined)
    return { isRight: false, confidence: 0, rightShare: 0, wrongShare: 0, note: `no proposal: ${result.trouble ?? ''}` };
  const reader = createLineReader(best.recipe);
  const bySecond = new Map<number, Sample>();
  for (const line of stream.lines) {
    const read = reader.read(line);
    if (read.kind === 'sample') bySecond.set(Math.round(read.sample.timeMs / 1000), read.sample);
  }
  const last = reader.end();
  if (last?.kind === 'sample') bySecond.set(stream.rows.length - 1, last.sample);
  let rightRows = 0;
  let rows = 0;
  let wrong = 0;
  let values = 0;
  let firstWrong = '';
  for (const [second, row] of stream.rows.entries()) {
    const truth = dialect.truth(row);
    const sample = bySecond.get(second);
    let isRowRight = sample !== undefined;
    for (const [channel, value] of Object.entries(truth) as [ChannelId, number][]) {
      const got = sample?.values[channel];
      if (got === undefined) isRowRight = false;
      else {
        values += 1;
        if (Math.abs(got - value) > 1e-6 * Math.max(1, Math.abs(value))) {
          isRowRight = false;
          wrong += 1;
          firstWrong ||= `row ${second} ${channel} ${got} for ${value}`;
        }
      }
    }
    if (stream.spoiled.has(second)) continue;
    rows += 1;
    if (isRowRight) rightRows += 1;
  }
  const rightShare = rightRows / Math.max(1, rows);
  const wrongShare = wrong / Math.max(1, values);
  return {
    isRight: best.confidence >= 0.8 && rightShare >= 0.95 && wrongShare <= 0.01,
    confidence: best.confidence,
    rightShare,
    wrongShare,
    note: `${best.recipe.name}; ${firstWrong}`,
  };
}
