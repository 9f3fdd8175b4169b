/** The one main button: what it does now. Pure. */
import { live } from '../../../../shared/words/tune/live.ts';
import { source } from '../../../../shared/words/source.ts';
import { wayOutWords } from '../../../../shared/words/tune/way-out.ts';
import { flueCoAlarms, selectAlarms, type AlarmFacts } from '../../../state/co-alerts.ts';
import { isAlarming } from '../../../../shared/tuning/advice/alarm-level.ts';
import { isSilent } from '../../../state/channels.ts';
import { asksForDraft, readinessOf, smokeIsTyped, takenNow, type RunningTrial } from '../../../state/readiness.ts';
import { visitWords } from '../../../../shared/words/visit/visit-thread.ts';
import { probeWords } from '../../../../shared/words/tune/probe.ts';
import type { ProbeGate } from '../../../../shared/tuning/trial/probe-gate.ts';
import type { RunRecord } from '../../../state/run-record.ts';

export type MainDeed = {
  does: 'take' | 'draft' | 'smoke' | 'source' | 'values' | 'air' | 'room' | 'probe' | 'side';
  text: string;
  under: string | undefined;
  key: 'main' | 'source';
  off?: true;
};

/** Which alarm the person has to be led out of, the gravest first. */
export type StandingAlarm = 'room' | 'flue' | undefined;
export const standingAlarmOf = (state: AlarmFacts): StandingAlarm =>
  state.visit !== undefined &&
  selectAlarms(state).some(
    (alarm) => alarm.key === 'room-co' && (alarm.visitId ?? state.visit?.id) === state.visit?.id && isAlarming(alarm),
  )
    ? 'room'
    : flueCoAlarms(state)
      ? 'flue'
      : undefined;

export type VisitDeeds = { probe?: ProbeGate | undefined; isFound?: boolean; trial?: RunningTrial | undefined };

/**
 * @param alarm an alarm that holds: the main button is then the way out of it, and nothing else
 * @param visit its trial that goes on; the smoke spot before the probe goes in comes before any reading; an as-found that stands is looked at
 */
export function mainDeedOf(record: RunRecord, alarm?: StandingAlarm, { probe, isFound, trial }: VisitDeeds = {}): MainDeed {
  if (alarm === 'room') return { does: 'room', text: wayOutWords.roomAgain, under: undefined, key: 'main' };
  const { phase } = record.info;
  if (phase === 'lost' || phase === 'ended' || isSilent(record)) {
    const isPort = phase !== 'ended' && record.info.source.kind === 'serial';
    return { does: 'source', text: isPort ? source.pickPort : source.pickSource, under: undefined, key: 'source' };
  }
  if (phase !== 'running') return { does: 'take', text: live.take.hand, under: live.take.byHand, key: 'main', off: true };
  if (alarm === 'flue') return { does: 'air', text: live.take.air, under: undefined, key: 'main' };
  if (probe !== undefined && probe.state !== 'open')
    return { does: 'probe', text: probe.state === 'needed' ? probeWords.type : probeWords.another, under: undefined, key: 'main' };
  if (asksForDraft(record, trial)) return { does: 'draft', text: live.take.draft, under: undefined, key: 'main' };
  const ready = readinessOf(record, trial);
  const taken = takenNow(record, trial);
  const isTyped = record.info.source.kind === 'typed';
  if (taken !== undefined) {
    if (!smokeIsTyped(record, trial)) return { does: 'smoke', text: live.take.smoke, under: undefined, key: 'main' };
    if (isFound === true) return { does: 'side', text: visitWords.foundLook, under: undefined, key: 'main' };
    return isTyped
      ? { does: 'values', text: live.take.values, under: live.take.typedAgain, key: 'main' }
      : { does: 'take', text: live.take.again, under: live.take.byHand, key: 'main' };
  }
  if (ready === 'full') return { does: 'take', text: live.take.full, under: undefined, key: 'main' };
  if (ready === 'gas') return { does: 'take', text: live.take.gas, under: undefined, key: 'main' };
  if (isTyped) return { does: 'values', text: live.take.values, under: undefined, key: 'main' };
  return { does: 'take', text: live.take.hand, under: live.take.byHand, key: 'main' };
}

/** The bar's edge turns to the accent when there is something good to take. */
export const isReadyToTake = (record: RunRecord, alarm?: StandingAlarm, { probe, trial }: VisitDeeds = {}): boolean =>
  alarm === undefined &&
  !isSilent(record) &&
  (probe === undefined || probe.state === 'open') &&
  readinessOf(record, trial) !== 'none' &&
  takenNow(record, trial) === undefined;
