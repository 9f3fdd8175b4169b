/** What was fetched of a stored run, in the shape that the trend's chart asks for. Pure. */
import type { History } from '../../../../shared/ipc/run-documents.ts';
import { settlingChannels, type SettlingChannel } from '../../../../shared/measurement/channel.ts';
import type { Columns } from '../../../../shared/series/series.ts';
import { formatPosition } from '../../../../shared/format/quantity.ts';
import type { ChartPoints } from '../../../charts/create-live-chart.ts';
import { numberedChanges, type TrendContent, type TrendSpan } from '../../../charts/trend-content.ts';
import { leastSpans, weightOf } from '../../tune/trend/trend-content-of.ts';

const nothing: Columns = { timeMs: [], low: [], high: [], breaks: [] };

export function storedPoints(history: History | undefined, version: number, endMs: number): ChartPoints {
  return {
    version: () => version,
    nowMs: () => endMs,
    series: (channel) => ({
      query: (fromMs, toMs) => within(history?.series.find((one) => one.channel === channel) ?? nothing, fromMs, toMs),
    }),
  };
}

/** The rows of a stretch, with one neighbour on each side, so that lines run out of the picture. */
export function within({ timeMs, low, high, breaks }: Columns, fromMs: number, toMs: number): Columns {
  const first = timeMs.findIndex((time) => time >= fromMs);
  if (first < 0) return nothing;
  const after = timeMs.findIndex((time) => time > toMs);
  const from = Math.max(0, first - 1);
  const to = after < 0 ? timeMs.length : after + 1;
  return {
    timeMs: timeMs.slice(from, to),
    low: low.slice(from, to),
    high: high.slice(from, to),
    breaks: breaks.filter((at) => at > from && at < to).map((at) => at - from),
  };
}

export const channelsOf = (history: History): SettlingChannel[] =>
  settlingChannels.filter((channel) => history.series.some((one) => one.channel === channel && one.timeMs.length > 0));

export function storedContent(history: History, channels: readonly SettlingChannel[], endMs: number): TrendContent {
  const closed = ({ fromMs, toMs }: { fromMs: number; toMs?: number | undefined }): TrendSpan => ({ fromMs, toMs: toMs ?? endMs });
  return {
    strips: channels.map((channel) => ({
      channel,
      weight: weightOf(channel),
      leastSpan: leastSpans[channel],
      settled: history.settled.filter((span) => span.channel === channel).map(closed),
      readings: history.readings.flatMap(({ fromMs, toMs, channels: figures }) => {
        const mean = figures[channel]?.mean;
        return mean === undefined ? [] : [{ timeMs: (fromMs + toMs) / 2, value: mean }];
      }),
      forecast: [],
      heading: undefined,
    })),
    marks: changesOf(history.marks),
    gaps: history.gaps.map(closed),
    lostSinceMs: undefined,
    excluded: history.excluded.map((span) => ({ ...closed(span), reason: span.reason })),
  };
}

/** Only changes are lines through the strips, numbered and named by what moved; every mark is in the table below. */
function changesOf(marks: History['marks']): TrendContent['marks'] {
  let before: readonly { name: string; value: number }[] = [];
  const numbers = numberedChanges(marks);
  return marks.flatMap(({ id, timeMs, body }) => {
    if (body.kind !== 'adjustment') return [];
    const { positions } = body.setting;
    const moved = positions.filter(({ name, value }) => before.find((one) => one.name === name)?.value !== value);
    before = positions;
    return [
      {
        timeMs,
        label: `${numbers.get(id) ?? ''} · ${moved.map(({ name, value }) => `${name.toLowerCase()} ${formatPosition(value)}`).join(', ')}`,
      },
    ];
  });
}
