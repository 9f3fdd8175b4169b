import { checkKinds, type LineCheck } from '../../measurement/recipe.ts';
import { lineForCheck, verifyCheck, type RealCheck } from '../line-check.ts';

/** A check that the lines bear out. `share` of the lines that could carry it do. */
export type FoundCheck = { readonly check: LineCheck; readonly share: number; readonly count: number };

/** A check is accepted from here on; with fewer lines it is called probable. */
export const LINES_FOR_A_CHECK = 20;

/** What may stand before a check that ends the line: one character, or a short word from the last delimiter on. */
function leadsOf(lines: readonly string[]): string[] {
  const counts = new Map<string, number>();
  for (const line of lines) {
    const end = /([0-9A-Fa-f]{2}|[0-9A-Fa-f]{4}|\d{1,5})$/.exec(line);
    if (end === null) continue;
    const seen = new Set<string>();
    const single = /([^0-9A-Za-z.+-])[0-9A-Fa-f]{1,5}$/.exec(line);
    if (single?.[1] !== undefined) seen.add(single[1]);
    const word = /([\s,;|][^\s,;|0-9]{1,3})(?=[0-9A-Fa-f]{2,5}$)/.exec(line);
    if (word?.[1] !== undefined) seen.add(word[1]);
    for (const lead of seen) counts.set(lead, (counts.get(lead) ?? 0) + 1);
  }
  return [...counts].filter(([, count]) => count >= lines.length * 0.4).map(([lead]) => lead);
}

function* candidates(lines: readonly string[]): Generator<RealCheck> {
  const forms: { as: RealCheck['as']; digits: number }[] = [
    { as: 'hex', digits: 2 },
    { as: 'hex', digits: 4 },
    { as: 'hex-swapped', digits: 4 },
    { as: 'decimal', digits: 3 },
    { as: 'decimal', digits: 5 },
  ];
  const leads = leadsOf(lines.map((line) => line.trim()));
  // One byte in front of the line end that is a check is seldom a digit; where nearly every line ends with one it is none.
  const endsWithDigit = lines.filter((line) => /\d\s*$/.test(line)).length >= lines.length * 0.9;
  for (const kind of checkKinds) {
    const wide = kind.endsWith('16') || kind.startsWith('crc16');
    for (const { as, digits } of forms) {
      if (wide !== digits >= 4) continue;
      for (const skip of [1, 0]) {
        for (const lead of leads)
          for (const coversLead of [false, true]) yield { kind, lead, skip, coversLead, as, digits, overPairs: false };
        if (as !== 'decimal') yield { kind, lead: '', skip, coversLead: false, as, digits, overPairs: false };
      }
    }
    if (lines.some((line) => line.startsWith(':'))) {
      yield { kind, lead: '', skip: 1, coversLead: false, as: 'hex', digits: wide ? 4 : 2, overPairs: true };
    }
    // STX ... ETX and one byte (ISO 1745): the sum goes from behind STX to ETX included, or over all.
    if (!endsWithDigit)
      for (const skip of [1, 0]) yield { kind, lead: '', skip, coversLead: false, as: 'byte', digits: wide ? 2 : 1, overPairs: false };
  }
}

/**
 * Tries every usual check on every line. By chance a wrong one fits one line in 256, so that four lines of different checks
 * are proof enough of the kind; noise may spoil some lines, hence a share.
 */
export function findCheck(rawLines: readonly string[]): FoundCheck | undefined {
  const lines = rawLines.slice(0, 120);
  if (lines.length < 4) return undefined;
  let best: FoundCheck | undefined;
  // What a check sees of a line depends on few things; long lines are not taken apart again for every check.
  const prepared = new Map<string, string[]>();
  const seenBy = (check: RealCheck): string[] => {
    const key = check.as === 'byte' ? 'byte' : check.lead === '' ? 'end' : 'lead';
    const before = prepared.get(key);
    if (before !== undefined) return before;
    const made = lines.map((line) => lineForCheck(check, line));
    prepared.set(key, made);
    return made;
  };
  for (const check of candidates(lines)) {
    let good = 0;
    let tried = 0;
    const sent = new Set<string>();
    for (const text of seenBy(check)) {
      const verified = verifyCheck(check, text);
      tried += 1;
      if (verified.ok) {
        good += 1;
        sent.add(text.slice(verified.body.length));
      } else if (tried >= 12 && good === 0) break;
    }
    if (good < 4 || sent.size < 3) continue;
    const share = good / lines.length;
    if (share >= 0.4 && (best === undefined || share > best.share + 0.02)) best = { check, share, count: good };
  }
  return best;
}
