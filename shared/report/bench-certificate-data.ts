/** The certificate for machines: CSV for a table, JSON with everything that was measured. Files carry the mark of simulated data in their first line. */
import type { BenchTest } from '../bench/bench-test.ts';
import { gasRows, roundResult } from '../bench/test-result.ts';
import { isoWithZone } from '../format/date.ts';
import { bench } from '../words/bench.ts';
import { unitOf } from '../words/bench-format.ts';
import type { CertificateInput } from './bench-certificate.ts';

const quoted = (text: string, separator: string): string =>
  new RegExp(`["\\r\\n${separator}]`).test(text) || /^[=+@\t-]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
const plain = (value: number | undefined): string => (value === undefined ? '' : String(Number(value.toPrecision(10))));

/** One line per gas and channel; numbers with a decimal point, in %vol and ppm. */
export function certificateCsv({ test, hash }: CertificateInput, separator: ',' | ';' = ','): string {
  const head = [
    'round',
    'channel',
    'unit',
    'gas',
    'reference',
    'reading',
    'error',
    'limit',
    'expanded_uncertainty_k2',
    'verdict',
    'repeats',
  ];
  const rows = test.rounds.flatMap((round) =>
    gasRows(roundResult(test, round).evaluation, test.limits).map((row) => [
      round.kind,
      row.channel,
      unitOf(row.channel),
      test.gases.find(({ slot }) => slot === row.level)?.gas.name ?? bench.slots.air,
      plain(row.reference),
      plain(row.reading),
      plain(row.error),
      plain(row.limit),
      plain(row.budget.expanded),
      row.verdict,
      String(row.repeats),
    ]),
  );
  const first = test.watermark === undefined ? [] : [[`# ${bench.certificate.practice}`]];
  const about = [
    ['# instrument', test.instrument.name, test.instrument.serial ?? ''],
    ['# started', isoWithZone(test.startedWallMs, test.zoneMinutes)],
    ['# sha256 of the raw results', hash],
  ];
  // figures are never quoted: a leading minus is a number there
  const isNumber = (text: string): boolean => /^-?\d+(\.\d+)?(e[+-]?\d+)?$/.test(text);
  return (
    [...first, ...about, head, ...rows]
      .map((row) => row.map((text) => (isNumber(text) ? text : quoted(text, separator))).join(separator))
      .join('\r\n') + '\r\n'
  );
}

export function certificateJson({ test, hash, software }: CertificateInput): string {
  const results = test.rounds.map((round) => ({ round: round.kind, ...roundResult(test, round).evaluation }));
  return `${JSON.stringify({ ...mark(test), kind: 'bench-certificate', format: 1, software, sha256: hash, test, results }, null, 2)}\n`;
}

const mark = ({ watermark }: BenchTest): { simulated?: string } =>
  watermark === undefined ? {} : { simulated: bench.certificate.practice };
