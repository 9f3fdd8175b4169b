/** Which role a name speaks for, in the languages that instruments write. A table; the first row that fits counts. */
import type { Role } from './roles.ts';

export const emptyName =
  /^(ch|chan|channel|kanal|canal|canale|voie|col|column|spalte|val|value|wert|valeur|valor|var|data|field|in|input|ai|an|analog|unnamed|reg|register|r|[a-z])? ?\d*$/;

export const roleRows: readonly (readonly [RegExp, Partial<Record<Role, number>>])[] = [
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
  [/(^| )(o2|oxygen|sauerstoff) ?(ref|reference|bezug|bez|norm|rif|odn)/, { reference: 3 }],
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
    /(^| )co.*(air ?free|undil|dilu|corr|korr|skoryg|ref|norm|odn|unv|verd|rozc|przel|bez|rapporte|ajust|riferit|exempt|luftfrei|luchtvrij| \d ?(pct|o2|vol ?%? ?o2)|(sans|senza|sin|libre de) ai?r|\d ?%|@)|^co ?(af|u|n|uv|0|3|c|corr|at)$|(^| )co( .*)? (af|und|rel|cor|rif|calc|eq|est|estimated)( |$)|^coaf|^co ?ratio|co\/co/,
    { coCorrected: 3 },
  ],
  [/(amb|room|raum|umgebung)\w* ?co( |$)|(^| )co (w )?pomieszcz|(^| )co ?(amb|room|raum|umg|env|omgev|otocz)/, { ambientCo: 3 }],
  [/(stickstoff|nitrogen|azote?|nitrogeno) ?mon|monoss?(ido|yde) d. ?azot|mon[oó]xido de nitr/, { no: 3 }],
  [
    /kohlenmonoxi?y?d|kohlenstoffmonoxi?y?d|(^| )(co|carbon ?monoxide|monoxide|monoxyde|monoxido|monossido|koolmonoxide|koolstofmonoxide|ossido di carbonio|oxido de carbono|tlenek wegla)( |$|1( |$))/,
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
  [/(^| )(pump ?pressure|oil ?pressure|pumpendruck|oldruck|oeldruck|p ?oil|poil)( |$)/, { pumpPressure: 3 }],
  [/flow|pump|durchfluss|(^| )(rpm|fan)( |$)/, { other: 3 }],
  [
    /draft|draught|(^| )(zug|tirage|tiraggio|tiro|trek|ciag|dft|drft|p ?draft|drf|kaminzug)( |$)|(^| )p ?(flue|stack|abgas|kamin|fumees|fumi|humos|spalin)( |$)|(flue|flue ?gas|stack|chimney|abgas|kamin) ?(pressure|druck)/,
    { draft: 3 },
  ],
  [
    /stack|flue|exhaust|chimney|chimenea|cheminee|camino|abgas|rauchgas|fumee|fumi|humos|gas de combustion|gaz de combustion|fumos|spalin|spaliny|gas(es)? de combustion|rokgas|roggas|verbrandingsgas|savukaasu|kamin|rook|(^| )(tst|tfl|tstk|stk|egt|agt|exh|texh|t ?exh|rgt|tfg|fgt|t ?gas|tg|tf|tflue|gas ?t|gas ?temp\w*|temp\w* ?gas|t ?gaz|gaz ?temp\w*|temp\w* ?gaz|hot|ts|t ?s|tabg|fg)( |$)/,
    { stack: 3 },
  ],
  [
    /ambient|ambiant|room|inlet|intake|combustion air|comburant|verbrennungsluft|ansaugluft|umgebung|raumtemp|raumluft|ambiance|omgevings|otoczeni|pomieszcz|ruimte|verbrandingslucht|(^| )(tair|tam|t ?air|air ?t|air ?temp\w*|temp\w* ?air|amb|tamb|t ?amb|air|luft|tl|t ?l|raum|tluft|traum|t ?umg|taria|taire|t ?pow|zuluft|supply ?air|cold ?junction|aria|aire|air|lucht|luft ?temp|tin|omgeving|otoczenia|powietrze|powietrza|ambiente)( |$)|zuluft ?temp|lufttemp|luchttemp/,
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
