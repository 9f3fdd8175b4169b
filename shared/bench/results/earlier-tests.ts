/** One instrument over its tests: how its span sensitivity falls, when a cell will be worn out, and whether its answer grows slower. */
import { endOfLife, type EndOfLife, type SpanPoint } from './ageing.ts';
import type { BenchTest, Round } from '../bench-test.ts';
import type { BenchChannel } from '../instrument.ts';
import { gasRows, roundResult } from './test-result.ts';

export type TrendPoint = { readonly wallMs: number; readonly value: number; readonly expanded: number };
export type CellHistory = {
  readonly channel: BenchChannel;
  /** error at the highest gas that all tests share, as found, in the channel's unit */
  readonly spanErrors: readonly TrendPoint[];
  readonly spanReference: number | undefined;
  readonly limit: number | undefined;
  readonly sensitivity: readonly SpanPoint[];
  readonly forecast: EndOfLife;
  /** mean T90 of each test, s */
  readonly t90: readonly TrendPoint[];
  /** the last T90 against the first one */
  readonly t90Growth: number | undefined;
};

/** T90 longer by half than at the first test: look at the filter, then the cell. @source common practice */
export const T90_GROWTH_NOTICE = 1.5;

/** @param tests of one instrument, in any order; the open one counts as well when it has results */
export function cellHistory(tests: readonly BenchTest[], channel: BenchChannel): CellHistory {
  const rounds = [...tests]
    .sort((a, b) => a.startedWallMs - b.startedWallMs)
    .flatMap((test) => {
      const found = test.rounds[0];
      const left = test.rounds.length > 1 ? test.rounds[test.rounds.length - 1] : undefined;
      return found === undefined
        ? []
        : [{ test, found: facts(test, found, channel), left: left === undefined ? undefined : facts(test, left, channel) }];
    });
  const sensitivity: SpanPoint[] = [];
  let cell = 1;
  let before: number | undefined;
  for (const { test, found, left } of rounds) {
    if (found.sensitivity === undefined) continue;
    // an adjustment sets the reading right, not the cell: what the cell has lost adds up over the adjustments
    cell *= before === undefined ? found.sensitivity : found.sensitivity / before;
    sensitivity.push({ wallMs: test.startedWallMs, sensitivity: cell });
    before = left?.sensitivity ?? found.sensitivity;
  }
  const last = rounds.at(-1)?.found.span;
  const same = rounds.flatMap(({ test, found }) => {
    const row = found.rows.find(({ reference }) => last !== undefined && Math.abs(reference - last.reference) <= 0.1 * last.reference);
    return row === undefined ? [] : [{ wallMs: test.startedWallMs, value: row.error, expanded: row.budget.expanded }];
  });
  const t90 = rounds.flatMap(({ test, found }) => (found.t90 === undefined ? [] : [{ wallMs: test.startedWallMs, ...found.t90 }]));
  const [first, latest] = [t90[0], t90.at(-1)];
  return {
    channel,
    spanErrors: same,
    spanReference: last?.reference,
    limit: last?.limit,
    sensitivity,
    forecast: endOfLife(sensitivity),
    t90,
    t90Growth: first === undefined || latest === undefined || t90.length < 2 || first.value <= 0 ? undefined : latest.value / first.value,
  };
}

function facts(test: BenchTest, round: Round, channel: BenchChannel) {
  const { evaluation } = roundResult(test, round);
  const rows = gasRows(evaluation, test.limits).filter((row) => row.channel === channel);
  const zero = rows.find(({ reference }) => Math.abs(reference) < 1e-9);
  const span = rows.filter(({ reference }) => reference > 0).sort((a, b) => b.reference - a.reference)[0];
  const times = evaluation.channels.find((result) => result.channel === channel)?.responses ?? [];
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  return {
    rows,
    span,
    sensitivity: span === undefined ? undefined : (span.reading - (zero?.error ?? 0)) / span.reference,
    t90:
      times.length === 0
        ? undefined
        : { value: mean(times.map(({ t90S }) => t90S)), expanded: Math.max(...times.map(({ expandedS }) => expandedS)) },
  };
}
