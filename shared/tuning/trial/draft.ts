/** Draft is kept as pressure against the room, Pa: suction negative. People write it either way, so the sign is settled here, once. */

export const draftPlaces = ['over-fire', 'breech'] as const;
export type DraftPlace = (typeof draftPlaces)[number];
/** How this person writes suction. `minus` = pressure against the room; `plain` = suction without a sign. */
export type DraftHabit = 'minus' | 'plain' | 'unknown';

export type TypedDraft =
  | { kind: 'stored'; pa: number }
  /** positive, and that could mean either: the person must say which */
  | { kind: 'ask'; place: DraftPlace; suctionPa: number; pressurePa: number };

/**
 * A typed draft, converted to Pa, to what is kept.
 * A minus is always suction. A positive figure is suction for those who write it so; where that is not known it is asked, unless the
 * appliance runs with positive pressure over fire. A pressurised appliance with a `plain` writer is asked too: there both occur.
 */
export function storedDraft({
  typedPa,
  place,
  habit,
  pressurised,
}: {
  typedPa: number;
  place: DraftPlace;
  habit: DraftHabit;
  pressurised: boolean;
}): TypedDraft {
  if (typedPa <= 0) return { kind: 'stored', pa: typedPa === 0 ? 0 : typedPa };
  const ask: TypedDraft = { kind: 'ask', place, suctionPa: -typedPa, pressurePa: typedPa };
  const positiveIsNormal = pressurised && place === 'over-fire';
  if (habit === 'plain') return positiveIsNormal ? ask : { kind: 'stored', pa: -typedPa };
  return positiveIsNormal ? { kind: 'stored', pa: typedPa } : ask;
}

/** Draft drop through the exchanger, Pa, positive when the breech pulls harder than the chamber. Absent when one is absent. */
export const draftDropPa = (draft: { overFirePa?: number | undefined; breechPa?: number | undefined }): number | undefined =>
  draft.overFirePa === undefined || draft.breechPa === undefined ? undefined : draft.overFirePa - draft.breechPa;
