/** A figures card as a file: whoever made it, whatever is in it. */
import { z } from 'zod';
import { err, ok, type Result } from '../result.ts';
import { checkCard, FiguresCard, type CardProblem } from './figures-card.ts';
import { plainRefusal } from '../plain-refusal.ts';

/** Far above any card (80 figures, 40 rows, notes of 2000 letters). Ours. */
export const MOST_CARD_BYTES = 1_000_000;

export type CardFileRefusal =
  | { readonly key: 'too-big' | 'not-json' | 'foreign' | 'newer' }
  /** it says that it is a card, and one of its fields is none */
  | { readonly key: 'wrong'; readonly detail: string }
  | { readonly key: 'contradicts'; readonly problem: CardProblem };

const Claim = z.object({ format: z.literal('flueside-figures-card'), version: z.number() });

/** @returns the card as it stands; one that contradicts itself is handed to whoever asks with `contradicting` */
export function readCardFile(text: string, { contradicting = false } = {}): Result<FiguresCard, CardFileRefusal> {
  if (text.length > MOST_CARD_BYTES) return err({ key: 'too-big' });
  let body: unknown;
  try {
    // some editors put a byte order mark first
    body = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    return err({ key: 'not-json' });
  }
  const claim = Claim.safeParse(body);
  if (!claim.success) return err({ key: 'foreign' });
  if (claim.data.version > 1) return err({ key: 'newer' });
  const card = FiguresCard.safeParse(body);
  if (!card.success) return err({ key: 'wrong', detail: plainRefusal(card.error).slice(0, 500) });
  const [first] = contradicting ? [] : checkCard(card.data);
  return first === undefined ? ok(card.data) : err({ key: 'contradicts', problem: first });
}
