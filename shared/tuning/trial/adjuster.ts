import { z } from 'zod';
import { err, ok, type Result } from '../../result.ts';

export const adjusterKinds = ['air', 'head', 'draft', 'other'] as const;
export type AdjusterKind = (typeof adjusterKinds)[number];

/**
 * One thing on the burner that a hand can move, on the user's own scale (marks, millimetres, turns).
 * `kind`: only *air* adjusters take part in the next setting; moving the *head* or the *draft* regulator makes earlier air readings stale.
 * Adjusters of earlier versions have no kind: see `kindOf`.
 */
export const Adjuster = z.object({
  name: z.string().min(1).max(40),
  unit: z.string().max(12).default(''),
  min: z.number().optional(),
  max: z.number().optional(),
  /** smallest move that the hand can repeat, in scale units */
  step: z.number().positive(),
  role: z.enum(['coarse', 'fine']),
  kind: z.enum(adjusterKinds).optional(),
  /** which end of the scale gives more air, as the person said it; what the trials show counts first */
  moreAir: z.enum(['up', 'down']).optional(),
});
export type Adjuster = z.infer<typeof Adjuster>;

/** Without a kind only the usual two names are taken for air; anything else is asked. */
export const kindOf = ({ name, kind }: { name: string; kind?: AdjusterKind | undefined }): AdjusterKind | undefined =>
  kind ?? (/^(shutter|band)$/i.test(name.trim()) ? 'air' : undefined);
export const isAir = (adjuster: { name: string; kind?: AdjusterKind | undefined }): boolean => kindOf(adjuster) === 'air';

/** Marks of one scale mean nothing on another. */
export const isSameScale = (one: Adjuster, other: Adjuster): boolean =>
  one.unit === other.unit && one.min === other.min && one.max === other.max;

export type PositionRefusal =
  | { key: 'position-not-a-number'; adjuster: string }
  | { key: 'position-below-scale'; adjuster: string; typed: number; min: number; max?: number | undefined }
  | { key: 'position-above-scale'; adjuster: string; typed: number; min?: number | undefined; max: number };

/** A typed position against the adjuster's scale. Nothing is clamped: the person decides. */
export function checkPosition(adjuster: Adjuster, typed: number): Result<number, PositionRefusal> {
  const { name, min, max } = adjuster;
  if (!Number.isFinite(typed)) return err({ key: 'position-not-a-number', adjuster: name });
  if (min !== undefined && typed < min) return err({ key: 'position-below-scale', adjuster: name, typed, min, max });
  if (max !== undefined && typed > max) return err({ key: 'position-above-scale', adjuster: name, typed, min, max });
  return ok(typed);
}
