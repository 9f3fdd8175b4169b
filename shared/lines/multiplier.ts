/** A power of ten written beside a unit: 'CO x1000 ppm', 'stack [1/10 degC]', 'O2 [0.1 %]', 'CO ppm x10'. */
import { unitFromText } from './unit-spellings.ts';

export type Multiplier = {
  /** as it is written */
  readonly text: string;
  /** value sent * factor = value in the unit; absent where the writing does not say whether to multiply or to divide */
  readonly factor?: number | undefined;
  /** a power of ten or a fraction right before its unit means one thing only */
  readonly isClear: boolean;
};

const superscripts = '⁰¹²³⁴⁵⁶⁷⁸⁹';
const sign = '[x×*·]';
const unit =
  '%|pct|percent|prozent|vol|ppm|ppb|mg|deg|grad|celsius|fahrenheit|kelvin|[°º]|[cfk](?![a-z])|h?pa(?![a-z])|mbar|kpa|bar|psi|in|mm';
/** '10^3', '10**-1', '10³', '1E3', '1/10' */
const power = `10\\s*(?:\\^|\\*\\*)\\s*[+\\u2212-]?\\d|10[⁺⁻]?[${superscripts}]|1[eE][+\\u2212-]?\\d|1/10+`;
const plain = '10+|0[.,]0*1|\\d{1,6}';
const before = '(?<=^|[\\s_[({<,;/:-]|[A-Za-z\\d](?=[×*·]))';
const clear = new RegExp(`${before}(?:${sign}\\s*)?(${power})[\\s_*·\\])]*[[(]?\\s*(?=${unit})`, 'i');
const signed = new RegExp(`${before}${sign}\\s*(${plain})[\\s_\\])]*[[(]?\\s*(?=${unit})`, 'i');
/** what may mean 'times' or 'divided by', a range or a resolution */
const unclear: readonly RegExp[] = [
  new RegExp(`${before}(?:${sign}|/)\\s*(?:${power}|\\d[\\d.,]*)(?=$|[\\s_\\])}>,;])`, 'i'),
  new RegExp(
    `(?<=[%°]|ppm|ppb|mg/m3|mg/m³|deg ?[cf]|[\\s_[(/°][cfk])\\s*(?:${sign}|/)\\s*(?:${power}|\\d[\\d.,]*)(?=$|[\\s_\\])}>,;])`,
    'i',
  ),
  new RegExp(`(?<=^|[\\s_[(])(?<!pt[\\s_]?)(?:10{1,5}|0[.,]0{0,3}1)[\\s_]*(?=${unit})(?!%\\s*o2)`, 'i'),
  /(?<=[\s_[(])\d+\s?[x×](?=$|[\s_\])}])/i,
  new RegExp(
    `(?<=[\\s_[(])(?:k[\\s_]?(?=pp[mb])|(?:thousand|hundred|tenths?|hundredths?|deci|centi|milli|kilo)s?[\\s_]*(?:of\\s)?(?=${unit}))`,
    'i',
  ),
  new RegExp(`${before}e[+-]?\\d[\\s_]*(?=${unit})`, 'i'),
  /‰|(?<=[\s_[(])per ?mill?e?(?=$|[\s_\])])/i,
];

const numberOf = (text: string): number | undefined => {
  const bare = text
    .replace(/\s+/g, '')
    .replace(/\u2212/g, '-')
    .replace(/[⁰¹²³⁴⁵⁶⁷⁸⁹]/g, (one) => String(superscripts.indexOf(one)))
    .replace('⁻', '-')
    .replace('⁺', '')
    .replace(',', '.');
  const exponent = /^10(?:\^|\*\*)([+-]?\d)$|^1e([+-]?\d)$/i.exec(bare) ?? (/[⁰¹²³⁴⁵⁶⁷⁸⁹]/.test(text) ? /^10()(-?\d)$/.exec(bare) : null);
  const value =
    exponent !== null ? Number(`1e${exponent[1] || exponent[2] || '0'}`) : bare.startsWith('1/') ? 1 / Number(bare.slice(2)) : Number(bare);
  return Number.isFinite(value) && value >= 1e-6 && value <= 1e6 ? value : undefined;
};

/** no name of a column that says a factor is longer */
const LONGEST = 120;

/** Finds a multiplier in a name or in the cell of a row of units, and what is left without it. */
export function multiplierIn(name: string): { readonly multiplier: Multiplier; readonly rest: string } | undefined {
  if (name.length > LONGEST || !/\d|‰|pp[mb]|kilo|thous|hund|tenth|deci|centi|mill/i.test(name)) return undefined;
  const without = ({ index, 0: whole }: RegExpExecArray): string => {
    const opens = /[[(]\s*$/.exec(whole)?.[0].trim() ?? '';
    return `${name.slice(0, index)} ${opens}${name.slice(index + whole.length)}`.replace(/[[(]\s*[\])]/g, '').trim();
  };
  for (const [pattern, isClear] of [
    [clear, true],
    [signed, false],
  ] as const) {
    const found = pattern.exec(name);
    const factor = found === null ? undefined : numberOf(found[1] ?? '');
    if (found !== null && factor !== undefined) return { multiplier: { text: found[0].trim(), factor, isClear }, rest: without(found) };
  }
  for (const pattern of unclear) {
    const found = pattern.exec(name);
    if (found === null || without(found) === '') continue;
    const text = found[0].trim();
    const isOne = /^[x×*·/]\s*1$|^1\s?[x×]$/i.test(text);
    return { multiplier: isOne ? { text, factor: 1, isClear: true } : { text, isClear: false }, rest: without(found) };
  }
  return undefined;
}

/** 'x10' behind a value */
export const isMultiplierWord = (word: string): boolean =>
  /^[x×*·]\d+(?:\^[+-]?\d)?\D{0,8}$/i.test(word) && unitFromText(word) === undefined && !/^\*[0-9A-F]{2}$/i.test(word);
