import { createRegistersExtractor } from '../../reading/read-places.ts';
import { splitColumns } from '../../reading/split-columns.ts';
import { unitFromText } from '../../sent-units.ts';
import { mostFrequent } from './cells.ts';
import { type LinesToLearn } from './lines-to-learn.ts';
import { nameMeaning } from '../names/column-name.ts';
import { makeColumn, styleOf, type Column, type Table } from './table.ts';

const plain = { decimal: '.', thousands: 'none' } as const;

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
  for (const text of texts) {
    const brace = text.search(/[{[]/);
    if (brace < 0) continue;
    try {
      const row = new Map(leaves(JSON.parse(text.slice(brace)), '', 0));
      if (row.size > 0) rows.push(row);
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
  const columns = paths
    .slice(0, 64)
    .map((path) =>
      makeColumn({ at: path, name: jsonName(path, rows), unit: undefined, texts: rows.map((row) => row.get(path) ?? ''), style }),
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

const isTag = (text: string): boolean => /^[$!#@&<]?[A-Za-z][\w.#/%-]{0,15}:?$|^\d{1,2}$/.test(text);

/** After a time or a counter the tag is in the second or third column. */
function tagColumn(split: readonly (readonly string[])[]): number {
  if (split.filter((cells) => /^[A-Za-z$!#@&<]/.test(cells[0] ?? '')).length > split.length * 0.4) return 0;
  for (const at of [1, 2]) {
    const words = split.map((cells) => cells[at] ?? '');
    const good = words.filter((word, row) => /^[A-Za-z][\w.#/%-]{0,15}$/.test(word) && /^[\d"[]/.test(split[row]?.[at - 1] ?? ''));
    if (good.length < split.length * 0.6) continue;
    const changes = words.filter((word, row) => row > 0 && word !== words[row - 1]).length;
    if (changes >= split.length * 0.6 && new Set(good).size <= 24) return at;
  }
  return 0;
}

/** Lines whose first column says what the others are: `A 04.1`, `B 0023`, or sentences of several kinds. */
export function taggedTables({ texts, withDigits }: LinesToLearn, gaps: ReadonlySet<number>): Table[] {
  const tables: Table[] = [];
  for (const delimiter of [',', ';', 'blanks', '\t', '|', '=', ':']) {
    const split = texts.map((text) => splitColumns(text, delimiter).texts);
    const tagAt = tagColumn(split);
    const lines = split.map((cells, line) => ({ tag: cells[tagAt] ?? '', cells, line }));
    const tagged = lines.filter(
      ({ tag, cells }) =>
        cells.length >= 2 + tagAt &&
        (tagAt > 0 ? /^[A-Za-z]/.test(tag) : isTag(tag)) &&
        cells.slice(tagAt + 1).some((cell) => /\d/.test(cell)),
    );
    const counts = new Map<string, number>();
    for (const { tag } of tagged) counts.set(tag, (counts.get(tag) ?? 0) + 1);
    const most = Math.max(0, ...counts.values());
    const tags = [...counts].filter(([, count]) => count >= Math.max(2, most * 0.4)).map(([tag]) => tag);
    if (tags.length < 2 || tags.length > 24) continue;
    const used = tagged.filter(({ tag }) => tags.includes(tag));
    if (used.length < withDigits * 0.5) continue;
    // Digits as tags are a cycle only when they go round.
    if (tags.every((tag) => /^\d+$/.test(tag)) && used.filter(({ tag }, at) => at > 0 && used[at - 1]?.tag === tag).length > 0) continue;
    const order = orderOf(used, tags, gaps);
    const rank = new Map(order.map((tag, at) => [tag, at]));
    const rows: Map<string, readonly string[]>[] = [];
    let row = new Map<string, readonly string[]>();
    let reached = -1;
    for (const { tag, cells } of used) {
      const at = rank.get(tag) ?? 0;
      if (at <= reached) {
        rows.push(row);
        row = new Map();
      }
      row.set(tag, cells);
      reached = at;
    }
    rows.push(row);
    if (rows.length < 3) continue;
    const style = styleOf(
      used.flatMap(({ cells }) => cells.slice(tagAt + 1)),
      delimiter === ',',
    );
    const columns: Column[] = [];
    for (const tag of order) {
      const width = mostFrequent(used.filter((line) => line.tag === tag).map(({ cells }) => cells.length))?.item ?? 2;
      for (let at = 0; at < Math.min(width, 24); at++) {
        // The time before the tag is the same in all lines of a cycle; once is enough.
        if (at === tagAt || (at < tagAt && tag !== order[0])) continue;
        const behind = mostFrequent(rows.map((one) => one.get(tag)?.[at + 1] ?? ''))?.item ?? '';
        columns.push(
          makeColumn({
            at: `${tag}.${at}`,
            name: width === 2 || at === tagAt + 1 ? tag.replace(/[:]$/, '') : '',
            unit: unitFromText(behind),
            texts: rows.map((one) => one.get(tag)?.[at] ?? ''),
            style,
          }),
        );
      }
    }
    if (columns.filter((column) => (column.statistics?.share ?? 0) > 0.4).length < 2) continue;
    tables.push({
      shape: { kind: 'tagged', delimiter, tagAt, gather: { order } },
      columns,
      rows: rows.length,
      share: Math.min(1, used.length / Math.max(1, withDigits)),
      style,
      check: { kind: 'none' },
      prompts: [],
      reasons: [{ key: 'tagged', column: tagAt + 1, tags: order.slice(0, 6) }],
      preference: 0.15,
    });
  }
  return tables;
}

function orderOf(lines: readonly { tag: string; line: number }[], tags: readonly string[], gaps: ReadonlySet<number>): string[] {
  const followers = new Map<string, string[]>();
  for (let at = 1; at < lines.length; at++) {
    const before = lines[at - 1]?.tag ?? '';
    followers.set(before, [...(followers.get(before) ?? []), lines[at]?.tag ?? '']);
  }
  const sorted = [...tags].sort();
  const isSeries = tags.every((tag) => /^[A-Z]$|^[A-Za-z]*\d+$/i.test(tag));
  const afterGap = lines.filter(({ line }) => gaps.has(line)).map(({ tag }) => tag);
  const first =
    (afterGap.length >= 2 ? mostFrequent(afterGap)?.item : undefined) ?? (isSeries ? sorted[0] : undefined) ?? lines[0]?.tag ?? '';
  const order = [first];
  while (order.length < tags.length) {
    const next =
      mostFrequent((followers.get(order.at(-1) ?? '') ?? []).filter((tag) => tags.includes(tag) && !order.includes(tag)))?.item ??
      tags.find((tag) => !order.includes(tag));
    if (next === undefined) break;
    order.push(next);
  }
  return order;
}

/** Hex pairs behind a colon, the check already taken off: 16-bit registers, high byte first. */
export function registersTables({ texts, withDigits }: LinesToLearn): Table[] {
  const hex = texts.filter((text) => /^\s*:?([0-9A-Fa-f]{2}){6,}\s*$/.test(text));
  if (hex.length < 3 || hex.length < withDigits * 0.4) return [];
  const length = mostFrequent(hex.map((text) => text.trim().length))?.item ?? 0;
  const lines = hex.filter((text) => text.trim().length === length);
  const bytes = (text: string): string => text.trim().replace(/^:/, '');
  const tables: Table[] = [];
  const total = bytes(lines[0] ?? '').length / 2;
  for (const skipBytes of [3, 2, 4, 6, 0, 1]) {
    if ((total - skipBytes) % 2 !== 0 || total - skipBytes < 4) continue;
    const count = (total - skipBytes) / 2;
    // Address, function and byte count, as a Modbus answer has them.
    const isCounted = skipBytes === 3 && Number.parseInt(bytes(lines[0] ?? '').slice(4, 6), 16) === count * 2;
    const slots = Array.from({ length: count }, (_, at) => ({ at }));
    const extractor = createRegistersExtractor({ kind: 'registers', skipBytes, signed: true }, slots);
    const rows = lines.map((text) => extractor.extract(text, 0)).map((found) => (found.kind === 'texts' ? found.texts : []));
    const columns = slots.map(({ at }) =>
      makeColumn({ at, name: '', texts: rows.map((row) => row[at] ?? ''), style: plain, scales: [0.1, 1, 0.01] }),
    );
    tables.push({
      shape: { kind: 'registers', skipBytes, signed: true },
      columns,
      rows: rows.length,
      share: Math.min(1, rows.length / Math.max(1, withDigits)),
      style: plain,
      check: { kind: 'none' },
      prompts: [],
      reasons: [{ key: 'hex-registers', count }],
      preference: isCounted ? 0.5 : -0.3,
    });
    if (isCounted) break;
  }
  return tables;
}
