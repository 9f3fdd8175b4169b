/** Photos of visits, behind the contract. */
import type { Clock } from '../../shared/clock.ts';
import { PHOTO, type Photo } from '../../shared/geometry/photo.ts';
import type { Handlers } from '../../shared/ipc/contract.ts';
import type { photoCommands } from '../../shared/ipc/photo-commands.ts';
import type { StoredVisit } from '../../shared/ipc/store-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { editVisit, type Visit } from '../../shared/tuning/visit/visit.ts';
import { isFinished } from '../../shared/tuning/visit/visit-marks.ts';
import { problemOf } from '../store/attempt.ts';
import type { StoreTables } from '../store/tables.ts';
import { removeQuietly } from '../store/work-folder.ts';
import { loadPhoto, photosOf, photoUrl, placePhoto, readPhoto, removePhoto } from './photo-files.ts';
import { defined } from '../../shared/defined.ts';

export type PhotoHandlers = Pick<Handlers, keyof typeof photoCommands>;
export type PhotoParts = {
  readonly clock: Clock;
  readonly dataFolder: string;
  readonly takeUpload: (token: string) => { readonly path: string } | undefined;
  readonly author: (visit: Visit) => string;
  readonly withTables: <T>(work: (open: StoreTables) => Result<T, Problem>) => Promise<Result<T, Problem>>;
  /** tells the windows, and hands the answer on */
  readonly changedVisit: (result: Result<StoredVisit, Problem>) => Result<StoredVisit, Problem>;
};

const path = ['setUp', 'geometry', 'photoFiles'];
/** one that was signed or closed takes no photo more, and loses none */
const refusal = (visit: Visit): Problem | undefined =>
  visit.signature !== undefined ? problem('visit-signed') : isFinished(visit) ? problem('visit-finished') : undefined;

export function photoHandlers({ clock, dataFolder, takeUpload, author, withTables, changedVisit }: PhotoParts): PhotoHandlers {
  const change = (tables: StoreTables, id: string, work: (photos: readonly Photo[]) => Result<readonly Photo[], Problem>) =>
    tables.visits.change(id, clock.wallMs(), (visit) => {
      const refused = refusal(visit);
      if (refused !== undefined) return err(refused);
      const photos = work(photosOf(visit));
      if (!photos.ok) return photos;
      const after = photos.value.length === 0 ? undefined : photos.value.map((one) => ({ ...one }));
      return editVisit(visit, { wallMs: clock.wallMs(), by: author(visit), path, ...defined({ after }) });
    });

  return {
    async 'photo.attach'({ id, upload, name }) {
      const file = takeUpload(upload);
      if (file === undefined) return err(problem('file-not-found'));
      try {
        const read = readPhoto(file.path);
        if (!read.ok) return read;
        const { bytes, facts } = read.value;
        const photo: Photo = { ...facts, name, wallMs: clock.wallMs() };
        return await withTables((tables) => {
          const stored = tables.visits.get(id);
          if (!stored.ok) return stored;
          const here = photosOf(stored.value.visit);
          // pressed twice, or chosen twice: it is there already
          if (here.some(({ sha256 }) => sha256 === photo.sha256)) return stored;
          const refused = refusal(stored.value.visit);
          if (refused !== undefined) return err(refused);
          if (here.length >= PHOTO.most) return err(problem('photo-too-many'));
          const placed = placePhoto(dataFolder, id, photo, bytes);
          if (!placed.ok) return placed;
          const changed = change(tables, id, (photos) => ok([...photos, photo]));
          if (!changed.ok) removePhoto(dataFolder, id, photo);
          return changedVisit(changed);
        });
      } catch (failure) {
        const known = problemOf(failure);
        if (known === undefined) throw failure;
        return err(known);
      } finally {
        removeQuietly(file.path);
      }
    },
    'photo.remove': ({ id, sha256 }) =>
      withTables((tables) => {
        let gone: Photo | undefined;
        const changed = change(tables, id, (photos) => {
          gone = photos.find((photo) => photo.sha256 === sha256);
          return gone === undefined ? err(problem('not-found')) : ok(photos.filter((photo) => photo !== gone));
        });
        if (changed.ok && gone !== undefined) removePhoto(dataFolder, id, gone);
        return changedVisit(changed);
      }),
    async 'photo.get'({ id, sha256 }) {
      const stored = await withTables(({ visits }) => visits.get(id));
      if (!stored.ok) return stored;
      const photo = photosOf(stored.value.visit).find((one) => one.sha256 === sha256);
      if (photo === undefined) return err(problem('not-found'));
      const found = loadPhoto(dataFolder, id, photo);
      return ok(defined({ url: photoUrl(found), why: found.why }));
    },
  };
}
