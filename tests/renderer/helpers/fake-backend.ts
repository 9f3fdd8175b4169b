/** A host in memory for looking at the window and for its tests. It answers every command that the window sends; it measures nothing. */
import type { Input, Output, CommandName, EventName, Payload } from '../../../shared/ipc/contract.ts';
import { commands } from '../../../shared/ipc/contract.ts';
import type { LiveBatch } from '../../../shared/ipc/run-documents.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import { patched, Settings } from '../../../shared/ipc/settings.ts';
import type { Transport } from '../../../shared/ipc/transport.ts';
import { settlingChannels } from '../../../shared/measurement/channel.ts';
import { SerialSettings } from '../../../shared/measurement/run.ts';
import type { Mark } from '../../../shared/measurement/mark.ts';
import type { ChannelState, Reading } from '../../../shared/measurement/state.ts';
import { problem } from '../../../shared/problem.ts';
import { sampleAt, settingAt, settledFrom, stateAt, type FakeTurn } from './fake-burner.ts';
import { derived, firstTurns, lineOf, markOf, MINUTE, reading, settledSpans, smokeMarks, type Scene } from './fake-run.ts';

export type FakeBackend = {
  transport: Transport;
  tick: (ms: number) => void;
  calls: { name: string; input: unknown }[];
  stop: () => void;
  cut: () => void;
};

const RUN = 'run-1';
const START_WALL = Date.UTC(2026, 2, 12, 13, 31);

export function createFakeBackend(
  scene: Scene,
  options: { live?: boolean; theme?: 'dark' | 'light'; units?: 'us' | 'metric' } = {},
): FakeBackend {
  const listeners = new Set<(message: unknown) => void>();
  const calls: FakeBackend['calls'] = [];
  let settings = Settings.parse({
    cautionsReadWallMs: scene === 'empty' ? undefined : Date.now(),
    theme: options.theme ?? 'dark',
    units: options.units ?? 'metric',
  });
  const turns: FakeTurn[] = firstTurns.map((turn) => ({ ...turn }));
  let nowMs = 25 * MINUTE + (scene === 'full' ? 9 * MINUTE : 110_000);
  let sentMs = 0;
  let marks: Mark[] = turns.slice(1).map((turn, index) => markOf(`mark-${index + 2}`, turn));
  marks = [...marks, ...smokeMarks];
  let running = scene !== 'empty' && scene !== 'interrupted';

  const send = (message: unknown): void => listeners.forEach((listener) => listener(structuredClone(message)));
  const publish = <K extends EventName>(name: K, payload: Payload<K>): void => send({ type: 'event', name, payload });
  const counters = () => ({
    lines: 1204,
    understood: 1201,
    rejected: 3,
    ignored: 0,
    bytes: 38_000,
    linesPerSecond: 1,
    lastGoodMs: scene === 'unplugged' ? nowMs - 14_000 : Math.floor(nowMs / 1000) * 1000 - 0,
  });
  const info = (): RunInfo => ({
    runId: RUN,
    phase: scene === 'unplugged' ? 'lost' : scene === 'learning' ? 'learning' : 'running',
    source:
      scene === 'simulated' || scene === 'purge'
        ? { kind: 'simulated', scenario: 'tune-up', title: 'tune-up', seed: 1, shape: 'columns' }
        : scene === 'typed'
          ? { kind: 'typed' }
          : { kind: 'serial', path: '/dev/ttyUSB1', label: 'USB serial 2', settings: SerialSettings.parse({}) },
    startWallMs: START_WALL,
    zoneMinutes: 60,
    timeMs: nowMs,
    ...(scene === 'learning' ? {} : { recipeName: 'comma columns', recipeConfidence: 0.98 }),
    ...(scene === 'notice'
      ? {
          question: {
            columns: [
              {
                at: 4,
                name: 'T2',
                unitText: 'degC',
                examples: ['21.2', '21.3', '21.2'],
                taken: 'airTemperature',
                unit: 'C',
                sureness: 'look',
                evidence: [{ channel: 'airTemperature', side: 'open', kind: 'name', strength: 2, key: 'place-unknown' }],
              },
            ],
            hidden: 0,
          },
        }
      : {}),
    fuelId: 'no2',
    setting: {
      stage: '1',
      positions: [
        { name: 'Shutter', value: settingAt(turns, nowMs).shutter },
        { name: 'Band', value: 3 },
      ],
    },
    channels: scene === 'learning' ? [] : [...settlingChannels],
    counters: counters(),
    ...(scene === 'unplugged' ? { problem: problem('port-lost'), lostSinceMs: nowMs - 14_000 } : {}),
    ...(scene === 'simulated' || scene === 'purge'
      ? {
          simulator: {
            firing: true,
            adjusters: [
              { name: 'Shutter', min: 0, max: 10, step: 0.25, value: settingAt(turns, nowMs).shutter },
              { name: 'Band', min: 0, max: 10, step: 0.5, value: 3 },
            ],
          },
        }
      : {}),
    marks,
  });

  const states = (): ChannelState[] => {
    if (scene === 'learning' || scene === 'typed') return [];
    const all = settlingChannels.map((channel) => stateAt(channel, turns, nowMs));
    if (scene !== 'states') return all;
    return all.map((state): ChannelState => {
      if (state.channel === 'o2') return { ...state, state: 'suspect', value: 24.6, reason: 'impossible' };
      if (state.channel === 'co') return { ...state, state: 'absent', value: undefined, reason: 'over-range', sinceMs: nowMs - 40_000 };
      if (state.channel === 'airTemperature')
        return { ...state, state: 'moving', direction: -1, value: -20.5, headingFor: undefined, forecast: undefined };
      return { ...state, headingFor: state.headingFor };
    });
  };

  const readings = (): Reading[] =>
    turns.slice(0, -1).map((turn, index): Reading => {
      const next = turns[index + 1] as FakeTurn;
      const toMs = next.atMs - 3000;
      return reading(`reading-${index + 1}`, turns, toMs - 50_000, toMs, index === 0 ? 'full' : 'gas', true);
    });
  const openReading = (): Reading | undefined => {
    if (scene === 'states' || scene === 'unplugged' || scene === 'learning' || scene === 'purge' || scene === 'typed') return undefined;
    const turn = settingAt(turns, nowMs);
    const since = settlingChannels.map((channel) => settledFrom(channel, turns, turn, nowMs));
    const gas = Math.max(since[0] ?? Infinity, since[1] ?? Infinity);
    const full = Math.max(gas, since[2] ?? Infinity);
    if (full + 10_000 <= nowMs) return reading('open', turns, full, nowMs, 'full', false);
    return gas + 10_000 <= nowMs ? reading('open', turns, gas, nowMs, 'gas', false) : undefined;
  };

  const batch = (fromMs: number, first: boolean): LiveBatch => {
    const untilMs = scene === 'unplugged' ? nowMs - 14_000 : nowMs;
    const samples = [];
    if (scene !== 'learning' && scene !== 'typed')
      for (let time = Math.ceil((fromMs + 1) / 1000) * 1000; time <= untilMs; time += 1000) samples.push(sampleAt(turns, time));
    return {
      runId: RUN,
      timeMs: nowMs,
      samples,
      droppedCount: 0,
      states: states(),
      readings: first ? readings() : [],
      marks: first ? marks : [],
      edits: [],
      derived: scene === 'unplugged' || scene === 'learning' || scene === 'typed' ? undefined : derived(scene === 'states', nowMs),
      openReading: openReading(),
      gaps: scene === 'unplugged' ? [{ fromMs: nowMs - 14_000, reason: 'unplugged' as const }] : [],
      excluded:
        scene === 'purge'
          ? [
              { fromMs: nowMs - 20_000, reason: 'fresh-air' },
              { fromMs: 21 * MINUTE, toMs: 21 * MINUTE + 35_000, reason: 'fresh-air' },
            ]
          : [],
      settled: settledSpans(turns, untilMs),
      counters: counters(),
    };
  };

  const handlers: { [K in CommandName]?: (input: Input<K>) => Output<K> } = {
    'session.hello': () => ({
      host: 'memory',
      version: '0.1.0',
      platform: 'linux',
      dataFolder: '/home/tech/.local/share/flueside',
      role: 'operator',
      otherWindows: 0,
      settings,
      runs: running ? [info()] : [],
      alarms: [],
      interrupted:
        scene === 'interrupted'
          ? [
              {
                runId: 'run-0',
                header: {
                  format: 'flueside-run',
                  version: 1,
                  runId: 'run-0',
                  startWallMs: START_WALL,
                  zoneMinutes: 60,
                  source: { kind: 'serial', path: '/dev/ttyUSB1', label: 'USB serial 2', settings: SerialSettings.parse({}) },
                  fuelId: 'no2',
                  appVersion: '0.1.0',
                },
                durationMs: 1_200_000,
                lines: 1204,
                bytes: 38_000,
                ended: false,
                damaged: false,
              },
            ]
          : [],
      problems: scene === 'notice' ? [] : [],
    }),
    'settings.change': ({ patch }) => (settings = Settings.parse(patched(settings, patch))),
    'source.list': () => ({
      ports:
        scene === 'empty'
          ? []
          : [
              { path: '/dev/ttyUSB1', label: 'USB serial 2', maker: 'serial adapter', device: {}, inUseByRun: RUN },
              { path: '/dev/ttyUSB0', label: 'USB serial 1', maker: 'serial adapter', device: {} },
            ],
      scenarios: [
        { name: 'tune-up', title: 'Tune-up', about: 'a healthy burner left with too much air' },
        { name: 'cold-start', title: 'Cold start', about: 'warming up from a cold chamber' },
      ],
      shapes: ['columns', 'keyed'],
      runs: [],
      recipes: ['comma columns'],
    }),
    'run.history': () => ({ fromMs: 0, toMs: 0, series: [], marks: [], readings: [], gaps: [], excluded: [], settled: [] }),
    'run.start': () => {
      running = true;
      return info();
    },
    'run.end': () => ({}),
    'run.mark': ({ body, timeMs }) => {
      const mark: Mark = { id: `mark-${marks.length + 10}`, timeMs: timeMs ?? nowMs, body };
      marks = [...marks, mark];
      if (body.kind === 'adjustment')
        turns.push({ atMs: mark.timeMs, shutter: body.setting.positions.find(({ name }) => name === 'Shutter')?.value ?? 5, band: 3 });
      return mark;
    },
    'run.editMark': ({ edit }) => {
      marks = marks.filter(({ id }) => id !== edit.markId);
      return {};
    },
    'run.takeReading': () => openReading() ?? reading('by-hand', turns, nowMs - 10_000, nowMs, 'full', true, false),
    'run.typeValues': () => ({}),
    'run.lines': ({ watch }) => ({
      lines: watch ? Array.from({ length: 14 }, (_, index) => lineOf(turns, nowMs - (14 - index) * 1000, index)) : [],
    }),
    'run.export': () => ({ fileName: 'run.txt', download: 'token' }),
    'simulator.look': () => ({
      smoke: [
        { number: 0.5, oilTrace: false },
        { number: 0, oilTrace: false },
        { number: 0.5, oilTrace: false },
      ],
      overFirePa: -4,
      breechPa: -10,
    }),
    'run.change': () => info(),
    'problem.dismiss': () => ({}),
  };

  const tick = (ms: number): void => {
    nowMs += ms;
    if (!running) return;
    publish('live.batch', batch(sentMs, sentMs === 0));
    sentMs = Math.floor(nowMs / 1000) * 1000;
  };
  const transport: Transport = {
    send(message) {
      const { id, name, input } = message as { id: number; name: CommandName; input: unknown };
      calls.push({ name, input });
      const checked = commands[name].input.safeParse(input);
      const handler = handlers[name] as ((input: unknown) => unknown) | undefined;
      const result = !checked.success
        ? { ok: false, error: problem('request-invalid') }
        : handler === undefined
          ? { ok: false, error: problem('internal', `${name} is not in the fake`) }
          : { ok: true, value: handler(checked.data) };
      queueMicrotask(() => {
        send({ type: 'reply', id, result });
        if (name === 'run.history' || name === 'run.start') tick(0);
      });
    },
    onMessage(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
  const timer = options.live === true ? setInterval(() => tick(100), 100) : undefined;
  return { transport, tick, calls, stop: () => clearInterval(timer), cut: () => publish('wire.closed', { reason: 'test' }) };
}
