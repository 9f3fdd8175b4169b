import type { ShapeOf } from '../../measurement/recipe-shape.ts';
import { absentReason } from './absent-words.ts';
import { rejected, type Extraction, type Extractor, type Slot } from './extraction.ts';
import { rejectionTexts } from '../../words/core/lines.ts';

const number = /^\s*"?[<>]?\s*[+\-\u2212]?\s*(\d+(?:[.,](\d*))?|[.,](\d+))(?:[eEdD][+-]?\d{1,3})?\s*(.*?)"?\s*$/;
const clock = /^\s*\d{1,2}:\d{2}(:\d{2}([.,]\d+)?)?\s*([AaPp]\.?[Mm]\.?)?\s*$/;
const dated = /^\s*\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}([T\s].*)?$/;

/** No value is written longer. */
const LONGEST_VALUE = 48;

/**
 * What a value alone on its line looks like: '9' and '9.99' by its decimals, '9.9 ppm' with its unit, '9:9' a clock, '9-9-9' a date.
 * undefined where the line is no value; '*' where a word stands for one.
 */
export function valueForm(text: string): string | undefined {
  if (text.length > LONGEST_VALUE) return undefined;
  if (clock.test(text)) return '9:9';
  if (dated.test(text)) return '9-9-9';
  const found = number.exec(text);
  if (found === null) return absentReason(text) === undefined || text.trim() === '' ? undefined : '*';
  const decimals = (found[2] ?? found[3] ?? '').length;
  const unit = (found[4] ?? '').trim();
  if (unit !== '' && (unit.length > 8 || /\d\s*\d|[,;=]/.test(unit) || /^[^A-Za-z%\u0080-\uffff"'*]/.test(unit))) return undefined;
  return `9${decimals === 0 ? '' : `.${'9'.repeat(Math.min(decimals, 6))}`}${unit === '' ? '' : ` ${unit}`}`;
}

const unitOf = (form: string): string => form.replace(/^9(\.9+)?/, '');

/**
 * One value a line, in a fixed order without names. Texts that come round, and the looks of the values, keep the count; where they
 * do not agree, nothing is read until they do again, because a value in a wrong place would look as good as a right one.
 */
export function createCycleExtractor({ lines }: ShapeOf<'cycle'>, slots: readonly Slot[]): Extractor {
  const length = lines.length;
  const forms = lines.map((line) => ('form' in line ? line.form : undefined));
  const marks = lines.map((line) => ('text' in line ? line.text : undefined));
  const slotAt = new Map<number, number>();
  slots.forEach(({ at }, slot) => {
    if (typeof at === 'number') slotAt.set(at, slot);
  });
  let place = 0;
  let isWhole = true;
  let texts: (string | undefined)[] = [];
  let fromMs = 0;
  let isBegun = false;

  const begin = (whole: boolean): void => {
    texts = new Array<string | undefined>(slots.length).fill(undefined);
    isWhole = whole;
    isBegun = false;
  };
  begin(true);

  const fitsAt = (at: number, form: string): boolean => {
    const wanted = forms[at];
    if (wanted === undefined) return false;
    if (form === '*' || form === wanted) return true;
    // An instrument that changes its range changes its decimals; another place that looks just so is the likelier one.
    return unitOf(form) === unitOf(wanted) && form.startsWith('9.') === wanted.startsWith('9.') && !forms.includes(form);
  };
  const nextWith = (test: (at: number) => boolean): number => {
    for (let step = 0; step < length; step++) {
      const at = (place + step) % length;
      if (test(at)) return at;
    }
    return -1;
  };
  const step = (at: number, text: string, timeMs: number): Extraction => {
    if (at < place) begin(at === 0);
    else if (forms.slice(place, at).some((form) => form !== undefined)) isWhole = false;
    if (!isBegun) fromMs = timeMs;
    isBegun = true;
    const slot = slotAt.get(at);
    if (slot !== undefined) texts[slot] = text;
    place = at + 1;
    if (place < length) return { kind: 'part' };
    place = 0;
    const done: Extraction = isWhole ? { kind: 'texts', texts, starts: [], fromMs } : { kind: 'part' };
    begin(true);
    return done;
  };

  return {
    extract(text, timeMs) {
      const bare = text.trim();
      const mark = nextWith((at) => marks[at] === bare);
      if (mark >= 0) return step(mark, text, timeMs);
      const form = valueForm(text);
      if (form === undefined) {
        // A text that changes (a title with a number) holds its place too.
        return /\d/.test(text) ? rejected('no-match', rejectionTexts.noValue) : { kind: 'ignored', why: 'other-line' };
      }
      const known = nextWith((at) => fitsAt(at, form));
      if (known < 0) {
        isWhole = false;
        return rejected('no-match', rejectionTexts.noLook);
      }
      if (known === place) return step(known, text, timeMs);
      // Several places look so: which one it is cannot be told.
      const isOnly = forms.filter((_, at) => fitsAt(at, form)).length === 1;
      isWhole = false;
      return isOnly ? step(known, text, timeMs) : rejected('no-match', rejectionTexts.missingBefore);
    },
  };
}
