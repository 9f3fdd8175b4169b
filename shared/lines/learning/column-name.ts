import type { SentUnit } from '../../measurement/recipe.ts';
import { unitFromText, unitMeaning, type ForeignQuantity } from '../sent-units.ts';
import { defined } from '../../defined.ts';

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
  /** a unit that no channel is sent in, as the name says it */
  readonly foreign?: { readonly quantity: ForeignQuantity; readonly text: string } | undefined;
  /** the word that makes it another quantity than a channel, whatever else the name says */
  readonly excludedBy?: NamedQuantity | undefined;
  /** the gas is said to be wet; the channels are dry */
  readonly isWet?: boolean | undefined;
  readonly isDry?: boolean | undefined;
  /** 'ch 3', 'value', 'x': a name that says nothing */
  readonly isEmpty?: boolean | undefined;
};

/** What a name can say that is never one of the channels, though the name of a gas or a place is in it too. */
export const namedQuantities = [
  'mass',
  'flow',
  'voltage',
  'raw',
  'humidity',
  'flag',
  'pressure',
  'target',
  'background',
  'calibration',
  'sensor',
  'water',
  'surface',
  'lambda',
  'power',
  'position',
  'dust',
  'time',
  'spread',
  'ratio',
  'number',
  'otherGas',
  'change',
  'network',
] as const;
export type NamedQuantity = (typeof namedQuantities)[number];

const excludingRows: readonly (readonly [RegExp, NamedQuantity])[] = [
  [/(^| )(raw|adc|counts?|cnts?|roh|rohwert|brut|brute|digits?|lsb|na|ua|uncal|uncalibrated)( |$)/, 'raw'],
  [/batter|batt(?![a-z])|volt|spannung|tension|akku|(^| )(bat|vbat|ubat|vcc|vdd|mv|emf|vout|vin|v out|cell mv)( |$)/, 'voltage'],
  [
    /mass(?![a-z])|masse|weight|gewicht|poids|peso|massa|(^| )(wt|load ?cell|scale|kg|waage|fuel|brennstoff|oil|wood|pellets?|combustible|combustibile|carburant|tank|hopper|fill|level ?tank|grams?)( |$)/,
    'mass',
  ],
  [
    /flow|durchfluss|volumenstrom|massenstrom|debit|caudal|portata|(^| )(flo|mdot|vdot|lpm|sccm|rate|velocity|vel|stak ?vel|speed|rpm|fan|pump|blower|ventilator|drehzahl|geblase|pitot|dilution|dil|dil ?rat|feed)( |$)/,
    'flow',
  ],
  [
    /humid|feuchte|humedad|umidita|umedad|vochtigheid|dew|taupunkt|rocio|rugiada|(^| )(rh|ah|hum|h2o|hr|rf|td|tdp|wasserdampf|steam|vapou?r)( |$)/,
    'humidity',
  ],
  [
    /alarm|fault|fehler|error|defaut|(^| )(flags?|status|stat|state|err|ok|valid|enable[d]?|on|off|warn|warning|mode|usage|use|phase|quality|qc|code|verif|test|switch|relay|stat[eo]|limits?|thresholds?|set ?points|schwelle|event|heater)( |$)/,
    'flag',
  ],
  [/pressure|pression|presion|pressione|druck|barom|(^| )(press|pres|baro|baropres|hpa|psi|dp|d p)( |$)/, 'pressure'],
  [
    /setpoint|set point|sollwert|consigne|consigna|impostat|prescrit|fijado|(^| )(sp|soll|target|desired|demand|w soll|setting)( |$)/,
    'target',
  ],
  [/background|baseline|(^| )(bkg|bkgd|bg|blank|ambient ?bkg)( |$)/, 'background'],
  [/(^| )(gain|offset|factor|slope|intercept|coef\w*|cal|calib\w*|zero|span|drift|trim|kalib\w*|sensitivity)( |$)/, 'calibration'],
  [
    /(^| )(board|pcb|cpu|case|housing|enclosure|internal|intern|interne|interno|chip|mcu|esp|sensor|electronics|cold ?junction|cjc|instrument|cell|zelle|optic\w*|detector|amp|rack|cabinet|heatsink|filt\w*|gehause|device|die|soc|module)( |$)/,
    'sensor',
  ],
  [
    /boiler|water|wasser|kessel|vorlauf|rucklauf|caldera|chaudiere|caldaia|agua|acqua|(^| )(dhw|hw|ww|eau|supply(?! air)|return|retour|depart|ida|retorno|mandata|ritorno|puffer|buffer|tank|radiator|brine|glycol|coolant|tvl|trl|tkessel|flow ?temp|zirkulation|hot ?water)( |$)/,
    'water',
  ],
  [
    /surface|oberflache|(^| )(wall|wand|back|skin|floor|decke|ceiling|insul\w*|oil|ot|gypsum|specimen|sample|plate|bed|grate|furnace|oven|ofen|core|shell|door|winding|motor|bearing|glass|window)( |$)/,
    'surface',
  ],
  [/lambda|luftzahl|air ?ratio|(^| )(lam|lmb|\u03bb|afr|phi|equivalence)( |$)/, 'lambda'],
  [
    /power|leistung|puissance|potencia|potenza|energy|energie|heat ?release|(^| )(hrr|thr|kw|watt|watts|load|current|amps?|strom|mlr)( |$)/,
    'power',
  ],
  [/position|opening|valve|damper|klappe|vanne|valvula|(^| )(pos|stroke|travel|actuator|servo)( |$)/, 'position'],
  [
    /dust|staub|particle|partikel|soot|russ|smoke ?(?=meas|comp|dens|opac)|(^| )(pm|pm ?\d+|opacity|ext|extinction|turbidity|sp ?\d)( |$)/,
    'dust',
  ],
  [/(^| )(min|max|std|sd|stdev|var|rms|peak|sigma|delta|diff|rsd|stddev|err|uncert\w*)( |$)/, 'spread'],
  [/ratio|verhaltnis|(^| )(yield|per|fraction of|index|aqi|iaq|eco2|tvoc|voc)( |$)/, 'ratio'],
  [/(^| )(serial|sn|id|number|address|addr|version|firmware|uuid|imei)( |$)/, 'number'],
  [/(^| )(rssi|snr|wifi|ip|uptime|heap|packet|signal)( |$)/, 'network'],
  [/natural gas|fuel gas|erdgas|gas naturel|gas natural|gas metano|gas meter|gaszahler/, 'otherGas'],
  [/(^| )stack (height|pointer|free|size|usage|used|depth|high water)( |$)/, 'number'],
];

/** Words that make it another quantity beside the name of a gas; by themselves they may name a clock, a counter or a loss. */
const besideGas: readonly (readonly [RegExp, NamedQuantity])[] = [
  [
    /verbrauch|mangel|abweichung|verlust|(^| )(depletion|deficit|deficiency|loss|losses|consumption|consumed|decrease|drop|change|deviation|dev|ecart|desviacion|deviazione|scarto|perte|perdida|perdita|range|bereich)( |$)/,
    'change',
  ],
  [/(^| )(sum|summe|somme|suma|somma|total|totali[sz]ed|cumulative|cumul\w*|cum|integral|dose|counter|zahler|contador)( |$)/, 'change'],
  [/grenzwert|(^| )(lim|limits|limite|seuil|umbral|soglia|stel|twa|idlh|hihi|lolo)( |$)/, 'flag'],
  [/(^| )(set|sollw|soll|cmd|command|wanted|req|requested|reglage)( |$)/, 'target'],
  [/(^| )(output|controller|ctrl|ctl|regler|stellgrad|stellwert|pid|trim)( |$)/, 'position'],
  [/(^| )(purity|reinheit|purete|saturation|sat|dissolved|partial|enrichment)( |$)/, 'ratio'],
];

const gasWord =
  /sauerstoff|kohlenmonoxi?y?d|(^| )(o ?2|oxygen|oxygene|oxigeno|ossigeno|sauerstoff|co|co ?2|monoxide|dioxide|no|nox|so2|ch4|hc|c3h8|h2s|lpg)( |$)/;
const temperatureWord = /temp|(^| )(t|tc|thermocouple|degc|pt100)( |$)/;
/** gas first, then 'temperature': that of its sensor, or of its sample line */
const isTemperatureOfGas = (text: string): boolean =>
  /^(o ?2|co|co ?2|no|nox|so2|ch4|hc|hcin|hcout|h2o|voc|pm|sample)( (sensor|cell|probe|meter))? ?(temp|temperature|t|tc)( ?\d+)?$/.test(
    text,
  ) || /^(co|co2|ch4|hc|hcin|hcout|h2o|so2|nox|voc|filt|o2)temp\d*$/.test(text);

function excludedIn(text: string, roles: Partial<Record<Role, number>>): NamedQuantity | undefined {
  if (isTemperatureOfGas(text)) return 'sensor';
  for (const [pattern, quantity] of excludingRows) {
    if (!pattern.test(text)) continue;
    // 'oil' is no mass in 'oil boiler', 'sensor' none in 'O2 sensor'; a gas that is sampled or measured stays one.
    if (quantity === 'sensor' && gasWord.test(text) && !temperatureWord.test(text) && !/(^| )(cell|zelle)( |$)/.test(text)) continue;
    if (quantity === 'water' && /boiler|kessel|chaudiere|caldera|caldaia/.test(text) && ((roles.stack ?? 0) >= 3 || gasWord.test(text)))
      continue;
    if (quantity === 'surface' && gasWord.test(text) && !temperatureWord.test(text)) continue;
    if (quantity === 'flag' && /(^| )test( |$)/.test(text) && gasWord.test(text)) continue;
    return quantity;
  }
  return gasWord.test(text) ? besideGas.find(([pattern]) => pattern.test(text))?.[1] : undefined;
}

/** Is a gas named anywhere in this text? */
export const namesGas = (text: string): boolean => gasWord.test(words(text));

const emptyName =
  /^(ch|chan|channel|kanal|canal|canale|voie|col|column|spalte|val|value|wert|valeur|valor|var|data|field|in|input|ai|an|analog|unnamed|reg|register|r|[a-z])? ?\d*$/;

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
  // the difference of two places
  [/^t.* minus t/, { net: 3 }],
  // air that a fan takes from a room
  [/exhaust ?air|abluft|fortluft|extract ?air|return ?air|air extrait|air vicie|aria di espulsione|aria estratta/, { otherTemperature: 3 }],
  [/(^| )(o2|oxygen|sauerstoff) ?(ref|reference|bezug|bez|norm)/, { reference: 3 }],
  [/co ?2 ?max|fuel|brennstoff/, { reference: 3 }],
  [
    /(^| )(amb|ambient|room|raum|umgebung|indoor|outdoor|cellar|keller) ?(co ?2|o ?2|oxygen|sauerstoff)( |$)|(^| )(co ?2|o ?2|oxygen|sauerstoff) ?(amb|ambient|room|raum|umgebung|indoor|outdoor)( |$)/,
    { other: 3 },
  ],
  [
    /(^| )co ?2( |$|\d)|carbon dioxide|gaz carbonique|kohlendioxid|kohlenstoffdioxid|dioxyde de carbone|dioxido de carbono|anidride carbonica|biossido di carbonio/,
    { co2: 3 },
  ],
  [
    /(^| )co.*(air ?free|undil|corr|ref|norm|unv|verd|bez|\d ?%|@)|^co ?(af|u|n|uv|0|3|c|corr|at)$|^coaf|^co ?ratio|co\/co/,
    { coCorrected: 3 },
  ],
  [/(amb|room|raum|umgebung)\w* ?co( |$)|(^| )co ?(amb|room|raum|umg)/, { ambientCo: 3 }],
  [/(stickstoff|nitrogen|azote?|nitrogeno) ?mon|monoss?(ido|yde) d. ?azot|mon[oó]xido de nitr/, { no: 3 }],
  [
    /kohlenmonoxi?y?d|kohlenstoffmonoxi?y?d|(^| )(co|carbon ?monoxide|monoxide|monoxyde|monoxido|monossido|ossido di carbonio|oxido de carbono|tlenek wegla)( |$|1)/,
    { co: 3 },
  ],
  [/(^| )no ?x( |$)/, { nox: 3 }],
  [/(^| )no ?2( |$)|nitrogen dioxide|stickstoffdioxid/, { no2: 3 }],
  [/(^| )(no|nitric oxide|nitrogen monoxide|stickstoffmonoxid)( |$)/, { no: 3 }],
  [/(^| )so ?2( |$)|sulphur|sulfur|schwefel/, { so2: 3 }],
  [
    /(^|rest)sauerstoff(gehalt|konzentration)?( |$)|(^| )(o ?2|oxygen|oxy|sauerstoff|zuurstof|oxygene|ossigeno|oxigeno|tlen|happi|syre)( |$|[1-9]( |$))/,
    { o2: 3 },
  ],
  [/dew|taupunkt|(^| )tdp( |$)/, { dewPoint: 3 }],
  [/(^| )net( |$)|delta ?t|(^| )(dt|tnet|t net|netto|differenz|diff|temp ?diff|td)( |$)/, { net: 3 }],
  [/effic|(^| )(eff|eta|wirkungsgrad|rendement|rendimento|rendimiento|etas|etag|ren|wg)( |$)/, { efficiency: 3 }],
  [/loss|verlust|perte|(^| )(qa|qs|ql)( |$)/, { loss: 3 }],
  [/excess|uberschuss|ueberschuss|(^| )(xs|ea|xair|exair|exc ?air|xsair|xs ?air)( |$)/, { excessAir: 3 }],
  [/lambda|luftzahl|air ?ratio|(^| )(lam|lmb|λ)( |$)/, { lambda: 3 }],
  [/batt|volt|akku|(^| )(bat|vbat|ubat|vcc|v)( |$)/, { battery: 3 }],
  [/humid|feuchte|(^| )(rh|hum)( |$)/, { humidity: 3 }],
  [/(^| )(pump ?pressure|oil ?pressure|oldruck|oeldruck|p ?oil|poil)( |$)/, { pumpPressure: 3 }],
  [/flow|pump|durchfluss|(^| )(rpm|fan)( |$)/, { other: 3 }],
  [/draft|draught|(^| )(zug|tirage|tiraggio|dft|drft|p ?draft|drf|kaminzug)( |$)/, { draft: 3 }],
  [
    /stack|flue|exhaust|chimney|chimenea|cheminee|camino|abgas|rauchgas|fumee|fumi|humos|gas de combustion|gaz de combustion|fumos|spalin|spaliny|gas(es)? de combustion|rokgas|roggas|savukaasu|kamin|rook|(^| )(tst|tstk|stk|egt|agt|exh|texh|t ?exh|rgt|tfg|fgt|t ?gas|tg|tf|tflue|gas ?t|gas ?temp\w*|temp\w* ?gas|hot|ts|t ?s|tabg|fg)( |$)/,
    { stack: 3 },
  ],
  [
    /ambient|ambiant|room|inlet|intake|combustion air|comburant|verbrennungsluft|ansaugluft|umgebung|raumtemp|raumluft|ambiance|(^| )(tair|t ?air|air ?t|air ?temp\w*|temp\w* ?air|amb|tamb|t ?amb|air|luft|tl|t ?l|raum|tluft|zuluft|supply ?air|cold ?junction|aria|aire|air|lucht|luft ?temp|tin|omgeving|otoczenia|powietrze|powietrza|ambiente)( |$)|zuluft ?temp|lufttemp|luchttemp/,
    { air: 3 },
  ],
  [
    /boiler|water|kessel|vorlauf|rucklauf|return|supply temp|(^| )(tw|tvl|trl|tkessel|internal|intern|board|case|housing|cpu|sensor temp)( |$)/,
    { otherTemperature: 3 },
  ],
  [/^ft$/, { stack: 2 }],
  // Ambient, or 'Abgas': the values say which.
  [/^at$/, { air: 1.5, stack: 1 }],
  // 'Verbrennungsluft', or 'Vorlauf'
  [/^vt$/, { air: 1, otherTemperature: 1 }],
  [/(^| )(ta|t ?a)( |$)/, { air: 1.5, stack: 0.5 }],
  // room or 'Rauchgas'
  [/(^| )(tr|t ?r)( |$)/, { air: 1, stack: 1 }],
  [/pressure|druck|(^| )(press|dp|p|p1)( |$)/, { draft: 1, pumpPressure: 0.5, other: 0.5 }],
  [
    /^(t|temps?|tmp|temperature|tc|temperatur|th|tk|temperatura)( ?(sensor|probe|sonde|fuhler))?( ?0?1)?$/,
    { stack: 1.5, air: 0.5, otherTemperature: 0 },
  ],
  [
    /^(t|temps?|tmp|temperature|tc|temperatur|th|tk|temperatura)( ?(sensor|probe|sonde|fuhler))? ?0?2$/,
    { air: 1.5, stack: 0.5, otherTemperature: 0 },
  ],
  [
    /^(t|temps?|tmp|temperature|tc|temperatur|th|tk|temperatura|thermocouple|thermoelement)( ?(sensor|probe|sonde|fuhler))? ?\d+$/,
    { otherTemperature: 1.5, stack: 0, air: 0 },
  ],
  [/^(probe|sensor|sonde|thermocouple|thermoelement) ?(temp|temperature|t)?$/, { stack: 0.5, air: 0, otherTemperature: 0.5 }],
  // A temperature of something that is neither the flue nor the room.
  [/temp(?![a-z]{6})|(^| )(tc|tc ?\d+|t)( |$)/, { otherTemperature: 3 }],
];

const plainLetters: Record<string, string> = { '₂': '2', ₓ: 'x', '₀': '0', ß: 'ss', ø: 'o', ł: 'l' };

/** 'stackTemp_C' -> 'stack temp c'; chemical formulas stay in one piece. */
const words = (name: string): string =>
  name
    .replace(/[₂ₓ₀]/g, (sign) => plainLetters[sign] ?? sign)
    .replace(/(\w)\s+[-\u2212\u2013]\s+(?=[A-Za-z])/g, '$1 minus ')
    .replace(/([a-z0-9])([A-Z][a-z])/g, '$1 $2')
    .replace(/([a-z]{2})([A-Z])/g, '$1 $2')
    .toLowerCase()
    .replace(/[ßøł]/g, (sign) => plainLetters[sign] ?? sign)
    .normalize('NFD')
    .replace(/\p{M}+/gu, '')
    .replace(/[^a-z0-9%/#@λ]+/g, ' ')
    .trim();

const wetWord = /(^|[^a-z])(wet|feucht|nass|humides?|humedo|umidi?|humidi|wb)([^a-z]|$)/i;
const dryWord = /(^|[^a-z])(dry|trocken|tr|sec|secs|seco|secco|secchi|db)([^a-z]|$)/i;
/** what brackets hold beside units: a base, a spread of words that say nothing */
const unitLike = /^(dry|wet|tr\.?|trocken|feucht|sec|humide|vol\.?|avg|mean|meas|measured|gross|db|wb)$/i;

const unitWord =
  /^(%|pct|percent|prozent|vol%|%vol|ppm|ppmv|ppb|c|f|k|degc|degf|celsius|fahrenheit|kelvin|pa|hpa|mbar|kpa|bar|psi|inh2o|inwc|mmh2o|mg\/m3|mgm3|mg\/nm3)$/;

/** Reads a header cell, a key or a JSON path: which roles it speaks for, and the unit that it names. */
export function nameMeaning(name: string): NameMeaning {
  const key = name.replace(tagNumber, '$100');
  const known = meanings.get(key);
  if (known !== undefined) return known;
  const meaning = workOut(key);
  if (meanings.size < MOST_MEANINGS) meanings.set(key, meaning);
  return meaning;
}
/** 'P104 drum pressure', 'TI1204 ...': tags of a plant differ in their number only; the words behind say what it is. No formula is one. */
const tagNumber = /^(?!(?:co|no|so|pt|pm|nox)[ _.-]?\d)([A-Za-z]{1,4}[ _.-]?)\d{2,}(?=[ _.:-]+[A-Za-z]{3})/i;
const meanings = new Map<string, NameMeaning>();
const MOST_MEANINGS = 2000;

function workOut(name: string): NameMeaning {
  let bare = name.trim().replace(/^["']|["']$/g, '');
  // A path of places, 'cellar/boiler/flue/o2': each part is a word.
  if (/^\/?[^\s/()[\]]{2,}(?:\/[^\s/()[\]]+){2,}$/.test(bare)) bare = bare.replaceAll('/', ' ').trim();
  let unit: SentUnit | undefined;
  let foreign: NameMeaning['foreign'];
  let isWet = false;
  let isDry = false;
  const glued = /^(co2?|o2|nox?|so2)(ppmv?|pct|percent|perc)$/i.exec(bare);
  if (glued !== null) bare = `${glued[1] ?? ''} ${glued[2] ?? ''}`;
  // 'O2 kg/s': what is behind the blank is one unit.
  const behind = /^(.*\S)\s+(\S+\/\S+)$/.exec(bare);
  const rate = behind === null ? undefined : unitMeaning(behind[2] ?? '');
  if (behind !== null && rate?.kind === 'foreign' && rate.quantity !== 'unknown') {
    foreign = { quantity: rate.quantity, text: rate.text };
    bare = behind[1] ?? bare;
  }
  // 'CO/ppm', 'Tabgas/K', 'm/kg': the quantity over its unit.
  const over = /^([^[({]*[^\s/[({])\s*\/\s*([^\s/]+(?:\/n?m[³3])?)$/.exec(bare);
  const below = over === null ? undefined : unitMeaning(over[2] ?? '');
  const isLetter = /^[cfk]$/i.test(over?.[2] ?? '');
  if (over !== null && below !== undefined && (!isLetter || /^t|temp/i.test(over[1] ?? ''))) {
    if (below.kind === 'sent') unit = below.unit;
    else if (below.quantity !== 'unknown') foreign = { quantity: below.quantity, text: below.text };
    if (unit !== undefined || foreign !== undefined) bare = over[1] ?? bare;
  }
  for (let times = 0; times < 2; times++) {
    const bracket = /[[({<]\s*([^\])}>]*?)\s*[\])}>]/.exec(bare);
    if (bracket === null) break;
    const inside = bracket[1] ?? '';
    isWet ||= wetWord.test(inside);
    isDry ||= dryWord.test(inside);
    const said = unitMeaning(inside.replace(/[,; ]+(dry|wet|tr\.?|trocken|sec|secco|seco|db|vol\.?)$/i, ''), bracket[0].startsWith('['));
    const isWord =
      said?.kind === 'foreign' &&
      said.quantity === 'unknown' &&
      /^(dry|tr|trocken|sec|avg|mean|meas|measured|calc|gross|net|ref)$/i.test(inside);
    if (said?.kind === 'sent') unit ??= said.unit;
    else if (said?.kind === 'foreign' && !isWord) foreign ??= { quantity: said.quantity, text: said.text };
    // What is in brackets and is no unit is a part of the name: 'O2 (set)'.
    const word = said === undefined && /[a-z]{2}|\d ?%/i.test(inside) && !unitLike.test(inside) ? ` ${inside} ` : ' ';
    bare = `${bare.slice(0, bracket.index)}${word}${bare.slice(bracket.index + bracket[0].length)}`;
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
    const before = /^(%|pct|ppm|mg\/n?m(?:3|³)|(?:deg\.?|°|\u00b0)\s?[CF](?![a-z])|hPa|mbar|Pa(?![a-z]))\s*([A-Za-z].*)$/i.exec(bare);
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
  } else if (
    unit === undefined &&
    foreign === undefined &&
    list.length > 1 &&
    /^(g|kg|mg|v|mv|ma|na|ua|w|kw|a|rpm|lpm|hz|l|counts?|cts|ug m3|kwh|ms2|db|dbm|lux)$/.test(last)
  ) {
    const said = unitMeaning(last);
    const shown = bare.trim().slice(-last.length);
    if (said?.kind === 'foreign') foreign = { quantity: said.quantity, text: shown.toLowerCase() === last ? shown : last };
    text = list.slice(0, -1).join(' ');
  }
  const whole = text;
  text = text
    .replace(
      / (vol|dry|meas|measured|level|conc|concentration|value|val|wert|valeur|valor|probe|meter|analy[sz]er|analy[sz]ator|sensor)$/,
      '',
    )
    .replace(/^(gas|flue gas|meas|ch|sensor) (?=(o2|co|co2|no|nox|so2)$)/, '');
  const roles = rows.find(([pattern]) => pattern.test(text))?.[1] ?? {};
  const excludedBy = excludedIn(whole, roles);
  isWet ||= wetWord.test(whole);
  isDry ||= dryWord.test(whole);
  const extra = {
    ...defined({ foreign, excludedBy }),
    ...(isWet ? { isWet } : {}),
    ...(isDry && !isWet ? { isDry } : {}),
    ...(emptyName.test(text) ? { isEmpty: true } : {}),
  };
  return { roles: excludedBy === undefined ? roles : withoutChannels(roles), unit, ...extra };
}

/** What is left of a name's roles when a word makes it another quantity. */
function withoutChannels(roles: Partial<Record<Role, number>>): Partial<Record<Role, number>> {
  const rest = Object.entries(roles).filter(([role]) => !['o2', 'co', 'co2', 'stack', 'air'].includes(role));
  return rest.length > 0 ? Object.fromEntries(rest) : { other: 3 };
}
