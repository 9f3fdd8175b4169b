/**
 * Lines in which the same characters come again and again between the numbers: 'O2+004.50%CO+00012ppm', '[O2=4.5%][CO=12ppm]'. Looked
 * for only where no other shape reads them. The recipe is a pattern with one named group for each number.
 */
import type { SentUnit } from '../../../measurement/sent-unit.ts';
import { defined } from '../../../defined.ts';
import { absentReason } from '../../reading/absent-words.ts';
import { unitFromText } from '../../unit-spellings.ts';
import { mostFrequent } from './cells.ts';
import type { LinesToLearn } from './lines-to-learn.ts';
import { nameMeaning } from '../names/column-name.ts';
import { makeColumn, styleOf, type Table } from './table.ts';

/** a time or a date with its time is one piece */
const piece = /\d{4}-\d\d-\d\d[T ]\d\d:\d\d(?::\d\d(?:[.,]\d+)?)?|\d{1,2}:\d\d:\d\d(?:[.,]\d+)?|[+-]?\d+(?:[.,]\d+)?|-{2,}|\*{2,}/g;
const VALUE = '[+-]?[0-9]+(?:[.,][0-9]+)?|-{2,}|\\*{2,}';
const MOMENT = '[0-9][0-9:.,T -]*[0-9]';
const MOST_PIECES = 24;
const LONGEST_PATTERN = 900;
const LONGEST_LINE = 400;
/** share of the lines that are built so */
const SHARE = 0.6;
const LEAST_LINES = 4;

type Taken = { readonly literals: readonly string[]; readonly values: readonly string[] };

/** The digit of 'O2', 'CO2' or 'T1' belongs to the name: a letter is before it, and no digit or mark behind. */
const isOfName = (text: string, at: number, found: string): boolean =>
  /^\d$/.test(found) && /[A-Za-z]/.test(text.charAt(at - 1)) && /^(?![.,]?\d)/.test(text.slice(at + found.length));

function takeApart(text: string): Taken | undefined {
  const literals: string[] = [];
  const values: string[] = [];
  let from = 0;
  for (const found of text.matchAll(piece)) {
    if (isOfName(text, found.index, found[0])) continue;
    if (values.length === MOST_PIECES) return undefined;
    literals.push(text.slice(from, found.index));
    values.push(found[0]);
    from = found.index + found[0].length;
  }
  literals.push(text.slice(from));
  // how many blanks there are depends on how many digits there are
  return values.length === 0 ? undefined : { literals: literals.map((literal) => literal.replace(/\s+/g, ' ')), values };
}

const bareName = (text: string): string => text.replace(/^[^A-Za-z%\u00b0\u00c0-\u024f]+/, '').replace(/[^A-Za-z0-9%)\u00c0-\u024f]+$/, '');
const isKnown = (name: string): boolean => name !== '' && Object.keys(nameMeaning(name).roles).length > 0;
const LONGEST_UNIT = 12;

/** What is between two numbers: the unit of the first, then the name of the second. */
function unitAndName(literal: string): { unit: SentUnit | undefined; name: string } {
  const text = literal.trimStart();
  for (let length = Math.min(LONGEST_UNIT, text.length); length > 0; length--) {
    const unit = unitFromText(text.slice(0, length).trim());
    const rest = text.slice(length);
    if (unit === undefined || (/[A-Za-z]$/.test(text.slice(0, length)) && /^[A-Za-z]/.test(rest))) continue;
    return { unit, name: bareName(rest) };
  }
  // 'ppmTS', 'CTA': letters of a unit and of a name without anything between; 'CO' is a name and not C with an O.
  for (let length = Math.min(LONGEST_UNIT, text.length - 1); length > 0; length--) {
    const unit = unitFromText(text.slice(0, length));
    const name = bareName(text.slice(length));
    if (unit === undefined || !isKnown(name) || (length === 1 && isKnown(bareName(text)))) continue;
    return { unit, name };
  }
  return { unit: undefined, name: bareName(text) };
}

const escaped = (literal: string): string =>
  literal
    .split(' ')
    .map((part) => part.replace(/[\\^$.*+?()[\]{}|]/g, '\\$&'))
    .join('\\s*');

/** 'O2=5.1% OK CO=12ppm OK': the state of the value before is no part of the next name */
const stateBefore = /^(?:ok|good|valid)[\s,;:]+(?=[A-Za-z])/i;
/** two letters and fewer may be a unit or the front of a name */
const saysNoValue = (literal: string): boolean =>
  (literal.match(/[A-Za-z]{3,}/g) ?? []).some((word) => ['warming-up', 'error'].includes(absentReason(word) ?? ''));
/** 'CO=12ppm(3%O2)': CO as if with so much oxygen */
const referenceBehind = /(?:^|[^a-z0-9])co(?![a-z0-9])[^;|]{0,24}?[([][^()[\]]{0,12}\d\s*(?:%|vol|pct)[^()[\]]{0,8}o ?2\s*[)\]]/i;

export function templateTables({ texts, withDigits }: LinesToLearn): Table[] {
  const taken = texts.filter((text) => text.length <= LONGEST_LINE).flatMap((text) => takeApart(text) ?? []);
  const usual = mostFrequent(taken.map(({ literals }) => literals.join('\u0000')));
  if (usual === undefined || usual.count < LEAST_LINES || usual.count < withDigits * SHARE) return [];
  const literals = usual.item.split('\u0000');
  // 'CO=0ppm WARM': such lines are no readings, and the word goes when they are
  if (literals.some(saysNoValue)) return [];
  const rows = taken.filter((one) => one.literals.join('\u0000') === usual.item).map(({ values }) => values);
  const style = styleOf(rows.flat(), false);
  const coBasis = texts.map((text) => referenceBehind.exec(text)?.[0]).find((found) => found !== undefined);

  const groups = new Set<string>();
  let pattern = '^\\s*';
  const columns = literals.slice(0, -1).map((literal, at) => {
    const own = (at === 0 ? bareName(literal) : unitAndName(literal).name).replace(stateBefore, '');
    const name = own === '' ? `piece ${at + 1}` : own;
    const word = name.replace(/[^A-Za-z0-9]+/g, '_').replace(/^_+|_+$/g, '');
    const group = /^[A-Za-z]\w{0,20}$/.test(word) && !groups.has(word) ? word : `v${at + 1}`;
    groups.add(group);
    const cells = rows.map((row) => row[at] ?? '');
    pattern += `${escaped(literal)}(?P<${group}>${cells.some((cell) => cell.includes(':')) ? MOMENT : VALUE})`;
    return makeColumn({ at: group, name, unit: unitAndName(literals[at + 1] ?? '').unit, texts: cells, style });
  });
  pattern += `${escaped(literals.at(-1) ?? '')}\\s*$`;
  const isOfUse = columns.some(({ meaning: { roles } }) => [roles.o2, roles.co, roles.co2].some((said = 0) => said >= 2));
  if (!isOfUse || pattern.length > LONGEST_PATTERN) return [];
  return [
    {
      shape: { kind: 'pattern', pattern },
      columns,
      rows: rows.length,
      share: Math.min(1, rows.length / Math.max(1, withDigits)),
      style,
      check: { kind: 'none' },
      prompts: [],
      reasons: [{ key: 'template', count: columns.length, lines: rows.length }],
      preference: -0.2,
      ...defined({ coBasis }),
    },
  ];
}
