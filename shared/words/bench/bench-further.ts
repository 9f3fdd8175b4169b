import { mean, sampleStandardDeviation } from 'simple-statistics';
import type { BenchChannel } from '../../bench/instrument.ts';
import type { GasSlot } from '../../bench/plan.ts';
import type { ResponseRow } from '../../bench/results/evaluate.ts';
import { worst, type RoundResult, type Verdict } from '../../bench/results/test-result.ts';
import { benchResult } from './bench-result.ts';
import { formatDuration } from '../../format/duration.ts';
import { formatNumber } from '../../format/quantity.ts';
import { signed, unitOf, unitText, withHalf } from './bench-format.ts';

const words = benchResult;
export type FurtherRow = { key: string; channel: BenchChannel; name: string; value: string; limit: string; verdict: Verdict };

/** Everything that is not an error at a gas: linearity, scatter, drift, cross-effect, times, noise, warm-up. */
export function furtherRows({ evaluation, noise }: RoundResult, gasName: (slot: GasSlot) => string): FurtherRow[] {
  const rows: FurtherRow[] = [];
  for (const { channel, linearity, repeatability, drifts, crossEffect, responses, warmUp } of evaluation.channels) {
    const add = (name: string, value: string, limit: string, verdict: Verdict): void =>
      void rows.push({ key: `${channel} ${name} ${rows.length}`, channel, name, value, limit, verdict });
    const plain = (value: number): string => unitText(channel, formatNumber(value, unitOf(channel) === '%' ? 2 : 1));
    const atMost = (limit: number | undefined, text: (value: number) => string): string =>
      limit === undefined ? '' : `at most ${text(limit)}`;
    if (linearity !== undefined)
      add(
        words.linearity,
        `${formatNumber(linearity.worstPercentOfSpan, 1)} %`,
        atMost(linearity.limit, (value) => `${formatNumber(value, 1)} %`),
        linearity.verdict,
      );
    if (repeatability !== undefined)
      add(words.repeatability(repeatability.n), plain(repeatability.value), atMost(repeatability.limit, plain), repeatability.verdict);
    for (const { level, value, expanded, limit, verdict, hours, perHour } of drifts) {
      const change = unitText(
        channel,
        `${signed(channel, value, expanded)}${expanded === undefined ? '' : ` ${withHalf(channel, expanded)}`}`,
      );
      // a pace from a few minutes, or of what does not stand out of the scatter, would only mislead
      const stands = expanded !== undefined && Math.abs(value) > expanded;
      const pace =
        !stands || hours < 0.4
          ? ''
          : hours < 12
            ? words.perHour(signed(channel, perHour, expanded / hours))
            : words.perDay(signed(channel, 24 * perHour, (24 * expanded) / hours));
      add(
        words.drift(gasName(level as GasSlot), formatDuration(hours * 3_600_000)),
        pace === '' ? change : `${change}, ${pace}`,
        atMost(limit, plain),
        verdict,
      );
    }
    if (crossEffect !== undefined) add(words.cross, plain(crossEffect.value), atMost(crossEffect.limit, plain), crossEffect.verdict);
    for (const same of waysOf(responses)) {
      const { from, to, limit } = same[0];
      const t90 = same.map(({ t90S }) => t90S);
      const spread = Math.max(...t90) - Math.min(...t90);
      const own = Math.max(...same.map(({ expandedS }) => expandedS));
      // repeats that differ by more than each of them doubts itself widen the doubt of their mean
      const expanded = Math.max(1, own, t90.length < 3 ? spread / 2 : (2 * sampleStandardDeviation(t90)) / Math.sqrt(t90.length));
      add(
        words.responseRow(gasName(from as GasSlot), gasName(to as GasSlot), same.length, {
          dead: `${formatNumber(mean(same.map(({ deadS }) => deadS)), 0)}\u00a0s`,
          rise: `${formatNumber(mean(same.map(({ riseS }) => riseS)), 0)}\u00a0s`,
          spread: same.length < 2 ? undefined : `${formatNumber(spread, 0)}\u00a0s`,
        }),
        `${formatNumber(mean(t90), 0)} ±${formatNumber(expanded, 0)} s`,
        atMost(limit, (value) => `${formatNumber(value, 0)} s`),
        worst(same.map(({ verdict }) => verdict)),
      );
    }
    const best = noise.find((one) => one.channel === channel)?.best;
    if (best !== undefined)
      add(
        words.noise,
        best.deviation > 0
          ? `${formatNumber(best.averagingS, 0)} s: ${unitText(channel, formatNumber(best.deviation, unitOf(channel) === '%' ? 3 : 2))}`
          : words.noiseStill,
        '',
        'not-judged',
      );
    for (const { afterMin, reading, value, expanded, limit, verdict } of warmUp ?? [])
      add(
        words.warmUp(afterMin),
        words.readsOff(plain(reading), signed(channel, value, expanded)),
        limit === undefined ? '' : words.plusMinus(plain(limit)),
        verdict,
      );
  }
  return rows;
}

/** Repeats of one change of gas stand together, in the order of the first. */
function waysOf(responses: readonly ResponseRow[]): [ResponseRow, ...ResponseRow[]][] {
  const ways = new Map<string, [ResponseRow, ...ResponseRow[]]>();
  for (const row of responses) {
    const known = ways.get(`${row.from} ${row.to}`);
    if (known === undefined) ways.set(`${row.from} ${row.to}`, [row]);
    else known.push(row);
  }
  return [...ways.values()];
}
