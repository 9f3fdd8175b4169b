/** Run records for tests, small and explicit. */
import type { LiveBatch } from '../../../shared/ipc/run-documents.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import type { SettlingChannel } from '../../../shared/measurement/channel.ts';
import type { Mark } from '../../../shared/measurement/mark.ts';
import { SerialSettings } from '../../../shared/measurement/run.ts';
import type { ChannelState, Reading } from '../../../shared/measurement/state.ts';
import { recordOf, withBatch, type RunRecord } from '../../../renderer/state/run-record.ts';

export const counters = { lines: 100, understood: 98, rejected: 2, ignored: 0, bytes: 4000, linesPerSecond: 1, lastGoodMs: 59_000 };

export const infoOf = (part: Partial<RunInfo> = {}): RunInfo => ({
  runId: 'run-1',
  phase: 'running',
  source: { kind: 'serial', path: 'COM4', label: 'USB serial 2', settings: SerialSettings.parse({}) },
  startWallMs: 0,
  zoneMinutes: 0,
  timeMs: 0,
  fuelId: 'no2',
  channels: ['o2', 'co', 'stackTemperature', 'airTemperature'],
  counters,
  marks: [],
  recipeName: 'comma columns',
  ...part,
});

export const stateOf = (channel: SettlingChannel, state: ChannelState['state'], part: Partial<ChannelState> = {}): ChannelState => ({
  channel,
  state,
  sinceMs: 0,
  timeMs: 60_000,
  value: 5,
  band: 0.2,
  ...part,
});

export const batchOf = (part: Partial<LiveBatch> = {}): LiveBatch => ({
  runId: 'run-1',
  timeMs: 60_000,
  samples: [],
  droppedCount: 0,
  states: [],
  readings: [],
  marks: [],
  edits: [],
  gaps: [],
  excluded: [],
  settled: [],
  counters,
  ...part,
});

export const readingOf = (id: string, part: Partial<Reading> = {}): Reading => ({
  id,
  scope: 'gas',
  settled: true,
  fromMs: 40_000,
  toMs: 60_000,
  takenMs: 50_000,
  final: true,
  channels: { o2: { mean: 5.1, sd: 0.1, n: 20, nEff: 10, u: 0.18 }, co: { mean: 13, sd: 1, n: 20, nEff: 10, u: 6 } },
  ...part,
});

export const turnOf = (id: string, timeMs: number, shutter: number): Mark => ({
  id,
  timeMs,
  body: { kind: 'adjustment', setting: { stage: '1', positions: [{ name: 'shutter', value: shutter }] } },
});

export const recordWith = (batch: Partial<LiveBatch>, info: Partial<RunInfo> = {}): RunRecord =>
  withBatch(recordOf(infoOf(info)), batchOf(batch));
