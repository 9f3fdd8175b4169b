/** Changes of a recipe in the editor, each a new recipe. What is half done need not be usable; `checkRecipe` says so at the end. Pure. */
import { channelIds, type ChannelId } from '../../../../shared/measurement/channel.ts';
import { LineRecipe, type FieldPlace, type RecipeField } from '../../../../shared/measurement/recipe.ts';
import type { Shape, ShapeOf } from '../../../../shared/measurement/recipe-shape.ts';
import { unitsFor, type SentUnit } from '../../../../shared/measurement/sent-unit.ts';
import { absentReasons, instrumentStates, type AbsentReason } from '../../../../shared/measurement/sample.ts';
import { recipeWords as words } from '../../../../shared/words/lines/lines.ts';
import { placeKey } from './recipe-places.ts';
import { defined } from '../../../../shared/defined.ts';

export type Role = ChannelId | 'none' | 'time' | 'status';

/** A recipe to begin with when nothing is known. */
export const blankRecipe = (name: string): LineRecipe => ({
  ...LineRecipe.parse({
    format: 'flueside-recipe',
    version: 1,
    name,
    shape: { kind: 'columns', delimiter: ',' },
    fields: [{ channel: 'o2', at: 0, unit: '%' }],
  }),
  fields: [],
});

export function roleAt(recipe: LineRecipe, at: FieldPlace): Role {
  const key = placeKey(at);
  const field = recipe.fields.find((one) => placeKey(one.at) === key);
  if (field !== undefined) return field.channel;
  if (recipe.time.kind === 'field' && placeKey(recipe.time.at) === key) return 'time';
  return recipe.status !== undefined && placeKey(recipe.status.at) === key ? 'status' : 'none';
}

/** One piece has one role, and one role one piece: what had it before has none. */
export function withRole(recipe: LineRecipe, at: FieldPlace, role: Role): LineRecipe {
  const key = placeKey(at);
  const before = recipe.fields.find((field) => placeKey(field.at) === key);
  const next: LineRecipe = { ...recipe, fields: recipe.fields.filter((field) => placeKey(field.at) !== key && field.channel !== role) };
  if (next.time.kind === 'field' && (placeKey(next.time.at) === key || role === 'time')) next.time = { kind: 'arrival' };
  if (next.status !== undefined && (placeKey(next.status.at) === key || role === 'status')) delete next.status;
  if (role === 'none') return next;
  if (role === 'time') return { ...next, time: { kind: 'field', at, format: 'clock' } };
  if (role === 'status') return { ...next, status: { at, words: recipe.status?.words ?? {}, masks: [], radix: 16 } };
  const units = unitsFor(role);
  const unit = before !== undefined && units.includes(before.unit) ? before.unit : (units[0] as SentUnit);
  const usual: SentUnit = ['co', 'no', 'no2', 'so2', 'ambientCo'].includes(role) && before === undefined ? 'ppm' : unit;
  const field: RecipeField = { channel: role, at, unit: usual, scale: before?.scale ?? 1, offset: before?.offset ?? 0 };
  if (before?.name !== undefined) field.name = before.name;
  const fields = [...next.fields, field].sort((a, b) => channelIds.indexOf(a.channel) - channelIds.indexOf(b.channel));
  return { ...next, fields };
}

export const withField = (recipe: LineRecipe, channel: ChannelId, change: Partial<RecipeField>): LineRecipe => ({
  ...recipe,
  fields: recipe.fields.map((field) => (field.channel === channel ? { ...field, ...change } : field)),
});

/** '0 to 1000', '-20..60', '-20 60' -> a range; '' -> none; undefined: not understood. */
export function parsePossible(text: string): [number, number] | 'none' | undefined {
  const plain = text
    .replace(/\u2212/g, '-')
    .replace(/(\d),(\d)/g, '$1.$2')
    .trim();
  if (plain === '') return 'none';
  const found = /^(-?\d+(?:\.\d+)?)\s*(?:to|\.\.|;|\s)\s*(-?\d+(?:\.\d+)?)$/.exec(plain);
  if (found === null) return undefined;
  const low = Number(found[1]);
  const high = Number(found[2]);
  return low < high ? [low, high] : undefined;
}
export const possibleText = ({ valid }: Pick<RecipeField, 'valid'>): string =>
  valid === undefined ? '' : `${valid[0]} to ${valid[1]}`.replace(/-/g, '\u2212');

export function withPossible(recipe: LineRecipe, channel: ChannelId, range: [number, number] | 'none'): LineRecipe {
  return {
    ...recipe,
    fields: recipe.fields.map((field) => {
      if (field.channel !== channel) return field;
      const { valid, ...rest } = field;
      void valid;
      return range === 'none' ? rest : { ...rest, valid: range };
    }),
  };
}

/** Another shape has other places, so that nothing of the table can stay but the shape's own suggestions. */
export function withShape(recipe: LineRecipe, kind: Shape['kind']): LineRecipe {
  if (kind === recipe.shape.kind) return recipe;
  const rest: LineRecipe = { ...recipe, fields: [], time: { kind: 'arrival' } };
  delete rest.status;
  switch (kind) {
    case 'columns':
      return { ...rest, shape: { kind, delimiter: ',', layouts: [], quoted: false } };
    case 'keyed':
      return { ...rest, shape: { kind, separator: '=', between: 'blank' } };
    case 'tagged':
      return { ...rest, shape: { kind, delimiter: 'blanks', tagAt: 0, gather: { order: ['A', 'B', 'C', 'D'] } } };
    case 'cycle':
      return { ...rest, shape: { kind, lines: [{ form: '9.9' }, { form: '9' }, { form: '9.9' }, { form: '9.9' }] } };
    case 'json':
      return { ...rest, shape: { kind } };
    case 'fixed':
      return { ...rest, shape: { kind, length: 16 } };
    case 'registers':
      return { ...rest, shape: { kind, skipBytes: 3, signed: true } };
    case 'pattern':
      return { ...rest, shape: { kind, pattern: '(?P<o2>[0-9.]+)' } };
  }
}

/** The lines of a cycle as one text to type: `9.9 % | 9 ppm | "----"`. */
export const cycleText = ({ lines }: ShapeOf<'cycle'>): string =>
  lines.map((line) => ('form' in line ? line.form : `"${line.text}"`)).join(' | ');

export const parseCycle = (text: string): ShapeOf<'cycle'> => ({
  kind: 'cycle',
  lines: text
    .split('|')
    .map((part) => part.trim())
    .slice(0, 48)
    .map((part) => (part.startsWith('"') ? { text: part.replace(/^"|"$/g, '').slice(0, 80) } : { form: part.slice(0, 80) })),
});

/** Another sign to split at makes other pieces: the count and the header that were learned no longer hold. */
export function withDelimiter(recipe: LineRecipe, delimiter: string): LineRecipe {
  const { shape } = recipe;
  if (shape.kind === 'columns') return { ...recipe, shape: { kind: 'columns', delimiter, layouts: [], quoted: shape.quoted } };
  return shape.kind === 'tagged' ? { ...recipe, shape: { ...shape, delimiter } } : recipe;
}

const channelNames: Readonly<Record<string, ChannelId>> = Object.fromEntries(channelIds.map((id) => [id.toLowerCase(), id]));

/** Words and numbers that mean no value, as lines to type. */
export const noValueText = ({ words: own, sentinels }: LineRecipe): string =>
  [
    ...Object.entries(own).map(([word, means]) => `${word} = ${words.absent[means]}`),
    ...sentinels.map(({ value, means, channel }) => `${channel === undefined ? '' : `${channel} `}${value} = ${words.absent[means]}`),
  ].join('\n');

/** @returns the line that is not understood, or what the lines say */
export function parseNoValue(text: string): { wrong: string } | Pick<LineRecipe, 'words' | 'sentinels'> {
  const found: Pick<LineRecipe, 'words' | 'sentinels'> = { words: {}, sentinels: [] };
  for (const line of text.split('\n')) {
    if (line.trim() === '') continue;
    const cut = line.lastIndexOf('=');
    const sent = line.slice(0, cut).trim();
    const said = line
      .slice(cut + 1)
      .trim()
      .toLowerCase();
    const means = absentReasons.find((reason): reason is AbsentReason => reason === said || words.absent[reason] === said);
    if (cut < 0 || sent === '' || sent.length > 40 || means === undefined) return { wrong: line.trim() };
    const number = /^(?:([a-z]\w*)\s+)?([-+]?\d+(?:\.\d+)?)$/i.exec(sent);
    const channel = number?.[1] === undefined ? undefined : channelNames[number[1].toLowerCase()];
    if (number === null || (number[1] !== undefined && channel === undefined)) found.words[sent] = means;
    else found.sentinels.push({ value: Number(number[2]), means, ...defined({ channel }) });
  }
  return found;
}

export const statusText = ({ status }: LineRecipe): string =>
  Object.entries(status?.words ?? {})
    .map(([word, state]) => `${word} = ${words.states[state]}`)
    .join('\n');
export function parseStatus(text: string): { wrong: string } | { words: NonNullable<LineRecipe['status']>['words'] } {
  const found: NonNullable<LineRecipe['status']>['words'] = {};
  for (const line of text.split('\n')) {
    if (line.trim() === '') continue;
    const cut = line.lastIndexOf('=');
    const word = line.slice(0, cut).trim();
    const said = line
      .slice(cut + 1)
      .trim()
      .toLowerCase();
    const state = instrumentStates.find((one) => one === said || words.states[one] === said);
    if (cut < 0 || word === '' || word.length > 40 || state === undefined) return { wrong: line.trim() };
    found[word] = state;
  }
  return { words: found };
}
