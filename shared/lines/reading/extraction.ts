import type { ChannelId } from '../../measurement/channel.ts';
import type { RejectReason } from '../../measurement/line.ts';
import type { FieldPlace, LineRecipe } from '../../measurement/recipe.ts';
import type { UnusedWhy } from '../../measurement/run.ts';
import type { SentUnit } from '../../measurement/sent-unit.ts';

export type IgnoredWhy = 'comment' | 'header' | 'units' | 'echo' | 'banner' | 'first-line' | 'other-line' | UnusedWhy;

/** A place in the line that the recipe wants: its fields in order, then time, date, status and flags. */
export type Slot = {
  readonly at: FieldPlace;
  readonly name?: string | undefined;
  /** of a field: what is read there, and the unit that the recipe gives it */
  readonly channel?: ChannelId | undefined;
  readonly unit?: SentUnit | undefined;
};

/** In a slot's place where one line says two values for it; no text of a line has this byte. */
export const TWO_VALUES = '\u0000two values';

/**
 * What a shape finds in one line: a text per slot, in the order of the slots, undefined where there is none. `units`: what the stream has said since
 * of the unit of a slot, where it is not the recipe's.
 */
export type Extraction =
  | {
      kind: 'texts';
      texts: readonly (string | undefined)[];
      starts: readonly number[];
      fromMs?: number;
      units?: readonly (string | undefined)[];
    }
  | { kind: 'part' }
  | { kind: 'ignored'; why: IgnoredWhy }
  | { kind: 'rejected'; reason: RejectReason; detail: string };

/** Extractors may remember what came before (a header, a cycle half done); the same lines give the same extractions. */
export type Extractor = {
  extract(text: string, timeMs: number): Extraction;
  /** what a cycle that has not ended holds */
  end?(): Extraction | undefined;
  /** has a header in the stream moved the columns? */
  isMoved?(): boolean;
};

export type Slots = {
  readonly list: readonly Slot[];
  readonly time: number;
  readonly date: number;
  readonly status: number;
  readonly flags: readonly number[];
};

/** Numbers the places that a recipe reads; -1 = not read. */
export function slotsOf(recipe: LineRecipe): Slots {
  const list: Slot[] = recipe.fields.map(({ at, name, channel, unit }) => ({ at, name, channel, unit }));
  let time = -1;
  let date = -1;
  let status = -1;
  if (recipe.time.kind === 'field') {
    time = list.push({ at: recipe.time.at, name: recipe.time.name }) - 1;
    if (recipe.time.dateAt !== undefined) date = list.push({ at: recipe.time.dateAt }) - 1;
  }
  if (recipe.status !== undefined) status = list.push({ at: recipe.status.at, name: recipe.status.name }) - 1;
  const flags = (recipe.flags ?? []).map(({ at, name }) => list.push({ at, name }) - 1);
  return { list, time, date, status, flags };
}

export const rejected = (reason: RejectReason, detail: string): Extraction => ({ kind: 'rejected', reason, detail });
