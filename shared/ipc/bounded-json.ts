/** JSON from elsewhere: how much it holds and how deep it goes is looked at before it is taken apart. */

export type JsonLimits = {
  /** values of all kinds, counted by the signs between them */
  readonly values: number;
  readonly depth: number;
};
/** far above anything that one message or one record of ours holds */
export const RECORD_LIMITS: JsonLimits = { values: 200_000, depth: 64 };
export const MESSAGE_LIMITS: JsonLimits = { values: 200_000, depth: 64 };

/** @returns undefined when it is no JSON, or more than that */
export function boundedJson(text: string, limits: JsonLimits): unknown {
  if (!isWithin(text, limits)) return undefined;
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function isWithin(text: string, { values, depth }: JsonLimits): boolean {
  let count = 1;
  let level = 0;
  let isInText = false;
  for (let at = 0; at < text.length; at++) {
    const sign = text.charCodeAt(at);
    if (isInText) {
      if (sign === BACKSLASH) at++;
      else if (sign === QUOTE) isInText = false;
    } else if (sign === QUOTE) isInText = true;
    else if (sign === COMMA) count++;
    else if (sign === OPEN_LIST || sign === OPEN_OBJECT) {
      count++;
      level++;
    } else if (sign === CLOSE_LIST || sign === CLOSE_OBJECT) level--;
    if (level > depth || count > values) return false;
  }
  return true;
}
const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const COMMA = 0x2c;
const OPEN_LIST = 0x5b;
const CLOSE_LIST = 0x5d;
const OPEN_OBJECT = 0x7b;
const CLOSE_OBJECT = 0x7d;

/** The same for what arrives as a value already. It walks without calling itself, so no depth can end the program. */
export function isBoundedValue(value: unknown, { values, depth }: JsonLimits): boolean {
  let level: unknown[] = [value];
  let count = 0;
  for (let reached = 0; level.length > 0; reached++) {
    if (reached > depth + 1) return false;
    const next: unknown[] = [];
    for (const one of level) {
      if (++count > values) return false;
      if (typeof one !== 'object' || one === null) continue;
      for (const inner of Object.values(one)) next.push(inner);
      if (next.length > values) return false;
    }
    level = next;
  }
  return true;
}
