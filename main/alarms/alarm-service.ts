/** Watches CO in every run and in the room of every open visit, and tells all windows. It needs no window itself. */
import { practiceScenarios } from '../../shared/bench/practice-scenarios.ts';
import { fuelOfRun } from '../../shared/combustion/co2-max.ts';
import { fuels } from '../../shared/combustion/fuel.ts';
import type { Payload } from '../../shared/ipc/contract.ts';
import type { RunInfo } from '../../shared/ipc/run-info.ts';
import type { SettlingChannel } from '../../shared/measurement/channel.ts';
import type { StateReason } from '../../shared/measurement/state.ts';
import { flueCoAlarm, measuredRoomCo, roomCoAlarm, type Alarm, type RoomCoAlarm } from '../../shared/tuning/advice/alarms.ts';
import { noAirBreathed, watchAir, type BreathedAir, type Breathed } from '../../shared/tuning/advice/breathed-air.ts';
import { flueCoDefaults, type FlueCoLimits } from '../../shared/tuning/advice/cautions.ts';
import { newFlueCoWatch, watchFlueCo, type FlueCoEvent, type FlueCoWatch } from '../../shared/tuning/advice/flue-co-watch.ts';
import type { Visit } from '../../shared/tuning/visit/visit.ts';
import type { RunNews } from '../runs/live/live-run-parts.ts';

export interface AlarmService {
  /** as they are now: for a window that has just opened, and for whoever advises */
  now(): readonly Alarm[];
  told(runId: string, news: RunNews): void;
  /** a visit was written, by whomever */
  visitStored(visit: Visit): void;
  visitRemoved(visitId: string): void;
  /** those of which something is known here */
  visits(): readonly string[];
}

type WatchedRun = {
  watch: FlueCoWatch;
  info: RunInfo | undefined;
  /** why the detector does not take a channel for flue gas */
  readonly reasons: Map<SettlingChannel, StateReason | undefined>;
  isSilent: boolean;
  /** as the instrument's own meter of the room says; a silence does not air a room */
  room: RoomCoAlarm | undefined;
  /** as its probe says while it breathes air */
  air: BreathedAir;
  isOnBench: boolean;
};

/** The instrument breathes something else, or says that it does not measure. What is stuck or diluted still counts: it hides more than it shows. */
function breathedBy(reason: StateReason | undefined, state: string | undefined): Breathed {
  if (reason === 'zeroing' || reason === 'warming-up' || reason === 'not-measuring') return 'nothing';
  if (state === 'zeroing' || state === 'warming-up') return 'nothing';
  return reason === 'fresh-air' || reason === 'probe-out' || state === 'purge' ? 'air' : 'flue-gas';
}
/** The one with more CO, where the room's meter and the probe both say so. */
const worse = (a: RoomCoAlarm | undefined, b: RoomCoAlarm | undefined): RoomCoAlarm | undefined =>
  a === undefined || (b !== undefined && b.ppm > a.ppm) ? b : a;

/** Gas from a bottle on the practice bench is no flue. */
const isInstrumentAlone = (info: RunInfo | undefined): boolean =>
  info?.source.kind === 'simulated' && (practiceScenarios as readonly string[]).includes(info.source.scenario);

export function createAlarmService(parts: {
  readonly runInfo: (runId: string) => RunInfo | undefined;
  /** an instrument test reads this run */
  readonly isOnBench: (runId: string) => boolean;
  readonly publish: (name: 'alarms.changed', payload: Payload<'alarms.changed'>) => void;
}): AlarmService {
  const runs = new Map<string, WatchedRun>();
  const rooms = new Map<string, Alarm>();
  const limits = new Map<string, FlueCoLimits>();
  /** runs that a visit took in after they had started */
  const visitOfRun = new Map<string, string>();
  /** how many readings of its room a visit has */
  const readings = new Map<string, number>();
  let told = '[]';
  let toldLevels = '';

  const now = (): readonly Alarm[] => [
    ...rooms.values(),
    ...[...runs.values()].flatMap(({ room, air }) => worse(room, air.alarm) ?? []),
    ...[...runs].map(([runId, { watch }]) => flueCoAlarm(runId, watch)).filter((alarm) => alarm !== undefined),
  ];
  const tell = (): void => {
    const alarms = now();
    const text = JSON.stringify(alarms);
    if (text === told) return;
    told = text;
    toldLevels = levels();
    parts.publish('alarms.changed', { alarms: [...alarms] });
  };
  const levels = (): string =>
    JSON.stringify([
      ...rooms.values(),
      ...[...runs].map(([runId, { watch, room, air }]) => [runId, watch.level, worse(room, air.alarm)?.level]),
    ]);

  const limitsOf = (runId: string, info: RunInfo | undefined): FlueCoLimits =>
    limits.get(visitOfRun.get(runId) ?? info?.visitId ?? '') ?? flueCoDefaults;
  const of = (runId: string): WatchedRun => {
    const known = runs.get(runId);
    if (known !== undefined) return known;
    const fresh: WatchedRun = {
      watch: newFlueCoWatch,
      info: parts.runInfo(runId),
      reasons: new Map(),
      isSilent: false,
      room: undefined,
      air: noAirBreathed,
      isOnBench: false,
    };
    runs.set(runId, fresh);
    return fresh;
  };
  const push = (run: WatchedRun, event: FlueCoEvent): void => void (run.watch = watchFlueCo(run.watch, event));

  const service: AlarmService = {
    now,
    told(runId, news) {
      const run = of(runId);
      if (isInstrumentAlone(run.info)) return;
      // a bench test reads gas from a bottle, the meter of the room does not; what is replayed says nothing of the room now
      if (news.kind === 'sample' && run.info?.source.kind !== 'replay') {
        run.room = measuredRoomCo(runId, news.sample, run.room);
        if (run.isOnBench && levels() !== toldLevels) tell();
      }
      // a bottle's gas is no flue gas, except where a visit takes the run for one
      const isOnBench = visitOfRun.get(runId) === undefined && run.info?.visitId === undefined && parts.isOnBench(runId);
      if (isOnBench !== run.isOnBench) {
        run.isOnBench = isOnBench;
        run.watch = newFlueCoWatch;
        run.air = noAirBreathed;
        tell();
      }
      if (isOnBench) {
        if (news.kind === 'changed') run.info = parts.runInfo(runId);
        if (news.kind === 'changed' && (run.info === undefined || run.info.phase === 'ended')) runs.delete(runId);
        return;
      }
      switch (news.kind) {
        case 'sample': {
          const { sample } = news;
          run.isSilent = false;
          const reason = run.reasons.get('co') ?? run.reasons.get('o2');
          const breathed = breathedBy(reason, sample.state);
          const { kind } = run.info?.source ?? {};
          if (kind !== 'replay' && kind !== 'typed') run.air = watchAir(run.air, runId, sample, breathed);
          push(run, {
            kind: 'line',
            sample,
            fuel: fuelOfRun(run.info ?? { fuelId: '' }) ?? fuels.no2,
            limits: limitsOf(runId, run.info),
            isAir: breathed !== 'flue-gas',
            isTyped: run.info?.source.kind === 'typed',
          });
          // another level is told with the line that brings it; a figure that moves, with the next batch
          if (levels() !== toldLevels) tell();
          return;
        }
        case 'states':
          for (const { channel, reason, state } of news.states) {
            // a silence says nothing about what the probe breathes
            if (state === 'silent') run.isSilent = true;
            else run.reasons.set(channel, reason);
          }
          if (run.isSilent) push(run, { kind: 'not-measured' });
          return tell();
        case 'batch':
          return tell();
        case 'restarted':
        case 'resumed':
          run.reasons.clear();
          run.room = undefined;
          run.air = noAirBreathed;
          push(run, { kind: 'broken' });
          return tell();
        case 'changed': {
          run.info = parts.runInfo(runId);
          const { phase } = run.info ?? {};
          if (phase !== 'running' && phase !== 'paused' && phase !== 'learning') push(run, { kind: 'not-measured' });
          if (phase === 'lost') {
            push(run, { kind: 'broken' });
            run.room = undefined;
            run.air = noAirBreathed;
          }
          if (phase === 'ended' || run.info === undefined) runs.delete(runId);
          return tell();
        }
        case 'mark':
        case 'edit':
        case 'reading':
          return;
      }
    },
    visitStored(visit) {
      if (visit.signature !== undefined || visit.endedWallMs !== undefined) return service.visitRemoved(visit.id);
      if (visit.flueCoLimits === undefined) limits.delete(visit.id);
      else limits.set(visit.id, visit.flueCoLimits);
      // the room was read anew: what the probe said of it earlier is over. A probe that still breathes it says so again with its next line
      const isReadAgain = visit.roomCo.length > (readings.get(visit.id) ?? visit.roomCo.length);
      readings.set(visit.id, visit.roomCo.length);
      for (const { id } of visit.runs) {
        visitOfRun.set(id, visit.id);
        const run = runs.get(id);
        if (isReadAgain && run !== undefined) run.air = { ...run.air, alarm: undefined };
      }
      const room = roomCoAlarm(visit.id, visit.roomCo);
      if (room === undefined) rooms.delete(visit.id);
      else rooms.set(visit.id, room);
      tell();
    },
    visitRemoved(visitId) {
      rooms.delete(visitId);
      limits.delete(visitId);
      readings.delete(visitId);
      for (const [runId, id] of visitOfRun) if (id === visitId) visitOfRun.delete(runId);
      tell();
    },
    visits: () => [...new Set([...rooms.keys(), ...limits.keys()])],
  };
  return service;
}
