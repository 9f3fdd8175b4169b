import { z } from 'zod';

/** How a line fared: shape and word in the line view, never colour alone. */
export const lineMarks = ['read', 'read-absent', 'ignored', 'rejected', 'part'] as const;
export const LineMark = z.enum(lineMarks);
export type LineMark = (typeof lineMarks)[number];

export const FieldSpanShape = z.object({ channel: z.string(), start: z.number().int(), end: z.number().int() });
