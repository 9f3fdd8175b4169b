/** What a visit saves of electrodes, nozzle and head: its own copy of the card, what was typed, where the hands are, what is loose and what was changed. */
import { z } from 'zod';
import { WallMs } from '../wall-clock.ts';
import { arrangements, CardFigure, FiguresCard, tubeEnds } from './figures-card.ts';
import { itemNames, type GeometryItem } from './items.ts';
import { Photo, PHOTO } from './photo.ts';
import { geometryChanges, type GeometryChange } from './stale.ts';
import { handStepIds, looseParts } from './steps.ts';

/** As typed, with the unit where one was typed: 5/32 stays 5/32. */
export const TypedFigure = z.string().trim().min(1).max(24);

/** A figure as found and as left; `foundMs` and `leftMs` say when, so that a later change makes it stale. */
export const GeometryRow = z.object({
  asFound: TypedFigure.optional(),
  asLeft: TypedFigure.optional(),
  /** the maker's figure typed at this visit, where no card has it */
  maker: CardFigure.optional(),
  foundMs: WallMs.optional(),
  leftMs: WallMs.optional(),
});
export type GeometryRow = z.infer<typeof GeometryRow>;

export const sides = ['asFound', 'asLeft'] as const;
export type Side = (typeof sides)[number];

export const GeometryRecord = z.object({
  /** the visit's own copy: a card that is revised later changes nothing here */
  card: FiguresCard.optional(),
  /** the document that the copy was made of */
  cardId: z.string().max(100).optional(),
  tubeEnd: z.enum(tubeEnds).optional(),
  head: z.string().max(120).optional(),
  arrangement: z.enum(arrangements).optional(),
  rows: z.partialRecord(z.enum(itemNames), GeometryRow).optional(),
  /** the step in front of the hands */
  at: z.object({ step: z.enum(handStepIds), side: z.enum(sides) }).optional(),
  done: z.array(z.enum(handStepIds)).max(60).optional(),
  /** parts that were said to be tight, one by one */
  tight: z.array(z.enum(looseParts)).max(20).optional(),
  /** where the photos are that were taken before anything moved: names of files, a phone */
  photos: z.string().trim().min(1).max(200).optional(),
  /** photos that were attached; each file lies beside the records */
  photoFiles: z.array(Photo).min(1).max(PHOTO.most).optional(),
  /** the bar of the true-size sheet, measured on the paper: only a sheet that is true to size is saved as proven */
  trueSize: z.object({ barMm: z.number().positive(), paper: z.enum(['a4', 'letter']), wallMs: WallMs }).optional(),
  changed: z
    .array(z.object({ what: z.enum(geometryChanges), wallMs: WallMs }))
    .max(200)
    .optional(),
});
export type GeometryRecord = z.infer<typeof GeometryRecord>;

/** What moving a part so that this figure is another one means for the figures that hang on it. */
export function changeOf(item: GeometryItem): GeometryChange | undefined {
  switch (item) {
    case 'electrodeGap':
    case 'heightAboveCentreline':
    case 'aheadOfNozzle':
    case 'tipToMetal':
    case 'tipDifference':
      return 'electrodes';
    case 'nozzleToHead':
    case 'offCentre':
      return 'head';
    case 'headToTubeEnd':
      return 'zero';
    case 'headSetting':
    case 'shutterStart':
    case 'bandStart':
      return undefined;
  }
}
