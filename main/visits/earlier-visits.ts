/** What was found at an appliance before: read once per visit, not with every look. */
import { ok } from '../../shared/result.ts';
import { withCorrections, type Visit } from '../../shared/tuning/visit/visit.ts';
import type { Records } from '../store/records.ts';

/** earlier visits that are looked at, newest first */
const MOST = 5;

/** @returns what is known now; what is not known yet is there at a later call */
export function createEarlierVisits(records: Pick<Records, 'use'>): (visit: Visit | undefined) => readonly Visit[] {
  let known: { key: string; visits: readonly Visit[] } = { key: '', visits: [] };
  return (visit) => {
    const { id, applianceId } = visit ?? {};
    if (applianceId === undefined) return [];
    const key = `${applianceId}|${id}`;
    if (known.key === key) return known.visits;
    known = { key, visits: [] };
    void records
      .use(({ visits }) => {
        const list = visits.list({ applianceId, limit: MOST + 1 });
        if (!list.ok) return list;
        const finished = list.value.visits.filter((one) => one.id !== id && one.status !== 'open').slice(0, MOST);
        return ok(
          finished.flatMap((one) => {
            const got = visits.get(one.id);
            return got.ok ? [withCorrections(got.value.visit)] : [];
          }),
        );
      })
      .then((found) => {
        if (found.ok && known.key === key) known = { key, visits: found.value };
      });
    return known.visits;
  };
}
