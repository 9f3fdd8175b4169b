/** The pieces that a line has under a recipe's shape, with what stands there in a line of the person's own. Pure. */
import { splitPairs } from '../../../../shared/lines/reading/read-keyed.ts';
import { splitColumns } from '../../../../shared/lines/reading/split-columns.ts';
import type { FieldPlace, LineRecipe } from '../../../../shared/measurement/recipe.ts';

export type Place = { readonly at: FieldPlace; readonly key: string; readonly label: string; readonly example: string };

const MOST = 64;
export const placeKey = (at: FieldPlace): string => (typeof at === 'object' ? `${at.start}-${at.end}` : String(at));
/** columns are counted from 1 on screen */
export const placeLabel = (at: FieldPlace): string =>
  typeof at === 'number' ? String(at + 1) : typeof at === 'object' ? `${at.start + 1} to ${at.end}` : at;

type Found = { at: FieldPlace; example: string };

function flattened(value: unknown, path: string): Found[] {
  if (typeof value !== 'object' || value === null) return path === '' ? [] : [{ at: path.slice(0, 80), example: String(value) }];
  return Object.entries(value)
    .slice(0, MOST)
    .flatMap(([key, inner]) => flattened(inner, path === '' ? key : `${path}.${key}`));
}

function jsonPlaces(line: string): Found[] {
  try {
    return flattened(JSON.parse(line.slice(Math.max(0, line.search(/[{[]/)))), '');
  } catch {
    return [];
  }
}

const groupNames = (pattern: string): string[] => [...pattern.matchAll(/\(\?P?<([A-Za-z_]\w*)>/g)].map((found) => found[1] ?? '');

/** The line with the most pieces says the most; a header has words where the others have digits. */
const bestOf = (lists: readonly Found[][]): Found[] =>
  lists.reduce<Found[]>((best, list) => {
    const digits = (one: readonly Found[]): number => one.filter(({ example }) => /\d/.test(example)).length;
    return digits(list) > digits(best) || (digits(list) === digits(best) && list.length >= best.length) ? list : best;
  }, []);

function foundIn({ shape }: LineRecipe, lines: readonly string[]): Found[] {
  switch (shape.kind) {
    case 'columns':
      return bestOf(lines.map((line) => splitColumns(line, shape.delimiter, shape.quoted).texts.map((example, at) => ({ at, example }))));
    case 'keyed': {
      const seen = new Map<string, string>();
      for (const line of lines)
        for (const { key, value } of splitPairs(line, shape.separator, shape.between))
          if (key !== '' && key.length <= 80) seen.set(key, value);
      return [...seen].slice(0, MOST).map(([at, example]) => ({ at, example }));
    }
    case 'cycle':
      return shape.lines.flatMap((line, at) => ('form' in line ? [{ at, example: line.form }] : []));
    case 'tagged': {
      const seen = new Map<string, string>();
      for (const line of lines) {
        const { texts } = splitColumns(line, shape.delimiter);
        texts.forEach((text, index) => {
          if (index !== shape.tagAt) seen.set(`${texts[shape.tagAt]}.${index}`, text);
        });
      }
      return [...seen]
        .filter(([at]) => shape.gather.order.some((tag) => at.startsWith(`${tag}.`)))
        .slice(0, MOST)
        .map(([at, example]) => ({ at, example }));
    }
    case 'json':
      return bestOf(lines.map(jsonPlaces));
    case 'fixed':
      return [];
    case 'registers': {
      const hex = (lines.at(-1) ?? '').replace(/^[:\s]+/, '').trimEnd();
      const count = Math.max(0, Math.floor((hex.length / 2 - shape.skipBytes - 1) / 2));
      return Array.from({ length: Math.min(count, 32) }, (_, at) => ({
        at,
        example: String(Number.parseInt(hex.slice((shape.skipBytes + at * 2) * 2, (shape.skipBytes + at * 2 + 2) * 2), 16)),
      }));
    }
    case 'pattern':
      return groupNames(shape.pattern).map((at) => ({ at, example: '' }));
  }
}

/** @param lines texts of the newest lines, as they came */
export function placesOf(recipe: LineRecipe, lines: readonly string[]): Place[] {
  const found = foundIn(recipe, lines).slice(0, MOST);
  const known = new Set(found.map(({ at }) => placeKey(at)));
  const wanted: FieldPlace[] = recipe.fields.map(({ at }) => at);
  if (recipe.time.kind === 'field') wanted.push(recipe.time.at);
  if (recipe.status !== undefined) wanted.push(recipe.status.at);
  const last = lines.at(-1) ?? '';
  for (const at of wanted) {
    if (known.has(placeKey(at))) continue;
    known.add(placeKey(at));
    found.push({ at, example: typeof at === 'object' ? last.slice(at.start, at.end) : '' });
  }
  const sorted = found.every(({ at }) => typeof at === 'number') ? [...found].sort((a, b) => Number(a.at) - Number(b.at)) : found;
  return sorted.map(({ at, example }) => ({ at, key: placeKey(at), label: placeLabel(at), example: example.slice(0, 40) }));
}
