import { RE2JS } from 're2js';
import type { FieldPlace } from '../../measurement/recipe.ts';
import type { ShapeOf } from '../../measurement/recipe-shape.ts';
import { rejected, TWO_VALUES, type Extractor, type Slot } from './extraction.ts';
import { pathsSaidTwice } from './json-twice.ts';
import { createGatherer } from './gather.ts';
import { splitColumns } from './split-columns.ts';
import { rejectionTexts } from '../../words/core/lines.ts';
import { defined } from '../../defined.ts';

const nameOf = (at: FieldPlace): string => (typeof at === 'object' ? '' : String(at));

const stepInto = (value: unknown, key: string): unknown => {
  if (typeof value !== 'object' || value === null) return undefined;
  if (Array.isArray(value)) return /^\d+$/.test(key) ? (value as unknown[])[Number(key)] : undefined;
  return Object.hasOwn(value, key) ? (value as Record<string, unknown>)[key] : undefined;
};

const asText = (value: unknown): string | undefined => {
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  if (typeof value === 'string') return value;
  return value === null ? '' : undefined;
};

/** JSON objects, one a line; places are dotted paths ('gas.o2', 'temps.0'). Text before the first brace is skipped. */
export function createJsonExtractor({ tag, gather }: ShapeOf<'json'>, slots: readonly Slot[]): Extractor {
  const paths = slots.map(({ at }) => nameOf(at).split('.'));
  const gatherer = tag === undefined || gather === undefined ? undefined : createGatherer(gather.order, slots.length);
  const tagPath = tag?.split('.') ?? [];
  // Looking for the name twice is quick, and nearly always the end of it.
  const names = [...new Set(paths.map((path) => `"${path.at(-1) ?? ''}"`))];
  const isTwice = (text: string): boolean =>
    names.some((name) => {
      const first = text.indexOf(name);
      return first >= 0 && text.includes(name, first + 1);
    });
  const withTwice = (texts: (string | undefined)[], text: string): (string | undefined)[] => {
    const twice = pathsSaidTwice(text);
    if (twice.size === 0) return texts;
    const isSaidTwice = (path: readonly string[]): boolean => path.some((_, at) => twice.has(path.slice(0, at + 1).join('.')));
    return texts.map((one, slot) => (one !== undefined && isSaidTwice(paths[slot] ?? []) ? TWO_VALUES : one));
  };
  return {
    ...defined({ end: gatherer === undefined ? undefined : () => gatherer.end() }),
    extract(text, timeMs) {
      const brace = text.search(/[{[]/);
      if (brace < 0) return /\d/.test(text) ? rejected('undecodable', rejectionTexts.noJson) : { kind: 'ignored', why: 'banner' };
      let parsed: unknown;
      try {
        parsed = JSON.parse(text.slice(brace));
      } catch {
        return rejected('undecodable', rejectionTexts.brokenJson);
      }
      if (gatherer !== undefined) {
        const name = asText(tagPath.reduce<unknown>(stepInto, parsed)) ?? '';
        const texts = paths.map((path) => (path[0] === name ? asText(path.slice(1).reduce<unknown>(stepInto, parsed)) : undefined));
        return gatherer.add({ tags: [name], texts, starts: [] }, timeMs);
      }
      const read = paths.map((path) => asText(path.reduce<unknown>(stepInto, parsed)));
      const texts = isTwice(text) ? withTwice(read, text.slice(brace)) : read;
      if (texts.every((value) => value === undefined)) return rejected('no-channel', rejectionTexts.noKey);
      return { kind: 'texts', texts, starts: texts.map(() => 0) };
    },
  };
}

/** Values at fixed character places. */
export function createFixedExtractor(shape: ShapeOf<'fixed'>, slots: readonly Slot[]): Extractor {
  return {
    extract(text) {
      if (text.length < shape.length) return rejected('too-few-fields', rejectionTexts.length(text.length, shape.length));
      if (text.trimEnd().length > shape.length) return rejected('too-many-fields', rejectionTexts.length(text.length, shape.length));
      const texts = slots.map(({ at }) => (typeof at === 'object' ? text.slice(at.start, at.end) : undefined));
      return { kind: 'texts', texts, starts: slots.map(({ at }) => (typeof at === 'object' ? at.start : 0)) };
    },
  };
}

/** Hex pairs behind a colon; two bytes, high byte first, are a register. The check has been taken off. */
export function createRegistersExtractor(shape: ShapeOf<'registers'>, slots: readonly Slot[]): Extractor {
  return {
    extract(text) {
      const hex = text.replace(/^[:\s]+/, '').trimEnd();
      if (!/^[0-9A-Fa-f]*$/.test(hex) || hex.length % 2 !== 0) return rejected('undecodable', rejectionTexts.noHexPairs);
      const first = shape.skipBytes * 2;
      const texts: (string | undefined)[] = [];
      const starts: number[] = [];
      for (const { at } of slots) {
        const from = first + Number(at) * 4;
        const word = hex.slice(from, from + 4);
        starts.push(from + text.length - hex.length);
        if (word.length < 4) {
          texts.push(undefined);
          continue;
        }
        const raw = Number.parseInt(word, 16);
        texts.push(String(shape.signed && raw >= 0x8000 ? raw - 0x10000 : raw));
      }
      if (texts.every((value) => value === undefined)) return rejected('too-few-fields', rejectionTexts.noRegister);
      return { kind: 'texts', texts, starts };
    },
  };
}

/** Lines one of whose columns says what the others are; places are `TAG.column`. */
export function createTaggedExtractor(shape: ShapeOf<'tagged'>, slots: readonly Slot[]): Extractor {
  const gatherer = createGatherer(shape.gather.order, slots.length);
  const places = slots.map(({ at }) => {
    const text = nameOf(at);
    const dot = text.lastIndexOf('.');
    return { tag: text.slice(0, dot), column: Number(text.slice(dot + 1)) };
  });
  return {
    extract(text, timeMs) {
      const cells = splitColumns(text, shape.delimiter);
      const tag = cells.texts[shape.tagAt] ?? '';
      const isHere = places.map((place) => place.tag === tag);
      const texts = places.map((place, slot) => (isHere[slot] ? cells.texts[place.column] : undefined));
      return gatherer.add({ tags: [tag], texts, starts: places.map((place) => cells.starts[place.column] ?? 0) }, timeMs);
    },
    end: () => gatherer.end(),
  };
}

/** The time for one line grows with the pattern's own size; one of seven repeated groups needs about 100. */
const MOST_STEPS = 500;

/** A pattern that the engine does not take gives a sentence; undefined when it is usable. */
export function patternFlaw(pattern: string): string | undefined {
  try {
    const compiled = RE2JS.compile(pattern);
    if (compiled.programSize() > MOST_STEPS) return rejectionTexts.patternTooBig;
    return Object.keys(compiled.namedGroups()).length === 0 ? rejectionTexts.patternWithoutGroup : undefined;
  } catch (flaw) {
    return flaw instanceof Error ? flaw.message : String(flaw);
  }
}

/** A pattern with named groups, on an engine whose time is linear in the line whatever the pattern. */
export function createPatternExtractor(shape: ShapeOf<'pattern'>, slots: readonly Slot[]): Extractor {
  const flaw = patternFlaw(shape.pattern);
  if (flaw !== undefined) return { extract: () => rejected('no-match', rejectionTexts.patternUnusable(flaw)) };
  const compiled = RE2JS.compile(shape.pattern);
  const groups = compiled.namedGroups();
  const groupOf = slots.map(({ at }) => groups[nameOf(at)] ?? -1);
  const gatherer = shape.gather === undefined ? undefined : createGatherer(shape.gather.order, slots.length);
  return {
    extract(text, timeMs) {
      const matcher = compiled.matcher(text);
      if (!matcher.find()) return rejected('no-match', rejectionTexts.noMatch);
      const texts = groupOf.map((group) => (group < 0 ? undefined : (matcher.group(group) ?? undefined)));
      const starts = groupOf.map((group) => (group < 0 ? 0 : Math.max(0, matcher.start(group))));
      if (gatherer === undefined) return { kind: 'texts', texts, starts };
      const tags = slots.flatMap(({ at }, slot) => (texts[slot] === undefined ? [] : [nameOf(at)]));
      return gatherer.add({ tags, texts, starts }, timeMs);
    },
    ...defined({ end: gatherer === undefined ? undefined : () => gatherer.end() }),
  };
}
