/** What a window may do with stored visits: list, begin, edit, sign, close, remove. */
import { z } from 'zod';
import type { Instrument } from '../../shared/bench/instrument.ts';
import { isOilFuel } from '../../shared/combustion/fuel.ts';
import type { Clock } from '../../shared/clock.ts';
import type { Caller, Handlers, Payload } from '../../shared/ipc/contract.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import type { StoredVisit } from '../../shared/ipc/store-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { Adjuster } from '../../shared/tuning/trial/adjuster.ts';
import { applianceSignedOf } from '../../shared/tuning/visit/appliance.ts';
import { signVisit } from '../../shared/tuning/visit/sign-visit.ts';
import { editVisit, type InstrumentSigned, type Visit } from '../../shared/tuning/visit/visit.ts';
import { photosGoing } from '../photos/photo-files.ts';
import { attempt } from './attempt.ts';
import { instrumentOf, type StoreTables } from './tables.ts';
import { visitHash } from './visits.ts';
import { defined } from '../../shared/defined.ts';

type VisitCommands = 'visit.list' | 'visit.create' | 'visit.get' | 'visit.edit' | 'visit.sign' | 'visit.close' | 'visit.remove';
type Work = <T>(work: (open: StoreTables) => Result<T, Problem>) => Promise<Result<T, Problem>>;
export type VisitCommandParts = {
  readonly clock: Clock;
  readonly settings: () => Settings;
  readonly newId: () => string;
  readonly hashRun: (runId: string) => Promise<string | undefined>;
  readonly publish: (name: 'records.changed', payload: Payload<'records.changed'>) => void;
  readonly withTables: Work;
  /** for what has to be gone from the file afterwards */
  readonly erasing: Work;
  /** tells the windows, and hands the answer on */
  readonly changedVisit: (result: Result<StoredVisit, Problem>) => Result<StoredVisit, Problem>;
  readonly operator: () => string;
  readonly dataFolder: string;
};

/** A date that no calendar has is left out: it could not be compared with the day of the visit. */
const instrumentSignedOf = ({ name, serial, certificateUntil }: Instrument): InstrumentSigned => ({
  name,
  ...defined({ serial, certificateUntil: z.iso.date().safeParse(certificateUntil).data }),
});

/** who a change is by, where the visit says who works at it */
export const authorOf = (visit: Visit): string | undefined => visit.people.find((person) => person.role === 'technician')?.name;

export function visitCommands(parts: VisitCommandParts): Pick<Handlers, VisitCommands> {
  const { clock, settings, newId, hashRun, publish, withTables, erasing, changedVisit, operator, dataFolder } = parts;
  const author = (_caller: Caller, visit: Visit): string => authorOf(visit) ?? operator();
  return {
    'visit.list': (query) => withTables(({ visits }) => visits.list(query)),
    'visit.create': ({ kind, applianceId, fuelId }) =>
      withTables(({ visits, appliances }) => {
        const appliance = applianceId === undefined ? undefined : appliances.get(applianceId);
        if (appliance !== undefined && !appliance.ok) return appliance;
        const { units, adjusters, technician, fuelId: usualFuel } = settings();
        // a visit is at an oil burner: a gas that is usual elsewhere is not taken over
        const fuel = [fuelId, appliance?.value.appliance.fuelId, usualFuel].find(isOilFuel);
        const created = visits.create({
          id: newId(),
          kind,
          startedWallMs: clock.wallMs(),
          zoneMinutes: clock.zoneMinutes(),
          unitPreset: units,
          adjusters: adjusters.map(({ coarse, ...rest }) => Adjuster.parse({ ...rest, role: coarse ? 'coarse' : 'fine' })),
          ...defined({ fuelId: fuel, applianceId }),
        });
        if (!created.ok || technician.name === '') return changedVisit(created);
        const person = {
          role: 'technician' as const,
          name: technician.name,
          ...(technician.licence === '' ? {} : { licence: technician.licence }),
        };
        return changedVisit(visits.change(created.value.visit.id, clock.wallMs(), (visit) => ok({ ...visit, people: [person] })));
      }),
    'visit.get': ({ id }) => withTables(({ visits }) => visits.get(id)),
    'visit.edit': ({ id, changes, reason }, caller) =>
      withTables(({ visits }) =>
        changedVisit(
          visits.change(id, clock.wallMs(), (visit) => {
            let changed = visit;
            for (const { path, after } of changes) {
              const edited = editVisit(changed, {
                wallMs: clock.wallMs(),
                by: author(caller, visit),
                path,
                ...defined({ after, reason }),
              });
              if (!edited.ok) return edited;
              changed = edited.value;
            }
            return ok(changed);
          }),
        ),
      ),
    'visit.sign': async ({ id, name }) => {
      const hashes = await withTables(({ visits }) => visits.get(id));
      if (!hashes.ok) return hashes;
      const runHashes = new Map<string, string>();
      for (const run of hashes.value.visit.runs) {
        const hash = await hashRun(run.id);
        if (hash !== undefined) runHashes.set(run.id, hash);
      }
      return withTables(({ visits, appliances, documents }) =>
        changedVisit(
          visits.change(id, clock.wallMs(), (visit) => {
            const runs = visit.runs.map((run) => (runHashes.has(run.id) ? { ...run, hash: runHashes.get(run.id) } : run));
            const instrument = instrumentOf(documents, visit)?.instrument;
            const unit = visit.applianceId === undefined ? undefined : appliances.get(visit.applianceId);
            const ready = {
              ...visit,
              runs,
              endedWallMs: visit.endedWallMs ?? clock.wallMs(),
              ...defined({
                instrumentSigned: instrument && instrumentSignedOf(instrument),
                applianceSigned: unit?.ok === true ? applianceSignedOf(unit.value.appliance) : undefined,
              }),
            };
            const signed = signVisit(
              ready,
              { name, wallMs: clock.wallMs(), hash: visitHash(ready) },
              { ...(unit?.ok === true && { appliance: unit.value.appliance }), certificateUntil: instrument?.certificateUntil },
            );
            if (signed.ok) return signed;
            const { key } = signed.error;
            if (key === 'bypass-open') return err(problem('bypass-open', signed.error.what));
            if (key === 'not-safe') return err(problem('visit-not-safe'));
            return err(problem(key === 'signed' ? 'visit-signed' : 'visit-not-signable'));
          }),
        ),
      );
    },
    'visit.close': ({ id }) =>
      withTables(({ visits }) =>
        changedVisit(
          visits.change(id, clock.wallMs(), (visit) => {
            if (visit.signature !== undefined) return err(problem('visit-signed'));
            const open = visit.bypasses.find((bypass) => bypass.closedWallMs === undefined);
            if (open !== undefined) return err(problem('bypass-open', open.what));
            return ok({ ...visit, kind: 'training' as const, endedWallMs: visit.endedWallMs ?? clock.wallMs() });
          }),
        ),
      ),
    'visit.remove': ({ id }) =>
      erasing(({ visits }) => {
        const stored = visits.get(id);
        if (!stored.ok) return stored;
        // a signed record is evidence; its retention is for the law to say
        if (stored.value.visit.signature !== undefined) return err(problem('visit-signed'));
        const photos = attempt(() => photosGoing(dataFolder, stored.value.visit));
        if (!photos.ok) return photos;
        const removed = visits.remove(id);
        if (removed.ok) photos.value.gone();
        else photos.value.back();
        if (removed.ok) publish('records.changed', { what: 'visits' });
        return removed.ok ? ok({}) : removed;
      }),
  };
}
