/** In which order the tags of a cycle come, as a silence, the alphabet or the lines themselves tell it. */
import { mostFrequent } from './cells.ts';

export function orderOf(lines: readonly { tag: string; line: number }[], tags: readonly string[], gaps: ReadonlySet<number>): string[] {
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
