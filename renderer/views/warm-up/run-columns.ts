import type { History } from '../../../shared/ipc/run-documents.ts';
import { settlingChannels } from '../../../shared/measurement/channel.ts';
import type { RunColumns } from '../../../shared/warm-up/capture.ts';

/** Middle of low and high of each bucket: enough for a curve. */
export function columnsOf({ series }: History): RunColumns {
  const columns: { -readonly [K in keyof RunColumns]: RunColumns[K] } = {};
  for (const channel of settlingChannels) {
    const found = series.find((one) => one.channel === channel);
    if (found === undefined || found.timeMs.length === 0) continue;
    columns[channel] = { timeMs: found.timeMs, values: found.low.map((low, i) => (low + (found.high[i] ?? low)) / 2) };
  }
  return columns;
}
