import { defined } from '../../../defined.ts';
import type { SentUnit } from '../../../measurement/sent-unit.ts';
import { unitMeaning, type ForeignQuantity } from '../../unit-meaning.ts';
import { unitFromText } from '../../unit-spellings.ts';
import { multiplierIn, type Multiplier } from '../../multiplier.ts';
import { words } from './plain-words.ts';
import { excludedIn, gasWord, type NamedQuantity } from './quantities-in-names.ts';
import { emptyName, roleRows } from './roles-in-names.ts';
import type { Role } from './roles.ts';

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
  /** 'x1000' beside the unit: roles and unit are those of the name without it */
  readonly multiplier?: Multiplier | undefined;
};

/** Is a gas named anywhere in this text? */
export const namesGas = (text: string): boolean => gasWord.test(words(text));

const wetWord = /(^|[^a-z])(wet|feucht|nass|humides?|humedo|umidi?|humidi|wb)([^a-z]|$)/i;
const dryWord = /(^|[^a-z])(dry|trocken|tr|sec|secs|seco|secco|secchi|db)([^a-z]|$)/i;
/** what brackets hold beside units: a base, a spread of words that say nothing */
const unitLike = /^(dry|wet|tr\.?|trocken|feucht|sec|humide|vol\.?|avg|mean|meas|measured|gross|db|wb)$/i;

const unitWord =
  /^(%|pct|percent|prozent|vol%|%vol|ppm|ppmv|ppb|c|f|k|degc|degf|celsius|fahrenheit|kelvin|pa|dapa|hpa|mbar|kpa|bar|psi|inh2o|inwc|inwg|inhg|mmh2o|mmwc|mmws|mmwg|mg\/m3|mgm3|mg\/nm3)$/;

/** Reads a header cell, a key or a JSON path: which roles it speaks for, and the unit that it names. */
export function nameMeaning(name: string): NameMeaning {
  const key = name.replace(tagNumber, '$100');
  const known = meanings.get(key);
  if (known !== undefined) return known;
  const meaning = withMultiplier(key, workOut(key));
  if (meanings.size < MOST_MEANINGS) meanings.set(key, meaning);
  return meaning;
}
/** 'P104 drum pressure', 'TI1204 ...': tags of a plant differ in their number only; the words behind say what it is. No formula is one. */
const tagNumber = /^(?!(?:co|no|so|pt|pm|nox)[ _.-]?\d)([A-Za-z]{1,4}[ _.-]?)\d{2,}(?=[ _.:-]+[A-Za-z]{3})/i;
const meanings = new Map<string, NameMeaning>();
const MOST_MEANINGS = 2000;

/** 'CO 10 % O2' is a reference, whatever else could be read in it. */
function withMultiplier(name: string, asIs: NameMeaning): NameMeaning {
  if (asIs.roles.coCorrected !== undefined || asIs.roles.reference !== undefined) return asIs;
  const found = multiplierIn(name);
  return found === undefined ? asIs : { ...workOut(found.rest), multiplier: found.multiplier };
}

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
  // 'co_mgkWh': a key that has no place for the stroke
  bare = bare.replace(/[\s_]+([m\u00b5u]?g)[\s_]?(kwh|mj|gj)$/i, ' $1/$2');
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
    const before = /^(%|pct|ppm|mg\/n?m(?:3|³)|(?:deg\.?|°|\u00b0)\s?[CF](?![a-z])|daPa|hPa|mbar|Pa(?![a-z]))\s*([A-Za-z].*)$/i.exec(bare);
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
  const roles = roleRows.find(([pattern]) => pattern.test(text))?.[1] ?? {};
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
