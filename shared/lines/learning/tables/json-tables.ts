import { mostFrequent } from './cells.ts';
import type { LinesToLearn } from './lines-to-learn.ts';
import { nameMeaning } from '../names/column-name.ts';
import { pathsSaidTwice } from '../../reading/json-twice.ts';
import { isTwofoldIn, makeColumn, styleOf, type Table } from './table.ts';
import { orderOf } from './tag-order.ts';

function* leaves(value: unknown, path: string, depth: number): Generator<readonly [string, string]> {
  if (typeof value === 'number' || typeof value === 'string' || typeof value === 'boolean') {
    if (path !== '') yield [path, String(value)];
    return;
  }
  if (value === null && path !== '') yield [path, ''];
  if (typeof value !== 'object' || value === null || depth > 5) return;
  for (const [key, inner] of Object.entries(value as Record<string, unknown>).slice(0, 60)) {
    if (key.includes('.')) continue;
    yield* leaves(inner, path === '' ? key : `${path}.${key}`, depth + 1);
  }
}

/** JSON objects, one a line. */
export function jsonTables({ texts, withDigits }: LinesToLearn): Table[] {
  const rows: Map<string, string>[] = [];
  const twofold = new Map<string, number>();
  for (const text of texts) {
    const brace = text.search(/[{[]/);
    if (brace < 0) continue;
    try {
      const row = new Map(leaves(JSON.parse(text.slice(brace)), '', 0));
      if (row.size > 0) rows.push(row);
      for (const path of pathsSaidTwice(text.slice(brace))) twofold.set(path, (twofold.get(path) ?? 0) + 1);
    } catch {
      // Torn lines are what the share is for.
    }
  }
  if (rows.length < 3 || rows.length < withDigits * 0.4) return [];
  const tagged = taggedJson(rows, withDigits);
  if (tagged !== undefined) return [tagged];
  const counts = new Map<string, number>();
  for (const row of rows) for (const path of row.keys()) counts.set(path, (counts.get(path) ?? 0) + 1);
  const paths = [...counts].filter(([, count]) => count >= rows.length * 0.3).map(([path]) => path);
  const style = styleOf(
    rows.flatMap((row) => [...row.values()]),
    false,
  );
  const columns = paths.slice(0, 64).map((path) =>
    makeColumn({
      at: path,
      name: jsonName(path, rows),
      unit: undefined,
      texts: rows.map((row) => row.get(path) ?? ''),
      style,
      isTwofold: [...twofold].some(([said, times]) => `${path}.`.startsWith(`${said}.`) && isTwofoldIn(times, rows.length)),
    }),
  );
  return [
    {
      shape: { kind: 'json' },
      columns,
      rows: rows.length,
      share: Math.min(1, rows.length / Math.max(1, withDigits)),
      style,
      check: { kind: 'none' },
      prompts: [],
      reasons: [{ key: 'json', count: rows.length }],
      preference: 1,
    },
  ];
}

/** `{"ch":"O2","val":5.2}`: one value in each object, and a word that says which. */
function taggedJson(rows: readonly Map<string, string>[], withDigits: number): Table | undefined {
  const paths = [...(rows[0]?.keys() ?? [])];
  for (const tag of paths) {
    const words = rows.map((row) => row.get(tag) ?? '');
    const counts = new Map<string, number>();
    for (const word of words) counts.set(word, (counts.get(word) ?? 0) + 1);
    const tags = [...counts]
      .filter(([word, count]) => /^[A-Za-z]/.test(word) && count >= Math.max(2, (rows.length / counts.size) * 0.4))
      .map(([word]) => word);
    if (tags.length < 2 || tags.length > 24 || tags.some((word) => word.includes('.'))) continue;
    // A status word beside real values changes seldom; a tag changes with every line.
    if (words.filter((word, at) => at > 0 && word !== words[at - 1]).length < rows.length * 0.7) continue;
    const value = paths.find(
      (path) =>
        path !== tag &&
        rows.filter((row) => /^[<>]?[+-]?[\d.]/.test(row.get(path) ?? '')).length > rows.length * 0.5 &&
        !/^(t|ts|time|timestamp|n|seq|id)$/i.test(path),
    );
    if (value === undefined) continue;
    const order = orderOf(
      words.map((word, line) => ({ tag: word, line })).filter(({ tag: word }) => tags.includes(word)),
      tags,
      new Set(),
    );
    const rank = new Map(order.map((word, at) => [word, at]));
    const cycles = [new Map<string, string>()];
    let reached = -1;
    for (const [at, word] of words.entries()) {
      const place = rank.get(word);
      if (place === undefined) continue;
      if (place <= reached) cycles.push(new Map());
      cycles.at(-1)?.set(word, rows[at]?.get(value) ?? '');
      reached = place;
    }
    const style = styleOf(
      rows.map((row) => row.get(value) ?? ''),
      false,
    );
    const columns = order.map((word) =>
      makeColumn({ at: `${word}.${value}`, name: word, texts: cycles.map((cycle) => cycle.get(word) ?? ''), style }),
    );
    return {
      shape: { kind: 'json', tag, gather: { order } },
      columns,
      rows: cycles.length,
      share: Math.min(1, rows.length / Math.max(1, withDigits)),
      style,
      check: { kind: 'none' },
      prompts: [],
      reasons: [{ key: 'json-one-value', tag }],
      preference: 1,
    };
  }
  return undefined;
}

const ofRoom = /(^|[^a-z])(amb|ambient|room|raum|umgebung|indoor|outdoor|cellar|keller)([^a-z]|$)/i;
const ofFlue = /burner|boiler|furnace|kessel|brenner|flue|stack|exhaust|chimney|abgas|fum/i;
const speaksForAnother = (around: string, name: string): boolean =>
  !ofFlue.test(around) &&
  (ofRoom.test(around) || nameMeaning(around).excludedBy !== undefined || nameMeaning(`${around} ${name}`).excludedBy !== undefined);

/** 'gas.o2.value' is named by 'o2'; a unit beside the value ('gas.o2.unit') joins the name. */
function jsonName(path: string, rows: readonly Map<string, string>[]): string {
  const parts = path.split('.');
  const last = parts.at(-1) ?? '';
  const isValue = /^(v|val|value|reading|mean|avg)$/i.test(last) && parts.length > 1;
  const name = isValue ? (parts.at(-2) ?? last) : /^\d+$/.test(last) && parts.length > 1 ? `${parts.at(-2)} ${Number(last) + 1}` : last;
  if (isValue) {
    const parent = parts.slice(0, -1).join('.');
    for (const key of ['unit', 'units', 'u', 'uom']) {
      const unit = mostFrequent(rows.map((row) => row.get(`${parent}.${key}`) ?? ''))?.item;
      if (unit !== undefined && unit !== '') return `${name} [${unit}]`;
    }
  }
  const [group] = parts;
  // {"room":{"co":3}}, {"limits":{"co":400}}: what encloses it says that it is no flue gas.
  const around = parts.slice(0, isValue ? -2 : -1).join(' ');
  if (around !== '' && speaksForAnother(around, name)) return `${around} ${name}`;
  return parts.length > 1 &&
    !isValue &&
    /^(stack|flue|air|ambient|amb|room|exhaust)$/i.test(group ?? '') &&
    /^(t|temp|temperature|c|deg)$/i.test(last)
    ? `${group} temperature`
    : name;
}
