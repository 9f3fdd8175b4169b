/** What the host in memory tells of its run: marks, readings, derived figures, lines. */
import type { LineReport, LiveBatch } from '../../../shared/ipc/run-documents.ts';
import { settlingChannels, type SettlingChannel } from '../../../shared/measurement/channel.ts';
import type { Derived } from '../../../shared/measurement/derived.ts';
import type { Mark } from '../../../shared/measurement/mark.ts';
import type { Reading } from '../../../shared/measurement/state.ts';
import { sampleAt, settledFrom, type FakeTurn } from './fake-burner.ts';

const scenes = [
  'empty',
  'live',
  'full',
  'states',
  'unplugged',
  'simulated',
  'learning',
  'interrupted',
  'notice',
  'purge',
  'typed',
] as const;
export type Scene = (typeof scenes)[number];

export const MINUTE = 60_000;
/** The settings of the burner, from its light-off. */
export const firstTurns: readonly FakeTurn[] = [
  { atMs: 0, shutter: 7, band: 3 },
  { atMs: 5 * MINUTE, shutter: 6, band: 3 },
  { atMs: 9 * MINUTE, shutter: 5, band: 3 },
  { atMs: 13 * MINUTE, shutter: 4, band: 3 },
  { atMs: 18 * MINUTE, shutter: 3.5, band: 3 },
  { atMs: 25 * MINUTE, shutter: 4.75, band: 3 },
];
export const smokeMarks: readonly Mark[] = (
  [
    [2, 0],
    [6.5, 0],
    [11, 0],
    [16, 0],
    [23, 1.5],
  ] as const
).map(([minute, number]) => ({
  id: `smoke-${minute}`,
  timeMs: minute * MINUTE,
  body: { kind: 'smoke', spots: [{ number }] },
}));

export const markOf = (id: string, { atMs, shutter, band }: FakeTurn): Mark => ({
  id,
  timeMs: atMs,
  body: {
    kind: 'adjustment',
    setting: {
      stage: '1',
      positions: [
        { name: 'Shutter', value: shutter },
        { name: 'Band', value: band },
      ],
    },
  },
});

export function reading(
  id: string,
  turns: readonly FakeTurn[],
  fromMs: number,
  toMs: number,
  scope: Reading['scope'],
  final: boolean,
  settled = true,
): Reading {
  const { values } = sampleAt(turns, (fromMs + toMs) / 2);
  const channels: Reading['channels'] = {};
  for (const channel of settlingChannels) {
    if (scope === 'gas' && (channel === 'stackTemperature' || channel === 'airTemperature')) continue;
    channels[channel] = {
      mean: values[channel] ?? 0,
      sd: 0.1,
      n: 50,
      nEff: 20,
      u: ({ o2: 0.18, co: 6, stackTemperature: 1.2, airTemperature: 0.6 } as const)[channel],
    };
  }
  return { id, scope, settled, fromMs, toMs, takenMs: fromMs + 10_000, final, channels };
}

export function settledSpans(turns: readonly FakeTurn[], nowMs: number): LiveBatch['settled'] {
  return turns.flatMap((turn, index) => {
    const end = turns[index + 1]?.atMs;
    return settlingChannels.flatMap((channel: SettlingChannel): LiveBatch['settled'] => {
      if (channel === 'airTemperature') return index === 0 ? [{ channel, fromMs: 0 }] : [];
      const from = settledFrom(channel, turns, turn, Math.min(nowMs, end ?? nowMs));
      return from === undefined || from >= (end ?? nowMs) ? [] : [{ channel, fromMs: from, ...(end === undefined ? {} : { toMs: end }) }];
    });
  });
}

export function derived(isShowingStates: boolean, timeMs: number): Derived {
  if (isShowingStates)
    return {
      timeMs,
      values: {},
      expanded: {},
      blank: {
        netStackC: 'no-air-temperature',
        co2Percent: 'o2-not-possible',
        excessAirPercent: 'o2-not-possible',
        coAirFreePpm: 'co-over-range',
        stackLossPercent: 'suspect',
        efficiencyHhvPercent: 'suspect',
        waterDewPointMarginK: 'suspect',
      },
    };
  return {
    timeMs,
    values: {
      netStackC: 190,
      co2Percent: 11.7,
      excessAirPercent: 30,
      coAirFreePpm: 17,
      stackLossPercent: 15.1,
      efficiencyHhvPercent: 84.9,
      waterDewPointMarginK: 164,
    },
    expanded: { efficiencyHhvPercent: 0.65 },
    blank: {},
  };
}

export function lineOf(turns: readonly FakeTurn[], timeMs: number, index: number): LineReport {
  const { values } = sampleAt(turns, Math.floor(timeMs / 1000) * 1000);
  if (index === 8) return { number: index, timeMs, bytes: '12:01:3', mark: 'rejected', why: '1 of 5' };
  const absent = index === 6;
  const fields = [
    '12:01:2' + (index % 10),
    String(values.o2),
    absent ? '---' : String(values.co),
    String(values.stackTemperature),
    String(values.airTemperature),
  ];
  let at = 0;
  const spans = fields.map((text, column) => {
    const start = at;
    at += text.length + 1;
    return { channel: ['clock', 'o2', 'co', 'stackTemperature', 'airTemperature'][column] ?? '', start, end: start + text.length };
  });
  return {
    number: index,
    timeMs,
    bytes: fields.join(',') + (index === 3 ? '\u0007' : ''),
    mark: absent ? 'read-absent' : 'read',
    ...(absent ? { why: 'CO over range' } : {}),
    spans: spans.slice(1),
  };
}
