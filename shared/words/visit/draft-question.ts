import type { DraftPlace, TypedDraft } from '../../tuning/trial/draft.ts';
import type { Formats } from '../tune/tune-formats.ts';

const placeWords: Readonly<Record<DraftPlace, string>> = { 'over-fire': 'over the fire', breech: 'at the breech' };
export const draftQuestion = (
  ask: Extract<TypedDraft, { kind: 'ask' }>,
  f: Formats,
): { question: string; suction: string; pressure: string } => ({
  question: `Suction or pressure ${placeWords[ask.place]}?`,
  suction: `Suction, ${f.draft(ask.suctionPa)}`,
  pressure: `Pressure, ${f.draft(ask.pressurePa)}`,
});
