/**
 * Photos of visits, each a file beside the records, written whole before the visit names it and named by the visit's id and its own hash: so
 * a kill in between leaves a file that no visit names, and never a visit without its photo.
 */
import { createHash } from 'node:crypto';
import { copyFileSync, existsSync, mkdirSync, readFileSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fitsVisit, PHOTO, photoHead, type Photo, type PhotoForm } from '../../shared/geometry/photo.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import type { ReportPhoto } from '../../shared/report/report-input.ts';
import { withCorrections, type Visit } from '../../shared/tuning/visit/visit.ts';
import { photoTexts } from '../../shared/words/host.ts';
import { writeWhole } from '../store/files.ts';
import { namesIn, removeQuietly } from '../store/work-folder.ts';
import { defined } from '../../shared/defined.ts';

export const PHOTO_FOLDER = 'photos';
const FILE_NAME = /^([0-9A-Za-z][\w-]{0,79})-([0-9a-f]{32})\.(jpg|png)$/;
/** what is to go with its visit; no backup takes it */
const GOING = '.going-';
const endings: Readonly<Record<PhotoForm, string>> = { jpeg: 'jpg', png: 'png' };

type Named = Pick<Photo, 'sha256' | 'form'>;
export const isPhotoName = (name: string): boolean => FILE_NAME.test(name);

/** @returns undefined for an id that makes no file name */
export function photoName(visitId: string, { sha256, form }: Named): string | undefined {
  const name = `${visitId}-${sha256.slice(0, 32)}.${endings[form]}`;
  return isPhotoName(name) ? name : undefined;
}
function pathOf(dataFolder: string, visitId: string, photo: Named): string | undefined {
  const name = photoName(visitId, photo);
  return name === undefined ? undefined : join(dataFolder, PHOTO_FOLDER, name);
}

export const photosOf = (visit: Visit): readonly Photo[] => visit.setUp.geometry?.photoFiles ?? [];
const hashOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** Looks at the bytes, not at the name. */
export function readPhoto(path: string): Result<{ bytes: Uint8Array; facts: Omit<Photo, 'name' | 'wallMs'> }, Problem> {
  if (statSync(path).size > PHOTO.mostBytes) return err(problem('photo-too-big'));
  const bytes = readFileSync(path);
  const head = photoHead(bytes);
  if (head === undefined) return err(problem('photo-foreign'));
  if (!fitsVisit(head, bytes.length)) return err(problem('photo-too-big'));
  return ok({ bytes, facts: { ...head, sha256: hashOf(bytes), bytes: bytes.length } });
}

/** Whole and on the disk when it returns. @throws what the disk throws */
export function placePhoto(dataFolder: string, visitId: string, photo: Named, bytes: Uint8Array): Result<undefined, Problem> {
  const path = pathOf(dataFolder, visitId, photo);
  if (path === undefined) return err(problem('request-invalid', photoTexts.noName));
  mkdirSync(join(dataFolder, PHOTO_FOLDER), { recursive: true, mode: 0o700 });
  writeWhole(path, bytes, 0o600);
  return ok(undefined);
}

export type FoundPhoto = { readonly photo: Photo; readonly bytes: Uint8Array | undefined; readonly why?: 'missing' | 'altered' };

/** Shown only while it gives the hash that the visit has of it. */
export function loadPhoto(dataFolder: string, visitId: string, photo: Photo): FoundPhoto {
  const path = pathOf(dataFolder, visitId, photo);
  try {
    if (path === undefined) return { photo, bytes: undefined, why: 'missing' };
    if (statSync(path).size !== photo.bytes) return { photo, bytes: undefined, why: 'altered' };
    const bytes = readFileSync(path);
    return hashOf(bytes) === photo.sha256 ? { photo, bytes } : { photo, bytes: undefined, why: 'altered' };
  } catch {
    return { photo, bytes: undefined, why: 'missing' };
  }
}

/** As pages take them: within the page itself. */
export function photoUrl({ photo, bytes }: FoundPhoto): string | undefined {
  return bytes === undefined ? undefined : `data:image/${photo.form};base64,${Buffer.from(bytes).toString('base64')}`;
}

/** After the visit no longer names it. What cannot be removed now is removed at the next start. */
export function removePhoto(dataFolder: string, visitId: string, photo: Named): void {
  const path = pathOf(dataFolder, visitId, photo);
  if (path !== undefined) removeQuietly(path);
}

/**
 * Puts the photos of a visit aside that is about to be removed. `gone`: the visit is; `back`: it stays after all. A kill in between is made up
 * for at the next start.
 */
export function photosGoing(dataFolder: string, visit: Visit): { gone: () => void; back: () => void } {
  const folder = join(dataFolder, PHOTO_FOLDER);
  const names = photosOf(visit).flatMap((photo) => photoName(visit.id, photo) ?? []);
  const going = names.filter((name) => existsSync(join(folder, name)));
  for (const name of going) renameSync(join(folder, name), join(folder, GOING + name));
  return {
    gone: () => going.forEach((name) => removeQuietly(join(folder, GOING + name))),
    back: () => going.forEach((name) => renameSync(join(folder, GOING + name), join(folder, name))),
  };
}

/** For a visit that became another one's copy: its photos come with it. @throws what the disk throws */
export function copyPhotos(dataFolder: string, from: string, copy: Visit): void {
  for (const photo of photosOf(copy)) {
    const [source, target] = [pathOf(dataFolder, from, photo), pathOf(dataFolder, copy.id, photo)];
    if (source !== undefined && target !== undefined && existsSync(source)) copyFileSync(source, target);
  }
}

/**
 * At the start: what a kill left. A file goes when its visit is here, can be read, and does not name it; what belongs to a visit that is not
 * here stays, for the records may have been set aside.
 */
export function tidyPhotos(dataFolder: string, visitOf: (id: string) => Visit | 'none' | 'unreadable'): void {
  const folder = join(dataFolder, PHOTO_FOLDER);
  for (const name of namesIn(folder)) {
    const path = join(folder, name);
    if (name.endsWith('.part') && isPhotoName(name.slice(0, -5))) {
      removeQuietly(path);
      continue;
    }
    const isGoing = name.startsWith(GOING);
    const plain = isGoing ? name.slice(GOING.length) : name;
    const visitId = FILE_NAME.exec(plain)?.[1];
    if (visitId === undefined) continue;
    const visit = visitOf(visitId);
    if (visit === 'unreadable') continue;
    const isNamed = visit !== 'none' && photosOf(visit).some((photo) => photoName(visitId, photo) === plain);
    if (isGoing && isNamed) rename(path, join(folder, plain));
    else if (isGoing || (visit !== 'none' && !isNamed)) removeQuietly(path);
  }
}

function rename(from: string, to: string): void {
  try {
    renameSync(from, to);
  } catch {
    // the next start tries again
  }
}

/** Files that came with a package: each whole, checked, and only where none is. @returns those that were not here before */
export function takeInPhotos(dataFolder: string, files: readonly { readonly name: string; readonly path: string }[]): string[] {
  const added: string[] = [];
  try {
    for (const { name, path } of files) {
      const target = join(dataFolder, PHOTO_FOLDER, name);
      if (!isPhotoName(name) || existsSync(target)) continue;
      const read = readPhoto(path);
      if (!read.ok || FILE_NAME.exec(name)?.[2] !== read.value.facts.sha256.slice(0, 32)) continue;
      mkdirSync(join(dataFolder, PHOTO_FOLDER), { recursive: true, mode: 0o700 });
      writeWhole(target, read.value.bytes, 0o600);
      added.push(target);
    }
    return added;
  } catch (failure) {
    for (const path of added) rmSync(path, { force: true });
    throw failure;
  }
}

/** Those of these photos that are here, as a package takes them. */
export const photosHere = (dataFolder: string, names: readonly string[]): { name: string; path: string }[] =>
  names.filter(isPhotoName).flatMap((name) => {
    const path = join(dataFolder, PHOTO_FOLDER, name);
    return existsSync(path) ? [{ name, path }] : [];
  });

/** As the report shows them. */
export const reportPhotos = (dataFolder: string, visit: Visit): ReportPhoto[] =>
  photosOf(withCorrections(visit)).map((photo) => {
    const found = loadPhoto(dataFolder, visit.id, photo);
    return { sha256: photo.sha256, ...defined({ url: photoUrl(found), why: found.why }) };
  });
