/** The certificate for machines: CSV for a table, JSON with everything that was measured. Files carry the mark of simulated data in their first line. */
import type { BenchTest } from '../../bench/bench-test.ts';
import { gasRows, roundResult, type RoundResult, type Verdict } from '../../bench/results/test-result.ts';
import { isoWithZone } from '../../format/date.ts';
import { BYTE_ORDER_MARK, csvRow, type CsvStyle } from '../../format/csv.ts';
import { bench } from '../../words/bench/bench.ts';
import { benchResult } from '../../words/bench/bench-result.ts';
import { certificateWords } from '../../words/paper/certificate.ts';
import { unitOf } from '../../words/bench/bench-format.ts';
import { certificateColumns, certificateResults as results, decisionRules, spanUnit } from '../../words/bench/certificate-columns.ts';
import type { CertificateInput } from './bench-certificate.ts';

type Cells = Partial<Record<(typeof certificateColumns)[number], string | number | undefined>>;

/** One row per result: errors first, one per gas and channel, then everything else that was judged. Figures in the unit that the row names. */
export function certificateCsv({ test, hash }: CertificateInput, style: CsvStyle = 'comma'): string {
  const rows = test.rounds.flatMap((round) => {
    const result = roundResult(test, round);
    return [...errorCells(test, result), ...furtherCells(test, result)].map((cells) =>
      certificateColumns.map((column) => {
        const cell = { round: round.kind, ...cells }[column];
        return typeof cell === 'number' ? tidy(cell) : cell;
      }),
    );
  });
  const first = test.watermark === undefined ? [] : [[`# ${certificateWords.practice}`]];
  const about = [
    ['# instrument', test.instrument.name, test.instrument.serial],
    ['# started', isoWithZone(test.startedWallMs, test.zoneMinutes)],
    ['# sha256 of the raw results', hash],
  ];
  // every line has as many fields as the head: RFC 4180 section 2, rule 4
  const text = [...first, ...about, certificateColumns, ...rows]
    .map((row) => csvRow([...row, ...Array<undefined>(certificateColumns.length - row.length).fill(undefined)], style))
    .join('');
  return style === 'semicolon' ? `${BYTE_ORDER_MARK}${text}` : text;
}

const gasName = (test: BenchTest, level: string): string => test.gases.find(({ slot }) => slot === level)?.gas.name ?? bench.slots.air;

const errorCells = (test: BenchTest, { evaluation }: RoundResult): Cells[] =>
  gasRows(evaluation, test.limits).map((row) => ({
    channel: row.channel,
    unit: unitOf(row.channel),
    gas: gasName(test, row.level),
    'reference [unit]': row.reference,
    'reading [unit]': row.reading,
    'error [unit]': row.error,
    ...judged({ ...row, expanded: row.budget.expanded }, evaluation),
    repeats: row.repeats,
    result: results.error,
  }));

function furtherCells(test: BenchTest, { evaluation, noise }: RoundResult): Cells[] {
  return evaluation.channels.flatMap(({ channel, linearity, repeatability, drifts, crossEffect, responses, warmUp }): Cells[] => {
    const own = { channel, unit: unitOf(channel) };
    const best = noise.find((one) => one.channel === channel)?.best;
    const cells: (Cells | undefined)[] = [
      linearity && {
        channel,
        unit: spanUnit,
        result: results.linearity,
        'value [unit]': linearity.worstPercentOfSpan,
        ...judged(linearity, evaluation),
      },
      repeatability && {
        ...own,
        gas: gasName(test, repeatability.level),
        result: results.repeatability,
        'value [unit]': repeatability.value,
        repeats: repeatability.n,
        ...judged(repeatability, evaluation),
      },
      ...drifts.map((drift) => ({
        ...own,
        gas: gasName(test, drift.level),
        result: results.drift,
        'value [unit]': drift.value,
        'after [h]': drift.hours,
        'change per hour [unit/h]': drift.perHour,
        ...judged(drift, evaluation),
      })),
      crossEffect && {
        ...own,
        gas: gasName(test, crossEffect.level),
        result: results.cross,
        'value [unit]': crossEffect.value,
        ...judged(crossEffect, evaluation),
      },
      ...responses.map((response) => ({
        channel,
        unit: 's',
        gas: gasName(test, response.to),
        'gas before': gasName(test, response.from),
        result: results.response,
        'value [unit]': response.t90S,
        'dead time [s]': response.deadS,
        'T90 [s]': response.t90S,
        'T10 to T90 [s]': response.riseS,
        ...judged({ ...response, expanded: response.expandedS }, evaluation),
      })),
      best && { ...own, result: results.noise, 'value [unit]': best.deviation, 'averaging time [s]': best.averagingS },
      ...(warmUp ?? []).map((row) => ({
        ...own,
        result: results.warmUp,
        'reading [unit]': row.reading,
        'error [unit]': row.value,
        'after [h]': row.afterMin / 60,
        ...judged(row, evaluation),
      })),
    ];
    return cells.filter((one) => one !== undefined);
  });
}

const judged = (
  { limit, expanded, verdict }: { limit: number | undefined; expanded?: number | undefined; verdict: Verdict },
  { rule }: RoundResult['evaluation'],
): Cells => ({
  'limit [unit]': limit,
  'expanded uncertainty k=2 [unit]': expanded,
  decision: benchResult.verdicts[verdict],
  // a rule that decided nothing is none
  'decision rule': limit === undefined || rule === undefined ? undefined : decisionRules[rule],
});

/** without the dust of binary fractions */
const tidy = (value: number): number => Number(value.toPrecision(10));

export function certificateJson({ test, hash, software }: CertificateInput): string {
  const results = test.rounds.map((round) => ({ round: round.kind, ...roundResult(test, round).evaluation }));
  return `${JSON.stringify({ ...mark(test), kind: 'bench-certificate', format: 1, software, sha256: hash, test, results }, null, 2)}\n`;
}

const mark = ({ watermark }: BenchTest): { simulated?: string } =>
  watermark === undefined ? {} : { simulated: certificateWords.practice };
