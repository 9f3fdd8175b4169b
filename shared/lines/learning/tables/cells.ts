/** What a cell of a table looks like before anything is known of its column. */
export const mostFrequent = <T>(items: Iterable<T>): { item: T; count: number } | undefined => {
  const counts = new Map<T, number>();
  for (const item of items) counts.set(item, (counts.get(item) ?? 0) + 1);
  let best: { item: T; count: number } | undefined;
  for (const [item, count] of counts) if (best === undefined || count > best.count) best = { item, count };
  return best;
};

const startsNumber = /^[<>]?[+\-(\u2212]?\s*[.,]?\d/;
export const isNumeric = (cell: string): boolean => startsNumber.test(cell);
export const hasTwoNumbers = (cells: readonly string[]): boolean => {
  const first = cells.findIndex(isNumeric);
  return first >= 0 && cells.some((cell, at) => at > first && isNumeric(cell));
};

export const isSentenceName = (text: string): boolean => /^[$!#@&][A-Za-z]/.test(text);
