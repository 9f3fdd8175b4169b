import { splitColumns } from '../../reading/split-columns.ts';
import { unitFromText } from '../../unit-spellings.ts';
import { mostFrequent } from './cells.ts';
import type { LinesToLearn } from './lines-to-learn.ts';
import { makeColumn, styleOf, type Column, type Table } from './table.ts';
import { orderOf } from './tag-order.ts';

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
