/** A run's record -> what the trend draws. Pure. */
import type { SettlingChannel } from '../../../../shared/measurement/channel.ts';
import type { ChannelState, Reading } from '../../../../shared/measurement/state.ts';
import type { SettledSpan } from '../../../../shared/ipc/run-info.ts';
import type { TrendContent, TrendSpan, TrendStrip } from '../../../charts/trend-content.ts';
import type { ChannelRowState } from '../../../state/channels.ts';
import type { RunRecord } from '../../../state/run-record.ts';
import type { NumberedTrial } from '../../../../shared/tuning/trial/numbered-trial.ts';
import { formatPosition } from '../../../../shared/format/quantity.ts';

/** Rows and strips share their heights, so that a strip stands beside its figure. */
export const weightOf = (channel: SettlingChannel): number => (channel === 'airTemperature' ? 85 : 121);
/** A strip never shows less than this, in inner units: noise must look like noise. */
export const leastSpans: Record<SettlingChannel, number> = { o2: 2, co: 40, stackTemperature: 12, airTemperature: 3 };

export function trendContentOf(record: RunRecord, rows: readonly ChannelRowState[], trials: readonly NumberedTrial[]): TrendContent {
  const nowMs = record.face.timeMs;
  const closed = ({ fromMs, toMs }: { fromMs: number; toMs?: number | undefined }): TrendSpan => ({ fromMs, toMs: toMs ?? nowMs });
  return {
    strips: rows
      .filter(({ typed, channel }) => !typed || record.info.channels.includes(channel))
      .map((row) => stripOf(record, row, shownReadings(record, trials), closed)),
    marks: trials.flatMap(({ id, number, fromMs, changed }) =>
      id.endsWith(':start')
        ? []
        : [
            {
              timeMs: fromMs,
              label: [String(number), ...changed.map(({ name, value }) => `${name.toLowerCase()} ${formatPosition(value)}`)].join(' · '),
            },
          ],
    ),
    gaps: record.gaps.map(closed),
    lostSinceMs: record.info.phase === 'lost' ? (record.info.lostSinceMs ?? record.face.counters.lastGoodMs) : undefined,
    // one that goes on has no end yet: points come before the state that says so, and would press the strip flat until then
    excluded: record.excluded.map(({ fromMs, toMs = Infinity, reason }) => ({ fromMs, toMs, reason })),
  };
}

/** One square per trial, and one for each reading that was taken by hand: revised and repeated readings would pile up. */
function shownReadings({ readings }: RunRecord, trials: readonly NumberedTrial[]): readonly Reading[] {
  const ofTrials = trials.flatMap(({ reading }) => (reading === undefined ? [] : [reading]));
  return [...new Set([...ofTrials, ...readings.filter(({ settled }) => !settled)])];
}

function stripOf(
  record: RunRecord,
  row: ChannelRowState,
  readings: readonly Reading[],
  closed: (span: SettledSpan) => TrendSpan,
): TrendStrip {
  const { channel, detail, state } = row;
  const nowMs = record.face.timeMs;
  const forecasts = state === 'settling' || state === 'moving';
  return {
    channel,
    weight: weightOf(channel),
    leastSpan: leastSpans[channel],
    settled: record.settled.filter((span) => span.channel === channel).map(closed),
    readings: readings.flatMap((reading) => {
      const mean = reading.channels[channel]?.mean;
      return mean === undefined ? [] : [{ timeMs: (reading.fromMs + reading.toMs) / 2, value: mean }];
    }),
    forecast: forecasts && detail?.forecast !== undefined ? detail.forecast : [],
    heading:
      detail?.headingFor === undefined || state === 'silent' || state === 'absent'
        ? undefined
        : { value: detail.headingFor.value, band: detail.band },
    drift: state === 'drifting' ? driftOf(detail, nowMs) : undefined,
    swing:
      state === 'surging' && detail?.swing !== undefined
        ? { fromMs: detail.sinceMs, low: detail.swing.low, high: detail.swing.high }
        : undefined,
  };
}

/** So far ahead a slope is drawn on: it says the way, not an end. */
const DRIFT_AHEAD_MS = 90_000;

function driftOf(detail: ChannelState | undefined, nowMs: number): TrendStrip['drift'] {
  const value = detail?.estimate ?? detail?.value;
  if (detail?.perMinute === undefined || value === undefined) return undefined;
  const toValue = value + (detail.perMinute * DRIFT_AHEAD_MS) / 60_000;
  // no gas falls below nothing: the line ends there
  const isGas = detail.channel === 'o2' || detail.channel === 'co';
  const part = isGas && toValue < 0 && value > 0 ? value / (value - toValue) : 1;
  return { value, toMs: nowMs + part * DRIFT_AHEAD_MS, toValue: value + part * (toValue - value) };
}
