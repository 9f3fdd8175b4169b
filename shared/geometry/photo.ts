/** A photo that goes with the geometry of a visit: what the visit saves of it, its bounds, and what its own bytes say it is. */
import { z } from 'zod';
import { WallMs } from '../wall-clock.ts';

/** Bounds of what is saved; the window makes a photo smaller before it hands it in. Ours: sharp on paper at 88 mm, and small enough to travel. */
export const PHOTO = { most: 8, mostBytes: 2 * 2 ** 20, longestEdge: 4096 } as const;
/** Bounds of the file that is chosen. Ours: above what a phone takes, below what would fill the memory of the window. */
export const CHOSEN_PHOTO = { mostBytes: 40 * 2 ** 20, mostPixels: 64_000_000 } as const;
/** What the window saves: pixels along the longer edge, and how strongly it is packed. Ours. */
export const SAVED_PHOTO = { edge: 1600, quality: 0.82 } as const;

export const photoForms = ['jpeg', 'png'] as const;
export type PhotoForm = (typeof photoForms)[number];

/** The file lies beside the records, under the visit's id and this hash; as part of the visit the hash is sealed with it. */
export const Photo = z.strictObject({
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  form: z.enum(photoForms),
  bytes: z.int().positive().max(PHOTO.mostBytes),
  width: z.int().positive().max(PHOTO.longestEdge),
  height: z.int().positive().max(PHOTO.longestEdge),
  /** of the file that was chosen */
  name: z.string().trim().min(1).max(120),
  wallMs: WallMs,
});
export type Photo = z.infer<typeof Photo>;

export type PhotoHead = { readonly form: PhotoForm; readonly width: number; readonly height: number };

/**
 * What it is by its own bytes, whatever its name says.
 *
 * @source JPEG: ITU-T T.81 (1992) annex B: markers, frame header (B.2.2), end of image. PNG: ISO/IEC 15948:2004 5.2 and 11.2.2 (IHDR), 11.2.5 (IEND).
 * @returns undefined when it is neither, or its beginning or end is missing
 */
export function photoHead(bytes: Uint8Array): PhotoHead | undefined {
  return pngHead(bytes) ?? jpegHead(bytes);
}

const PNG = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
const startsWith = (bytes: Uint8Array, at: number, wanted: readonly number[]): boolean => wanted.every((one, i) => bytes[at + i] === one);
const letters = (text: string): number[] => Array.from(text, (letter) => letter.charCodeAt(0));

function pngHead(bytes: Uint8Array): PhotoHead | undefined {
  if (!startsWith(bytes, 0, PNG) || !startsWith(bytes, 12, letters('IHDR'))) return undefined;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  // the last chunk: no content, its name, its check
  if (bytes.length < 45 || !startsWith(bytes, bytes.length - 8, letters('IEND'))) return undefined;
  return sized('png', view.getUint32(16), view.getUint32(20));
}

/** Frame headers; C4, C8 and CC between them are tables. */
const isFrame = (marker: number): boolean => marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
const isBare = (marker: number): boolean => marker === 0x01 || (marker >= 0xd0 && marker <= 0xd7);

function jpegHead(bytes: Uint8Array): PhotoHead | undefined {
  if (!startsWith(bytes, 0, [0xff, 0xd8, 0xff])) return undefined;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 2;
  while (at + 9 < bytes.length) {
    if (bytes[at] !== 0xff) return undefined;
    const marker = bytes[at + 1] ?? 0;
    if (marker === 0xff) at += 1;
    else if (isBare(marker)) at += 2;
    else {
      const length = view.getUint16(at + 2);
      if (isFrame(marker)) return hasEnd(bytes) ? sized('jpeg', view.getUint16(at + 7), view.getUint16(at + 5)) : undefined;
      // the picture itself begins, or a length that leads nowhere
      if (marker === 0xda || marker === 0xd9 || length < 2) return undefined;
      at += 2 + length;
    }
  }
  return undefined;
}

/** A phone may put something behind the picture; the end of the picture itself is there all the same. */
function hasEnd(bytes: Uint8Array): boolean {
  for (let at = bytes.length - 2; at > 2; at -= 1) if (bytes[at] === 0xff && bytes[at + 1] === 0xd9) return true;
  return false;
}

const sized = (form: PhotoForm, width: number, height: number): PhotoHead | undefined =>
  width > 0 && height > 0 ? { form, width, height } : undefined;

/** Small enough to be saved with a visit. */
export const fitsVisit = ({ width, height }: PhotoHead, bytes: number): boolean =>
  bytes <= PHOTO.mostBytes && Math.max(width, height) <= PHOTO.longestEdge;

/** @returns the size to save it in: its own, or one whose longer edge is as long as a saved one may be */
export function savedSize({ width, height }: Pick<PhotoHead, 'width' | 'height'>): { width: number; height: number } {
  const share = Math.min(1, SAVED_PHOTO.edge / Math.max(width, height));
  return { width: Math.max(1, Math.round(width * share)), height: Math.max(1, Math.round(height * share)) };
}
