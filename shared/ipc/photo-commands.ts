/** Photos that go with the geometry of a visit. */
import { z } from 'zod';
import { PHOTO } from '../geometry/photo.ts';
import { StoredVisit } from './store-commands.ts';

const id = z.string().min(1).max(100);
const sha256 = z.string().regex(/^[0-9a-f]{64}$/);

export const photoCommands = {
  /** takes a file in that was handed in; it is on the disk before the visit names it */
  'photo.attach': {
    input: z.strictObject({ id, upload: z.string().max(200), name: z.string().trim().min(1).max(120) }),
    output: StoredVisit,
  },
  /** out of the visit, then off the disk */
  'photo.remove': { input: z.strictObject({ id, sha256 }), output: StoredVisit },
  /** `url`: the picture itself as a data address; absent when it is not here, or is no longer what was attached */
  'photo.get': {
    input: z.strictObject({ id, sha256 }),
    output: z.object({
      url: z
        .string()
        .max(PHOTO.mostBytes * 2)
        .optional(),
      why: z.enum(['missing', 'altered']).optional(),
    }),
  },
} as const;
