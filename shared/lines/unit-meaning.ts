import type { SentUnit } from '../measurement/sent-unit.ts';
import { unitFromText, LONGEST_UNIT } from './unit-spellings.ts';

/**
 * Units of quantities that no channel is sent in. A column in one of them is never a channel: mass, flow, voltage, counts, humidity and so on.
 * The value names the quantity, for the reasons that a person sees.
 */
const foreignQuantities = [
  'mass',
  'length',
  'flow',
  'voltage',
  'current',
  'power',
  'speed',
  'count',
  'time',
  'date',
  'humidity',
  'lambda',
  'dust',
  'extinction',
  'conductivity',
  'frequency',
  'level',
  'volume',
  'light',
  'angle',
  'text',
  'unknown',
] as const;
export type ForeignQuantity = (typeof foreignQuantities)[number];

const foreignRows: readonly (readonly [RegExp, ForeignQuantity])[] = [
  [/^(g|kg|mg|ug|ng|t|lb|lbs|oz|gram|grams|gramm|kilogramm?|tonnes?|kgs)$/, 'mass'],
  [/^(km|m|cm|mm|um|nm|in|inch|inches|ft|mil)$/, 'length'],
  [
    /^(l|ml|m3|n?m3|scm|sl|cf|ft3|gal|gallons?|kg|g|mg|lb|lbs|t|mol|kmol|mmol)(\/|per|p)(s|sec|min|h|hr|hour|d|day)$|^(lpm|slpm|sccm|scfm|cfm|gpm|gph|lph|l\/m|slm|lps|scfh|acfm|nm3h|m3h)$/,
    'flow',
  ],
  [/^(g|kg|mg|ug)(\/|per)(m2|m\^2|cm2)(\/?s|s-1|\/?h)?$|^(kg|g)m-2s-1$|^g\/s\/m2$|^g\/m2s$/, 'mass'],
  [/^(v|mv|kv|uv|volts?|vdc|vac|mvolt|millivolts?|volt)$/, 'voltage'],
  [/^(a|ma|ua|na|ka|amp|amps|ampere)$/, 'current'],
  [/^(w|kw|mw|va|kva|kvar|wh|kwh|mwh|j|kj|mj|gj|btu|btu\/h|cal|kcal|kw\/m2|w\/m2|kwm-2|kw\/m\^2|mj\/kg|kj\/g|mj\/m2|w\/mk|hp)$/, 'power'],
  [/^(rpm|1\/min|min-1|u\/min|upm|m\/s|m\/min|km\/h|kph|mph|ft\/s|ft\/min|fpm|m\/s2|m\/s\^2|mm\/s|g-force|rad\/s|knots?|r\/min)$/, 'speed'],
  [
    /^(counts?|cts|raw|adc|digits?|bits?|lsb|cnt|pulses?|imp|steps?|#|cps|cpm|pcs|pieces|stk|hex|bytes?|kb|#\/cm3|1\/cm3|1\/l|#\/l|pt\/cc)$/,
    'count',
  ],
  [
    /^(s|sec|secs|second|seconds|ms|us|min|mins|minutes?|h|hr|hrs|hours?|d|days?|sekunden?|minuten|stunden|segundos?|secondi|secondes?|hh:mm:ss|hh:mm|h:m:s|ns|msec)$/,
    'time',
  ],
  [/^(date|datum|fecha|data|time|datetime|timestamp|utc|dd\.mm\.yy(yy)?|yyyy-mm-dd|ts|iso)$/, 'date'],
  [/^(%rh|%rf|rh%|rh|%hr|%ur|g\/m3|g\/kg|rf%|%r\.?h\.?)$/, 'humidity'],
  [/^(lambda|\u03bb|lam|afr|phi|-\/-)$/, 'lambda'],
  [/^([u\u00b5\u03bcn]g\/(n?m3|n?m\^3|n?m\u00b3|cm3)|[u\u00b5\u03bc]gm-?3|mg\/kwh|mg\/mj|g\/gj|g\/kwh)$/, 'dust'],
  [/^(1\/m|\/m|m-1|1\/mm|mm-1|m\^-1|mm\^-1|m2\/kg|m2\/g|%opacity|opacity|fsn|od|abs|m\^2\/kg|m2\/s)$/, 'extinction'],
  [/^([mu\u00b5]s\/cm|s\/m|ohm|kohm|mohm|\u03c9|k\u03c9|ohms|ph|ntu)$/, 'conductivity'],
  [/^(hz|khz|mhz|ghz)$/, 'frequency'],
  [/^(db|dba|db\(a\)|dbm|rssi)$/, 'level'],
  [/^(l|ml|m3|cm3|ft3|gal|nm3|liter|litre|litro)$/, 'volume'],
  [/^(lx|lux|cd|lm|par|w\/sr|nit)$/, 'light'],
  [/^(\u00b0|deg|degrees?|rad)$/, 'angle'],
  [/^(text|string|char|chr|bool|boolean|flag|on\/off|0\/1|enum|int|float|id)$/, 'text'],
];

export type UnitMeaning =
  | { readonly kind: 'sent'; readonly unit: SentUnit }
  | { readonly kind: 'foreign'; readonly quantity: ForeignQuantity; readonly text: string };

/** @param isSurelyUnit the text is in a row of units, so that an unknown word is a unit too */
export function unitMeaning(text: string, isSurelyUnit = false): UnitMeaning | undefined {
  const unit = unitFromText(text);
  if (unit !== undefined) return { kind: 'sent', unit };
  if (text.length > LONGEST_UNIT || /^[\d.,+-]*$/.test(text)) return undefined;
  const bare = text
    .toLowerCase()
    .replace(/[\s_]+/g, '')
    .replace(/\u00b2/g, '2')
    .replace(/\u00b3/g, '3')
    .replace(/\*\*/g, '^')
    .replace(/^[([{<]+|[)\]}>]+$/g, '')
    .replace(/[.:]$/, '');
  if (bare === '' || /^-+$/.test(bare)) return undefined;
  const found = foreignRows.find(([pattern]) => pattern.test(bare));
  if (found !== undefined) return { kind: 'foreign', quantity: found[1], text: text.trim() };
  return isSurelyUnit && /[a-z\u00b5\u03bb/^%]/.test(bare) ? { kind: 'foreign', quantity: 'unknown', text: text.trim() } : undefined;
}
