/** What the visits in the host are made of, and what they answer. */
import type { Clock } from '../../shared/clock.ts';
import type { Caller, Handlers, Payload } from '../../shared/ipc/contract.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import type { StoredVisit } from '../../shared/ipc/store-commands.ts';
import type { visitCommands, visitEvents } from '../../shared/ipc/visit-commands.ts';
import type { Problem } from '../../shared/problem.ts';
import type { Alarm } from '../../shared/tuning/advice/alarms.ts';
import type { RunNews } from '../runs/live/live-run-parts.ts';
import type { RunService } from '../runs/run-service.ts';
import type { Records, StoreEventName } from '../store/records.ts';

type VisitEventName = keyof typeof visitEvents;
type Wrapped = 'visit.edit' | 'visit.sign' | 'visit.close' | 'visit.remove';
export type VisitHandlers = Pick<Handlers, keyof typeof visitCommands | Wrapped>;

export type VisitServiceParts = {
  readonly clock: Clock;
  readonly settings: () => Settings;
  readonly records: Pick<Records, 'use'> & { readonly handlers: Pick<Handlers, Wrapped | 'visit.create'> };
  readonly runs: Pick<RunService, 'runs' | 'look' | 'setGeometry'> & {
    readonly handlers: Pick<Handlers, 'run.mark' | 'run.editMark' | 'run.change'>;
  };
  /** what is measured now, and endangers people */
  readonly alarms: () => readonly Alarm[];
  readonly publish: <K extends VisitEventName | StoreEventName>(name: K, payload: Payload<K>) => void;
  /** an alarm that stays until it is cleared */
  readonly raise: (key: string, what: Problem) => void;
  readonly clear: (key: string) => void;
  /** the time of who looks on, so that nothing is done more often than it helps where `clock` goes faster */
  readonly windowClock: Clock;
};

export interface VisitService {
  readonly handlers: VisitHandlers;
  /** why a mark is not taken: it names a trial, and would come to another one */
  markRefusal(mark: { runId: string; timeMs?: number | undefined; trialId?: string | undefined }): Problem | undefined;
  told(runId: string, news: RunNews): void;
  /** a visit was written, by whomever */
  stored(stored: StoredVisit): void;
  /** earlier visits came from elsewhere */
  earlierCame(): void;
  /** the records were exchanged as a whole */
  recordsExchanged(): Promise<void>;
  settingsChanged(before: Settings): Promise<void>;
  /** writes what is still to be written */
  close(): Promise<void>;
}

/** The host itself, where a command follows from no person. */
export const byHost: Caller = { clientId: 'host', role: 'operator' };
