/** Words that make a column another quantity than a channel, though the name of a gas or a place is in it too. A table; the first row that fits counts. */
import type { Role } from './roles.ts';

/** What a name can say that is never one of the channels, though the name of a gas or a place is in it too. */
const namedQuantities = [
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

export const gasWord =
  /sauerstoff|kohlenmonoxi?y?d|(^| )(o ?2|oxygen|oxygene|oxigeno|ossigeno|sauerstoff|co|co ?2|monoxide|dioxide|no|nox|so2|ch4|hc|c3h8|h2s|lpg)( |$)/;
const temperatureWord = /temp|(^| )(t|tc|thermocouple|degc|pt100)( |$)/;
/** gas first, then 'temperature': that of its sensor, or of its sample line */
const isTemperatureOfGas = (text: string): boolean =>
  /^(o ?2|co|co ?2|no|nox|so2|ch4|hc|hcin|hcout|h2o|voc|pm|sample)( (sensor|cell|probe|meter))? ?(temp|temperature|t|tc)( ?\d+)?$/.test(
    text,
  ) || /^(co|co2|ch4|hc|hcin|hcout|h2o|so2|nox|voc|filt|o2)temp\d*$/.test(text);

/** 'avg' by itself is the mean of what is before it; 'O2 avg' is an O2. */
const bareMean = /^(avg|average|mean|moy|moyenne|mittel|mittelwert|media|promedio|gem)$/;

export function excludedIn(text: string, roles: Partial<Record<Role, number>>): NamedQuantity | undefined {
  if (bareMean.test(text)) return 'spread';
  if (isTemperatureOfGas(text)) return 'sensor';
  // the oil and the pump in its name make no mass and no flow of it
  if ((roles.pumpPressure ?? 0) >= 3) return undefined;
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
