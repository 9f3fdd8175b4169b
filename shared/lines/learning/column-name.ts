import type { SentUnit } from '../../measurement/recipe.ts';
import { unitFromText } from '../sent-units.ts';

/** What a column can be. The first seven are channels; most others are the instrument's own computations, never taken for measured. */
export const roles = [
  'o2',
  'co',
  'stack',
  'air',
  'co2',
  'no',
  'no2',
  'so2',
  'draft',
  'ambientCo',
  'pumpPressure',
  'time',
  'date',
  'counter',
  'status',
  'check',
  'label',
  'unitText',
  'net',
  'efficiency',
  'loss',
  'excessAir',
  'lambda',
  'dewPoint',
  'coCorrected',
  'nox',
  'reference',
  'otherTemperature',
  'battery',
  'humidity',
  'other',
] as const;
export type Role = (typeof roles)[number];

export type NameMeaning = {
  /** roles that the name speaks for, with how clearly: 3 = it says so, 1 = it hints */
  readonly roles: Partial<Record<Role, number>>;
  readonly unit?: SentUnit | undefined;
};

const rows: readonly (readonly [RegExp, Partial<Record<Role, number>>])[] = [
  [/^(crc|chk|cs|checksum|check|sum|bcc|lrc|prufsumme|pruefsumme)\d*$/, { check: 3 }],
  [/^(status|stat|state|st|flags?|mode|alarm|err|error|zustand|modus|info|msg|phase)$/, { status: 3 }],
  [/^(date|datum|day|dia|jour)$/, { date: 3 }],
  [/^(date ?time|time ?stamp|zeitstempel|datetime|iso|utc|when|tstamp|timestamp ms|epoch)$/, { time: 3 }],
  [
    /^(time|zeit|uhrzeit|tijd|heure|hora|ora|clock|elapsed|uptime|sec|secs|second|seconds|s|ms|millis|hh mm ss|time s|time ms|t s|t ms|elapsed s|runtime|tick|ticks|min|uptime ms|sekunden)$/,
    { time: 3 },
  ],
  [/^(n|nr|num|number|idx|index|count|counter|cnt|seq|rec|record|sample|line|id|lfd|lfd nr|zahler|row|#)$/, { counter: 3 }],
  [/^no$/, { no: 2, counter: 1.5 }],
  [/(^| )(o2|oxygen) ?(ref|reference|bezug|norm)/, { reference: 3 }],
  [/co ?2 ?max|fuel|brennstoff/, { reference: 3 }],
  [/(^| )co ?2( |$)|carbon dioxide|kohlendioxid|co2/, { co2: 3 }],
  [
    /(^| )co.*(air ?free|undil|corr|ref|norm|unv|verd|3 ?%|0 ?%|@)|^co ?(af|u|n|uv|0|3|c|corr|at)$|^coaf|^co ?ratio|co\/co/,
    { coCorrected: 3 },
  ],
  [/(amb|room|raum|umgebung)\w* ?co( |$)|(^| )co ?(amb|room|raum|umg)/, { ambientCo: 3 }],
  [/(^| )(co|carbon monoxide|kohlenmonoxid|kohlenstoffmonoxid|monoxide|monoxyde)( |$|\d)/, { co: 3 }],
  [/(^| )no ?x( |$)/, { nox: 3 }],
  [/(^| )no ?2( |$)|nitrogen dioxide|stickstoffdioxid/, { no2: 3 }],
  [/(^| )(no|nitric oxide|nitrogen monoxide|stickstoffmonoxid)( |$)/, { no: 3 }],
  [/(^| )so ?2( |$)|sulphur|sulfur|schwefel/, { so2: 3 }],
  [/(^| )(o ?2|oxygen|oxy|sauerstoff|zuurstof|oxygene|ossigeno|oxigeno)( |$)/, { o2: 3 }],
  [/dew|taupunkt|(^| )tdp( |$)/, { dewPoint: 3 }],
  [/(^| )net( |$)|delta ?t|(^| )(dt|tnet|t net|netto|differenz|diff|temp ?diff|td)( |$)/, { net: 3 }],
  [/effic|(^| )(eff|eta|wirkungsgrad|rendement|rendimento|rendimiento|etas|etag|ren|wg)( |$)/, { efficiency: 3 }],
  [/loss|verlust|perte|(^| )(qa|qs|ql)( |$)/, { loss: 3 }],
  [/excess|uberschuss|ueberschuss|(^| )(xs|ea|xair|exair|exc ?air|xsair|xs ?air)( |$)/, { excessAir: 3 }],
  [/lambda|luftzahl|air ?ratio|(^| )(lam|lmb|λ)( |$)/, { lambda: 3 }],
  [/batt|volt|akku|(^| )(bat|vbat|ubat|vcc|v)( |$)/, { battery: 3 }],
  [/humid|feuchte|(^| )(rh|hum)( |$)/, { humidity: 3 }],
  [
    /boiler|water|kessel|vorlauf|rucklauf|return|supply temp|(^| )(tw|tvl|trl|tkessel|internal|intern|board|case|housing|cpu|sensor temp)( |$)/,
    { otherTemperature: 3 },
  ],
  [/(^| )(pump ?pressure|oil ?pressure|oldruck|oeldruck|p ?oil|poil)( |$)/, { pumpPressure: 3 }],
  [/flow|pump|durchfluss|(^| )(rpm|fan)( |$)/, { other: 3 }],
  [/draft|draught|(^| )(zug|tirage|tiraggio|dft|drft|p ?draft|drf|kaminzug)( |$)/, { draft: 3 }],
  [
    /stack|flue|exhaust|chimney|abgas|rauchgas|fumee|fumi|humos|fumos|spalin|spaliny|rokgas|roggas|savukaasu|kamin|rook|(^| )(tst|tfg|fgt|t ?gas|tg|tf|tflue|gas ?t|gas ?temp\w*|temp\w* ?gas|hot|ts|t ?s|tabg|fg)( |$)/,
    { stack: 3 },
  ],
  [
    /ambient|room|inlet|intake|combustion air|verbrennungsluft|umgebung|raumtemp|(^| )(tair|t ?air|air ?t|air ?temp\w*|temp\w* ?air|amb|tamb|t ?amb|air|luft|tl|t ?l|raum|tluft|zuluft|supply ?air|cold ?junction|aria|aire|lucht|luft ?temp|tin|omgeving|otoczenia|ambiente)( |$)/,
    { air: 3 },
  ],
  [/(^| )(ta|t ?a)( |$)/, { air: 1.5, stack: 0.5 }],
  // room or 'Rauchgas'
  [/(^| )(tr|t ?r)( |$)/, { air: 1, stack: 1 }],
  [/pressure|druck|(^| )(press|dp|p|p1)( |$)/, { draft: 1, pumpPressure: 0.5, other: 0.5 }],
  [
    /(^| )(t|t ?1|temp|temp ?1|temperature|temperature ?1|tc ?1|temperatur|temperatur ?1|th ?1|tk ?1|tc)( |$)/,
    { stack: 1.5, air: 0.5, otherTemperature: 0 },
  ],
  [/(^| )(t ?2|temp ?2|temperature ?2|tc ?2|temperatur ?2|th ?2|tk ?2)( |$)/, { air: 1.5, stack: 0.5, otherTemperature: 0 }],
  [/(^| )(t ?[3-9]|temp ?[3-9]|tc ?[3-9])( |$)/, { otherTemperature: 1.5, stack: 0, air: 0 }],
];

const subscripts: Record<string, string> = {
  '₂': '2',
  ₓ: 'x',
  '₀': '0',
  ä: 'a',
  ö: 'o',
  ü: 'u',
  ß: 'ss',
  é: 'e',
  è: 'e',
  ê: 'e',
  ó: 'o',
  í: 'i',
  á: 'a',
  å: 'a',
  ø: 'o',
  ñ: 'n',
};

/** 'stackTemp_C' -> 'stack temp c'; chemical formulas stay in one piece. */
const words = (name: string): string =>
  name
    .replace(/[₂ₓ₀]/g, (sign) => subscripts[sign] ?? sign)
    .replace(/([a-z0-9])([A-Z][a-z])/g, '$1 $2')
    .replace(/([a-z]{2})([A-Z])/g, '$1 $2')
    .toLowerCase()
    .replace(/[äöüßéèêóíáñåø]/g, (sign) => subscripts[sign] ?? sign)
    .replace(/[^a-z0-9%/#@λ]+/g, ' ')
    .trim();

const unitWord =
  /^(%|pct|percent|prozent|vol%|%vol|ppm|ppmv|ppb|c|f|k|degc|degf|celsius|fahrenheit|kelvin|pa|hpa|mbar|kpa|bar|psi|inh2o|inwc|mmh2o|mg\/m3|mgm3|mg\/nm3)$/;

/** Reads a header cell, a key or a JSON path: which roles it speaks for, and the unit that it names. */
export function nameMeaning(name: string): NameMeaning {
  let bare = name.trim().replace(/^["']|["']$/g, '');
  let unit: SentUnit | undefined;
  const bracket = /[[({<]\s*([^\])}>]*?)\s*[\])}>]/.exec(bare);
  if (bracket !== null) {
    unit = unitFromText(bracket[1] ?? '');
    bare = `${bare.slice(0, bracket.index)} ${bare.slice(bracket.index + bracket[0].length)}`;
  }
  const signed =
    /^(.*?)[\s_/,:-]*([°\u00b0\u00ba\u00f8\u00df]\s*[CFcf]|%\s*vol\.?|vol\.?\s*-?%|%|in\.?\s?(?:w\.?c\.?|h2o)|"\s?wc|mg\/n?m(?:3|³))\s*(?:dry|tr)?$/i.exec(
      bare,
    );
  if (signed !== null && unit === undefined) {
    unit = unitFromText(signed[2] ?? '');
    if (unit !== undefined) bare = signed[1] ?? '';
  }
  if (unit === undefined) {
    const before = /^(%|ppm|mg\/n?m(?:3|³)|(?:deg\.?|°|\u00b0)\s?[CF](?![a-z])|hPa|mbar|Pa(?![a-z]))\s*([A-Za-z].*)$/i.exec(bare);
    const named = before === null ? undefined : unitFromText(before[1] ?? '');
    if (named !== undefined) {
      unit = named;
      bare = before?.[2] ?? bare;
    }
  }
  // A JSON path: the last part speaks first, then the whole.
  let text = words(bare);
  const list = text.split(' ');
  const last = list.at(-1) ?? '';
  if (unit === undefined && list.length > 1 && unitWord.test(last)) {
    unit = unitFromText(last);
    text = list.slice(0, -1).join(' ');
  }
  text = text
    .replace(/ (vol|dry|meas|measured|raw|level|conc|concentration|value|val|v|wert|probe)$/, '')
    .replace(/^(gas|flue gas|meas|raw|ch|sensor) (?=(o2|co|co2|no|nox|so2)$)/, '');
  for (const [pattern, meaning] of rows) if (pattern.test(text)) return { roles: meaning, unit };
  return { roles: {}, unit };
}
