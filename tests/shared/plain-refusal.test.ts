/** What the schema library refuses is said in our words: the field, and what is allowed. */
import { expect, it } from 'vitest';
import { z } from 'zod';
import { editVisit, newVisit } from '../../shared/tuning/visit/visit.ts';
import { plainRefusal } from '../../shared/plain-refusal.ts';

const said = (schema: z.ZodType, value: unknown): string => {
  const read = schema.safeParse(value);
  return read.success ? 'taken' : plainRefusal(read.error);
};
it.each([
  [z.number().max(100), 101, 'room co, 1, ppm: at most 100.'],
  [z.number().lt(100), 100, 'room co, 1, ppm: less than 100.'],
  [z.number().min(0), -1, 'room co, 1, ppm: at least 0.'],
  [z.number().positive(), 0, 'room co, 1, ppm: more than 0.'],
  [z.number(), 'a', 'room co, 1, ppm: a number.'],
  [z.int(), 1.5, 'room co, 1, ppm: a whole number.'],
  [z.string().max(3), 'abcd', 'room co, 1, ppm: at most 3 characters.'],
  [z.array(z.number()).max(1), [1, 2], 'room co, 1, ppm: at most 1 entry.'],
  [z.enum(['yes', 'no']), 'perhaps', 'room co, 1, ppm: one of yes, no.'],
  [z.strictObject({}), { odd: 1 }, 'room co, 1, ppm: no field is called odd.'],
  [z.string().refine(() => false, 'Our own sentence.'), 'a', 'room co, 1, ppm: Our own sentence.'],
  [z.string().regex(/x/), 'a', 'room co, 1, ppm: this cannot be read.'],
] as const)('%#', (schema, value, text) => {
  expect(said(z.object({ roomCo: z.array(z.object({ ppm: schema })) }), { roomCo: [{ ppm: value }] })).toBe(text);
});
it('a change of a visit that is refused says which field and what is allowed', () => {
  const visit = newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] });
  const refused = editVisit(visit, {
    path: ['people', 0],
    after: { role: 'technician', name: 'a'.repeat(5000) },
    wallMs: 1,
    by: 'operator',
  });
  expect(refused.ok ? '' : refused.error.detail).toMatch(/^people, 1, name: at most \d+ characters\.$/);
});
