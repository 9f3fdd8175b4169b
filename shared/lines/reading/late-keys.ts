/** The keys that one line has, and those of them that name a channel nobody reads yet. */
import type { ChannelId } from '../../measurement/channel.ts';
import type { LineRecipe } from '../../measurement/recipe.ts';
import type { ShapeOf } from '../../measurement/recipe-shape.ts';
import { cleanLine } from '../clean-line.ts';
import { nameMeaning } from '../learning/names/column-name.ts';
import { peelLog } from '../peel-log.ts';
import { CLEAR, roleOf } from './late-head.ts';
import { normalKey, splitPairs } from './read-keyed.ts';
import { splitColumns } from './split-columns.ts';

const DEEPEST = 5;
const MOST_KEYS = 60;

function pathsIn(value: unknown, path: string, depth: number, found: string[]): void {
  if (found.length >= MOST_KEYS) return;
  if (typeof value !== 'object' || value === null) {
    if (path !== '') found.push(path);
    return;
  }
  if (depth > DEEPEST) return;
  for (const [key, inner] of Object.entries(value)) pathsIn(inner, path === '' ? key : `${path}.${key}`, depth + 1, found);
}

function jsonKeys(text: string, { tag }: ShapeOf<'json'>): string[] {
  const brace = text.search(/[{[]/);
  if (brace < 0) return [];
  const found: string[] = [];
  try {
    const parsed = JSON.parse(text.slice(brace)) as Record<string, unknown>;
    pathsIn(parsed, '', 0, found);
    if (tag === undefined) return found;
    const word = parsed[tag];
    return typeof word === 'string' ? found.map((path) => `${word}.${path}`) : [];
  } catch {
    return [];
  }
}

/** What tells the values of a line apart, where a recipe finds them by name; undefined where it finds them by their place. */
export function keysByName({
  shape,
  ignore,
  framing,
}: LineRecipe): { keysOf: (bytes: string) => readonly string[]; keyAt: (at: string) => string } | undefined {
  const textOf = (bytes: string): string => cleanLine(ignore.logPrefix ? peelLog(bytes) : bytes, framing.encoding).text;
  if (shape.kind === 'json') return { keysOf: (bytes) => jsonKeys(textOf(bytes), shape), keyAt: (at) => at };
  if (shape.kind === 'tagged')
    return {
      keysOf(bytes) {
        const { texts } = splitColumns(textOf(bytes), shape.delimiter);
        const tag = texts[shape.tagAt] ?? '';
        return tag === '' ? [] : texts.flatMap((_, at) => (at === shape.tagAt ? [] : [`${tag}.${at}`])).slice(0, MOST_KEYS);
      },
      keyAt: (at) => at,
    };
  if (shape.kind !== 'keyed') return undefined;
  return {
    keysOf: (bytes) => splitPairs(textOf(bytes), shape.separator, shape.between).map(({ key }) => normalKey(key)),
    keyAt: normalKey,
  };
}

/** Does the key, or a part of its path, name a channel that is not among these? */
export function namesAnother(key: string, channels: ReadonlySet<ChannelId>): boolean {
  return [key, ...key.split('.')].some((part) => {
    const { roles } = nameMeaning(part);
    return (Object.keys(roleOf) as ChannelId[]).some((channel) => {
      const role = roleOf[channel];
      return role !== undefined && !channels.has(channel) && (roles[role] ?? 0) >= CLEAR;
    });
  });
}
