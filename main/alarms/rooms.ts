/** Which rooms the alarms know: those of open visits, read from the records. */
import type { Records } from '../store/records.ts';
import type { AlarmService } from './alarm-service.ts';

/** open visits whose rooms are known at the start; there is seldom more than one */
const OPEN_VISITS = 40;

type Rooms = {
  /** At the start: what is known of a room outlives a restart of the host. */
  readAll(): Promise<void>;
  /** After records changed: of a visit that was removed or exchanged nothing stays. */
  lookAgain(): Promise<void>;
};

export function createRooms(records: Pick<Records, 'use'>, alarms: Pick<AlarmService, 'visits' | 'visitStored' | 'visitRemoved'>): Rooms {
  return {
    async readAll() {
      const listed = await records.use(({ visits }) => visits.list({ limit: OPEN_VISITS }));
      if (!listed.ok) return;
      for (const { id, status } of listed.value.visits) {
        const got = status === 'open' ? await records.use(({ visits }) => visits.get(id)) : undefined;
        if (got?.ok === true) alarms.visitStored(got.value.visit);
      }
    },
    async lookAgain() {
      for (const id of alarms.visits()) {
        const got = await records.use(({ visits }) => visits.get(id));
        if (got.ok) alarms.visitStored(got.value.visit);
        else if (got.error.code === 'not-found') alarms.visitRemoved(id);
      }
    },
  };
}
