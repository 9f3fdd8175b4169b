/** Keys that one JSON object has twice: parsing keeps the last value and says nothing. */

const QUOTE = 34;
const BACKSLASH = 92;

/** Where the string that begins at `from` (a quote) ends: the place of its closing quote. */
function endOfString(text: string, from: number): number {
  let at = from + 1;
  while (at < text.length && text.charCodeAt(at) !== QUOTE) at += text.charCodeAt(at) === BACKSLASH ? 2 : 1;
  return at;
}

const separators = /[\s,:{}[\]]/;
/** The text of a plain value; of an object or a list, nothing: two of these are two values. */
function plainValueAt(text: string, from: number): string | undefined {
  let at = from;
  while (text.charCodeAt(at) === 32) at += 1;
  if (text[at] === '{' || text[at] === '[') return undefined;
  if (text.charCodeAt(at) === QUOTE) return text.slice(at, endOfString(text, at) + 1);
  const start = at;
  while (at < text.length && !separators.test(text[at] ?? '')) at += 1;
  return text.slice(start, at);
}

type Level = {
  readonly path: string;
  readonly values: Map<string, string | undefined>;
  readonly isList: boolean;
  index: number;
  key: string;
};

/**
 * Dotted paths ('gas.o2') that come twice with different values in one text of JSON that parses. Linear in the text.
 */
export function pathsSaidTwice(text: string): ReadonlySet<string> {
  const twice = new Set<string>();
  const levels: Level[] = [];
  const pathOf = (): string => {
    const top = levels.at(-1);
    if (top === undefined) return '';
    const own = top.isList ? String(top.index) : top.key;
    return top.path === '' ? own : `${top.path}.${own}`;
  };
  for (let at = 0; at < text.length; at++) {
    const sign = text[at];
    const top = levels.at(-1);
    if (sign === '"') {
      const end = endOfString(text, at);
      let next = end + 1;
      while (text.charCodeAt(next) === 32) next += 1;
      if (top !== undefined && !top.isList && text[next] === ':') {
        top.key = text.slice(at + 1, end);
        const value = plainValueAt(text, next + 1);
        if (top.values.has(top.key) && (value === undefined || top.values.get(top.key) !== value)) twice.add(pathOf());
        else top.values.set(top.key, value);
        at = next;
      } else at = end;
    } else if (sign === '{' || sign === '[') levels.push({ path: pathOf(), values: new Map(), isList: sign === '[', index: 0, key: '' });
    else if (sign === '}' || sign === ']') levels.pop();
    else if (sign === ',' && top !== undefined) top.index += 1;
  }
  return twice;
}
