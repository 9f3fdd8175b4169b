/** The certificate for machines: CSV for a table, JSON with everything that was measured. Files carry the mark of simulated data in their first line. */
import type { BenchTest } from '../bench/bench-test.ts';
import { gasRows, roundResult } from '../bench/test-result.ts';
import { isoWithZone } from '../format/date.ts';
import { BYTE_ORDER_MARK, csvRow, type CsvStyle } from '../format/csv.ts';
import { bench } from '../words/bench.ts';
import { unitOf } from '../words/bench-format.ts';
import type { CertificateInput } from './bench-certificate.ts';

/** One line per gas and channel; figures in %vol and ppm. */
export function certificateCsv({ test, hash }: CertificateInput, style: CsvStyle = 'comma'): string {
  const head = [
    'round',
    'channel',
    'unit',
    'gas',
    'reference',
    'reading',
    'error',
    'limit',
    'expanded uncertainty k=2',
    'verdict',
    'repeats',
  ];
  const rows = test.rounds.flatMap((round) =>
    gasRows(roundResult(test, round).evaluation, test.limits).map((row) => [
      round.kind,
      row.channel,
      unitOf(row.channel),
      test.gases.find(({ slot }) => slot === row.level)?.gas.name ?? bench.slots.air,
      tidy(row.reference),
      tidy(row.reading),
      tidy(row.error),
      row.limit === undefined ? undefined : tidy(row.limit),
      tidy(row.budget.expanded),
      bench.result.verdicts[row.verdict],
      row.repeats,
    ]),
  );
  const first = test.watermark === undefined ? [] : [[`# ${bench.certificate.practice}`]];
  const about = [
    ['# instrument', test.instrument.name, test.instrument.serial],
    ['# started', isoWithZone(test.startedWallMs, test.zoneMinutes)],
    ['# sha256 of the raw results', hash],
  ];
  const text = [...first, ...about, head, ...rows].map((row) => csvRow(row, style)).join('');
  return style === 'semicolon' ? `${BYTE_ORDER_MARK}${text}` : text;
}

/** without the dust of binary fractions */
const tidy = (value: number): number => Number(value.toPrecision(10));

export function certificateJson({ test, hash, software }: CertificateInput): string {
  const results = test.rounds.map((round) => ({ round: round.kind, ...roundResult(test, round).evaluation }));
  return `${JSON.stringify({ ...mark(test), kind: 'bench-certificate', format: 1, software, sha256: hash, test, results }, null, 2)}\n`;
}

const mark = ({ watermark }: BenchTest): { simulated?: string } =>
  watermark === undefined ? {} : { simulated: bench.certificate.practice };
