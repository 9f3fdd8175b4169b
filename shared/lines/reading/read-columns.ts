import type { ShapeOf } from '../../measurement/recipe-shape.ts';
import { rejected, type Extraction, type Extractor, type Slot } from './extraction.ts';
import { placesByHead } from './late-head.ts';
import { splitColumns, type Cells } from './split-columns.ts';
import { nameMeaning } from '../learning/names/column-name.ts';
import { unitFromText } from '../unit-spellings.ts';
import { rejectionTexts } from '../../words/core/lines.ts';

const hasDigitFirst = /^[<>]?[+\-(\u2212]?\s*[.,]?\d/;
const hasLetters = /[A-Za-z\u00c0-\u024f]{1,}/;
const normal = (name: string): string => name.trim().toLowerCase();

/** Two cells that name a quantity: a header of some table, and no sentence that happens to have as many words. */
const namesQuantities = (cells: readonly string[]): boolean =>
  cells.filter((cell) => Object.keys(nameMeaning(cell).roles).some((role) => role !== 'other')).length >= 2;

/** The first cell of a line about the readings: their mean, their least. */
const summary =
  /^["'#\s]*(?:min(?:imum)?|max(?:imum)?|mean|average|avg|std|stdev|std ?dev|st\.? ?dev\.?|sum|total|median|mittel|mittelwert|durchschnitt|moyenne|promedio|media)\.?["':\s]*$/i;
export const isSummary = (cell: string): boolean => summary.test(cell);

/** A header: no column begins with a number, and most have letters. */
const looksLikeHeader = (cells: readonly string[]): boolean => {
  let letters = 0;
  for (const cell of cells) {
    if (hasDigitFirst.test(cell)) return false;
    if (hasLetters.test(cell)) letters += 1;
  }
  return letters >= 2 && letters * 2 >= cells.length;
};

/** A row of units under the header: every cell that holds something is a unit (or the unit of a time). */
const looksLikeUnits = (cells: readonly string[]): boolean => {
  const filled = cells.filter((cell) => cell !== '' && cell !== '-');
  return (
    filled.length >= 2 &&
    filled.filter((cell) => unitFromText(cell) !== undefined || /^\[?(s|sec|ms|min|hh:mm(:ss)?|h:m:s|v|)\]?$/i.test(cell)).length >=
      filled.length - 1
  );
};

/**
 * Columns between delimiters. A header line that names known columns moves them: an instrument that shows a further column from
 * some time on is followed as long as it says so; under the header of another table nothing is read. Followed is one, too, whose row of units
 * comes again with other units: the first such row is the one that the
 * recipe was made from (a person may have said otherwise); from a later one on, a value has the unit that stands above it.
 */
export function createColumnsExtractor(shape: ShapeOf<'columns'>, slots: readonly Slot[]): Extractor {
  const header = shape.header?.map(normal);
  const places = slots.map(({ at }) => (typeof at === 'number' ? at : -1));
  let placesNow: readonly number[] = places;
  let countNow = shape.count;
  let moved = false;
  let firstUnits: readonly (string | undefined)[] | undefined;
  /** per slot, where it is no longer the first */
  let otherUnits: readonly (string | undefined)[] | undefined;

  const followUnits = (cells: readonly string[]): void => {
    const units = placesNow.map((place) => cells[place]?.trim());
    firstUnits ??= units;
    const others = units.map((unit, slot) => {
      const first = unitFromText(firstUnits?.[slot] ?? '');
      const now = unitFromText(unit ?? '');
      return first === undefined || now === undefined || first === now ? undefined : unit;
    });
    otherUnits = others.some((unit) => unit !== undefined) ? others : undefined;
  };

  const namesMatch = (cells: readonly string[]): number => {
    if (header === undefined) return 0;
    let same = 0;
    for (const cell of cells) if (cell !== '' && header.includes(normal(cell))) same += 1;
    // Two names of this table in a line of names: it is a head of this instrument, whatever else it shows from now on.
    return same >= 2 ? 1 : same / Math.max(1, header.filter((name) => name !== '').length);
  };

  const follow = (cells: readonly string[]): void => {
    if (header === undefined) return;
    const names = cells.map(normal);
    // Names may come twice in a wide table; the same head as before moves nothing.
    if (names.length === header.length && names.every((name, at) => name === header[at])) {
      placesNow = places;
      countNow = shape.count;
      moved = false;
      return;
    }
    placesNow = places.map((place, slot) => {
      const name = normal(slots[slot]?.name ?? header[place] ?? '');
      if (name === '') return place;
      const at = names.indexOf(name);
      // two columns of this name now, where one was read: neither is known to be the right one
      return at === names.lastIndexOf(name) ? at : -1;
    });
    countNow = shape.count === undefined ? undefined : cells.length + (shape.count - header.length);
    moved = placesNow.some((place, slot) => place !== places[slot]) || countNow !== shape.count;
  };

  /** A head after a recipe that knows no names. */
  const followLate = (cells: readonly string[]): void => {
    const late = placesByHead(cells, slots, places);
    placesNow = late.places;
    moved = placesNow.some((place, slot) => place !== places[slot]);
    otherUnits = late.units.some((unit) => unit !== undefined) ? late.units : undefined;
  };

  /** The columns are those of another table now: a value in a known place would look as good as a right one. */
  const lose = (): void => {
    placesNow = places.map(() => -1);
    moved = true;
  };

  const placesFor = (count: number): readonly number[] | undefined => {
    if (countNow === undefined || count === countNow) return placesNow;
    if (moved) return undefined;
    const layout = shape.layouts.find((candidate) => candidate.count === count);
    if (layout === undefined) return undefined;
    return places.map((place) => (place < layout.from ? place : place < layout.from - layout.shift ? -1 : place + layout.shift));
  };

  const nonsense = (cells: Cells): Extraction | undefined => {
    const isUnits = looksLikeUnits(cells.texts);
    if (isUnits) followUnits(cells.texts);
    if (looksLikeHeader(cells.texts)) {
      if (namesMatch(cells.texts) >= 0.6) follow(cells.texts);
      else if (header === undefined && !isUnits && cells.texts.length === countNow && namesQuantities(cells.texts)) followLate(cells.texts);
      else if (header !== undefined && cells.texts.length === (countNow ?? header.length) && namesQuantities(cells.texts)) lose();
      return { kind: 'ignored', why: isUnits ? 'units' : 'header' };
    }
    return isUnits ? { kind: 'ignored', why: 'units' } : undefined;
  };

  return {
    isMoved: () => moved || otherUnits !== undefined,
    extract(text) {
      let cells = splitColumns(text, shape.delimiter, shape.quoted);
      if (shape.startsWith !== undefined && cells.texts[0] !== shape.startsWith)
        return nonsense(cells) ?? { kind: 'ignored', why: 'other-line' };
      // A delimiter that only ends the line.
      if (countNow !== undefined && cells.texts.length === countNow + 1 && cells.texts[countNow] === '' && shape.delimiter !== 'blanks') {
        cells = { texts: cells.texts.slice(0, countNow), starts: cells.starts.slice(0, countNow) };
      }
      const count = cells.texts.length;
      const at = placesFor(count);
      if (at === undefined) {
        const other = nonsense(cells);
        if (other !== undefined) return other;
        if (!/\d/.test(text)) return { kind: 'ignored', why: 'banner' };
        return count < (countNow ?? 0)
          ? rejected('too-few-fields', rejectionTexts.tooFewColumns(count, countNow ?? 0))
          : rejected('too-many-fields', rejectionTexts.tooFewColumns(count, countNow ?? 0));
      }
      if (!at.includes(0) && isSummary(cells.texts[0] ?? '')) return { kind: 'ignored', why: 'banner' };
      const texts = at.map((place) => (place < 0 ? undefined : cells.texts[place]));
      // Only a line without a number where numbers belong can be a header; that keeps the check off the usual way.
      if (!texts.some((cell) => cell !== undefined && hasDigitFirst.test(cell))) {
        const other = nonsense(cells);
        if (other !== undefined) return other;
      }
      if (shape.count === undefined && texts.every((cell) => cell === undefined))
        return rejected('too-few-fields', rejectionTexts.onlyColumns(count));
      const starts = at.map((place) => cells.starts[place] ?? 0);
      return otherUnits === undefined ? { kind: 'texts', texts, starts } : { kind: 'texts', texts, starts, units: otherUnits };
    },
  };
}
