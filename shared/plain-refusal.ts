/** Why a value is refused, in plain words: which field, and what is allowed. For what the schema library says in its own English. */
import type { z } from 'zod';
import { schemaTexts } from './words/core/schema-words.ts';

type Issue = z.core.$ZodIssue;

/** 'roomCo', 0, 'ppm' -> 'room co, 1, ppm': the field's own name, read as words; places in a list are counted from one. */
const fieldOf = (path: readonly PropertyKey[]): string =>
  path
    .map((part) =>
      typeof part === 'number'
        ? String(part + 1)
        : String(part)
            .replace(/([a-z0-9])([A-Z])/g, '$1 $2')
            .toLowerCase(),
    )
    .join(', ');

const sized = (origin: string, size: number | bigint): string => {
  if (origin === 'string') return schemaTexts.letters(String(size));
  return origin === 'array' || origin === 'set' || origin === 'map' ? schemaTexts.entries(String(size)) : String(size);
};

function allowedOf(issue: Issue): string {
  switch (issue.code) {
    case 'too_big':
      return (issue.inclusive === false ? schemaTexts.lessThan : schemaTexts.atMost)(sized(issue.origin, issue.maximum));
    case 'too_small':
      return (issue.inclusive === false ? schemaTexts.moreThan : schemaTexts.atLeast)(sized(issue.origin, issue.minimum));
    case 'invalid_value':
      return schemaTexts.oneOf(issue.values);
    case 'unrecognized_keys':
      return schemaTexts.unknownField(issue.keys);
    case 'invalid_type':
      return issue.expected === 'int'
        ? schemaTexts.whole
        : issue.expected === 'number'
          ? schemaTexts.number
          : issue.expected === 'string'
            ? schemaTexts.text
            : schemaTexts.missing;
    // a sentence of ours, as it is written beside the schema
    case 'custom':
      return issue.message.replace(/\.$/, '');
    default:
      return schemaTexts.wrong;
  }
}

/** @returns one sentence: the first thing that is refused */
export function plainRefusal({ issues }: { readonly issues: readonly Issue[] }): string {
  const [first] = issues;
  return first === undefined ? schemaTexts.line('', schemaTexts.wrong) : schemaTexts.line(fieldOf(first.path), allowedOf(first));
}
