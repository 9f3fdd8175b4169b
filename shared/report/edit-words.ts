/** One change of a visit in words: which field, what stood there, what stands there now, with units. Never the bare data. */
import { formatClock } from '../format/duration.ts';
import { formatDay, formatZone } from '../format/date.ts';
import { formatNumber, formatPosition, formatWithUnit, shownAs, withUnit, type UnitSystem } from '../format/quantity.ts';
import { itemNames } from '../geometry/items.ts';
import { geometryNames } from '../words/geometry/geometry.ts';
import { setUpItemNames, type SetUpItem } from '../tuning/set-up/set-up-sheet.ts';
import type { Edit, Visit } from '../tuning/visit/visit.ts';
import { common } from '../words/common.ts';
import { editWords as words } from '../words/records/edits.ts';
import { ownerWords } from '../words/paper/owner-page.ts';
import { recordWords } from '../words/paper/technical-record.ts';
import { quantityWords } from '../words/visit/target-card.ts';
import { smokeRuleWords } from '../words/visit/smoke-and-window.ts';
import { cautionWords } from '../words/visit/cautions.ts';
import { setUpWords } from '../words/visit/set-up-items.ts';
import { stepWords } from '../words/visit/steps.ts';
import { startWords } from '../words/visit/screens/start.ts';
import type { CardLine } from '../tuning/card/target-card.ts';
import { cardUnit, lineLimitText } from './card-format.ts';
import { itemText, lineLength } from './record/set-up.ts';
import { testTitle } from './safety-facts.ts';
import { fuelVolume, trialNumber } from './written.ts';

export type EditText = { readonly field: string; readonly before: string; readonly after: string };
type Path = readonly (string | number)[];
type Context = { readonly visit: Visit; readonly units: UnitSystem; readonly applianceName: (id: string) => string | undefined };

const isSetUpItem = (key: unknown): key is SetUpItem => setUpItemNames.some((item) => item === key);
const wordOf = (table: Readonly<Record<string, string>>, value: unknown): string => table[String(value)] ?? String(value);

/** The id of an instrument goes with its name, which has its own line; ids say nothing to anybody. */
export const isShown = ({ path: [top] }: Pick<Edit, 'path'>): boolean => top !== 'instrumentId';

export function editText(
  { path, before, after }: Pick<Edit, 'path' | 'before' | 'after'>,
  { visit, units, applianceName = () => undefined }: Pick<Context, 'visit' | 'units'> & Partial<Context>,
): EditText {
  const context: Context = { visit, units, applianceName };
  const [was, is] = [partsOf(path, before, context), partsOf(path, after, context)];
  const isNew = was.length === 0 || is.length === 0;
  // of two long texts only what differs; of one, not the time, which stands beside it already
  const differs = (part: Part, others: readonly Part[]): boolean =>
    isNew ? part.key.length === 0 || !part.isTime : others.find(({ key }) => key === part.key)?.text !== part.text;
  const write = (mine: readonly Part[], others: readonly Part[]): string =>
    clipped(
      mine
        .filter((part) => differs(part, others))
        .map(({ label, text }) => (label === '' ? text : `${label} ${text}`))
        .join('; '),
    ) || words.absent;
  return { field: fieldText(path, after ?? before, visit), before: write(was, is), after: write(is, was) };
}

const MOST = 240;
export function clipped(text: string): string {
  if (text.length <= MOST) return text;
  const cut = text.slice(0, MOST);
  return `${cut.slice(0, Math.max(cut.lastIndexOf(' '), MOST - 40))} …`;
}

const spaced = (key: string): string => key.replace(/([a-z])([A-Z])/g, (_, low: string, up: string) => `${low} ${up.toLowerCase()}`);
const part = (value: unknown, key: string): unknown =>
  typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[key] : undefined;

const textOf = (value: unknown): string => (typeof value === 'string' ? value : '');

/** 'Electrode gap, as left'; what is counted is counted from one. */
function fieldText(path: Path, value: unknown, visit: Visit): string {
  const [top, at, ...rest] = path;
  const name = words.fields[String(top)] ?? spaced(String(top));
  const index = typeof at === 'number' ? at : undefined;
  switch (top) {
    case 'setUp': {
      const [item, which] = rest;
      if (at === 'geometry') {
        const [, row, side] = rest;
        const column = { asFound: words.asFound, asLeft: words.asLeft, maker: words.maker }[String(side)];
        const figure = itemNames.find((one) => one === row);
        return figure === undefined
          ? [words.setUp['geometry'], item === undefined ? undefined : (words.geometry[String(item)] ?? spaced(String(item)))]
              .filter(Boolean)
              .join(', ')
          : [geometryNames[figure], column].filter(Boolean).join(', ');
      }
      if (at === 'rows' && isSetUpItem(item)) {
        const column = { asFound: words.asFound, asLeft: words.asLeft, maker: words.maker, note: words.rowNote }[String(which)];
        return [setUpWords[item], column].filter(Boolean).join(', ');
      }
      const column = rest[0] === 'asFound' ? words.asFound : rest[0] === 'asLeft' ? words.asLeft : undefined;
      return [at === undefined ? name : capital(words.setUp[String(at)] ?? spaced(String(at))), column].filter(Boolean).join(', ');
    }
    case 'people': {
      const role = index === undefined ? undefined : (part(value, 'role') ?? visit.people[index]?.role);
      const person = role === undefined ? name : (recordWords.labels[role as keyof typeof recordWords.labels] ?? name);
      return rest.length === 0 ? person : `${person}, ${words.parts[String(rest[0])] ?? spaced(String(rest[0]))}`;
    }
    case 'stages': {
      if (index === undefined) return name;
      const field = rest[0] === undefined ? '' : (words.stageFields[String(rest[0])] ?? spaced(String(rest[0])));
      if (visit.stages.length < 2 && field !== '') return capital(field);
      return [words.stage(visit.stages[index]?.name ?? String(index + 1)), field].filter(Boolean).join(', ');
    }
    case 'safety': {
      const test = part(value, 'test') ?? (index === undefined ? undefined : visit.safety[index]?.test);
      return [
        name,
        test === undefined ? undefined : testTitle(textOf(test)),
        rest[0] === undefined ? undefined : words.parts[String(rest[0])] || spaced(String(rest[0])),
      ]
        .filter(Boolean)
        .join(', ');
    }
    case 'bypasses': {
      const what = index === undefined || rest.length === 0 ? undefined : visit.bypasses[index]?.what;
      return [name, what, rest[0] === undefined ? undefined : words.parts[String(rest[0])]].filter(Boolean).join(', ');
    }
    case 'trials': {
      if (index === undefined) return name;
      const inside = rest.map((key) => (typeof key === 'number' ? String(key + 1) : (words.parts[key] ?? spaced(key)))).filter(Boolean);
      return [capital(words.trial(index + 1)), ...inside].join(', ');
    }
    default: {
      const inside = [at, ...rest].filter((key) => typeof key === 'string').map((key) => words.parts[key] ?? spaced(key));
      return [name, ...inside.filter((text) => text !== '')].join(', ');
    }
  }
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

type Part = { readonly key: string; readonly label: string; readonly text: string; readonly isTime: boolean };

/** A value as its smallest parts, each with the word that tells it from the others. */
function partsOf(path: Path, value: unknown, context: Context, inside: Path = []): Part[] {
  if (value === undefined || value === null) return [];
  const whole = wholeText(path, value, context);
  const last = path.at(-1);
  const label = inside.length === 0 || typeof last === 'number' ? '' : (words.parts[String(last)] ?? spaced(String(last)));
  const isTime = typeof last === 'string' && /WallMs$|^wallMs$/.test(last);
  if (whole !== undefined) return whole === '' ? [] : [{ key: inside.join(' '), label, text: whole, isTime }];
  if (typeof value !== 'object') return [{ key: inside.join(' '), label, text: plainText(path, value, context), isTime }];
  return Object.entries(value).flatMap(([key, one]) => {
    const step = Array.isArray(value) ? Number(key) : key;
    return partsOf([...path, step], one, context, [...inside, step]);
  });
}

/** Values that are said in one go; undefined: say its parts. An empty text is left out. */
function wholeText(path: Path, value: unknown, { visit, units, applianceName }: Context): string | undefined {
  const [top] = path;
  const last = path.at(-1);
  if (part(value, 'positions') !== undefined) return positionsText((value as { positions: unknown }).positions);
  if (last === 'positions') return positionsText(value);
  if (top === 'targetCard') return cardText(path, value, units);
  if (top === 'adjusters' && path.length === 2) return textOf(part(value, 'name'));
  if (part(value, 'sha256') !== undefined) return textOf(part(value, 'name'));
  if (typeof value === 'object') return undefined;
  if (top === 'applianceId') return applianceName(textOf(value)) ?? (value === visit.applianceId ? words.appliance : words.otherAppliance);
  if (last === 'asFoundTrialId' || last === 'asLeftTrialId' || last === 'echoTrialId') {
    const number = trialNumber(visit, textOf(value));
    return number > 0 ? words.trial(number) : words.trialGone;
  }
  // these stand in the name of the field
  if ((top === 'people' && last === 'role' && path.length > 2) || (top === 'safety' && last === 'test')) return '';
  // ids say nothing to anybody
  if (last === 'id' || last === 'runId' || last === 'hash') return '';
  return undefined;
}

const positionsText = (positions: unknown): string =>
  Array.isArray(positions)
    ? positions.map((one) => `${String(part(one, 'name'))} ${formatPosition(Number(part(one, 'value')))}`).join(', ')
    : '';

/** The card by its name and edition; its limits one by one, so that a changed limit is seen. */
function cardText(path: Path, value: unknown, units: UnitSystem): string | undefined {
  const last = path.at(-1);
  if (last === 'id' || last === 'example' || (last === 'kind' && path.length === 2)) return '';
  if (part(value, 'quantity') === undefined) return undefined;
  const line = value as CardLine;
  return withUnit(`${quantityWords[line.quantity]} ${lineLimitText(line, units)}`, cardUnit(line.quantity, units));
}

function plainText(path: Path, value: unknown, { visit, units }: Context): string {
  const [top] = path;
  const last = path.at(-1);
  if (typeof value === 'boolean') return value ? words.yes : words.no;
  if (typeof value === 'number') return numberText(path, value, visit, units);
  switch (top) {
    case 'kind':
      return wordOf(words.kinds, value);
    case 'fuelId':
      return wordOf(common.fuels, value);
    case 'unitPreset':
      return wordOf(words.units, value);
    case 'smokeRule':
      return wordOf(smokeRuleWords, value);
    case 'draftHabit':
      return wordOf(startWords.draftHabits, value);
    case 'cautions':
      return wordOf(cautionWords, value);
    case 'changes':
      return last === 'kind' ? wordOf(ownerWords.done.changed, value) : String(value);
    case 'zeroed':
      return wordOf(recordWords.places, value);
    case 'safety':
      return last === 'result' ? wordOf(words.results, value) : String(value);
    case 'at':
      return last === 'step' ? (stepWords[value as keyof typeof stepWords]?.name ?? String(value)) : String(value);
    case 'people':
      return last === 'role' ? wordOf(recordWords.labels, value).toLowerCase() : String(value);
    case 'targetCard':
      return last === 'quantity' ? wordOf(quantityWords, value) : last === 'smokeRule' ? wordOf(smokeRuleWords, value) : String(value);
    default:
      return String(value);
  }
}

function numberText(path: Path, value: number, visit: Visit, units: UnitSystem): string {
  const last = String(path.at(-1));
  const [top, , item] = path;
  const difference = (id: 'stackTemperature' | 'airTemperature'): string => {
    const { factor } = shownAs(id, units);
    return withUnit(formatNumber(value * factor, 1), units === 'us' ? '°F' : 'K');
  };
  if (/^wallMs$|WallMs$/.test(last)) {
    const clock = formatClock(value, visit.zoneMinutes, 'minutes');
    return top === 'startedWallMs' || top === 'endedWallMs' ? `${formatDay(value, visit.zoneMinutes)} ${clock}` : clock;
  }
  if (top === 'setUp' && isSetUpItem(item)) return itemText(item, value, units, visit.setUp.lengthUnit);
  switch (last) {
    case 'zoneMinutes':
      return formatZone(value);
    case 'airTypedC':
      return formatWithUnit('airTemperature', value, units);
    case 'stackK':
      return difference('stackTemperature');
    case 'airK':
      return difference('airTemperature');
    case 'co2MaxPercent':
      return withUnit(formatNumber(value, 2), '% CO2');
    case 'o2Percent':
      return withUnit(formatNumber(value, 2), '% O2');
    case 'coShare':
      return withUnit(formatNumber(value * 100, 1), '%');
    case 'fuelPoints':
      return withUnit(formatNumber(value, 2), 'points');
    case 'ppm':
    case 'coPpm':
    case 'noticePpm':
    case 'alarmPpm':
      return withUnit(formatNumber(value, 0), 'ppm');
    case 'annualFuelGal':
      return fuelVolume(value, units);
    case 'liftM':
    case 'runM':
      return lineLength(value, units);
    case 'reserveCo2Points':
      return withUnit(formatNumber(value, 1), words.points);
    case 'overFirePa':
    case 'breechPa':
      return formatWithUnit('draft', value, units);
    case 'pumpPa':
    case 'ratedPressurePa':
      return formatWithUnit('pumpPressure', value, units);
    case 'seconds':
    case 'markedSeconds':
      return withUnit(formatNumber(value, 1), 's');
    default:
      return formatPosition(value);
  }
}
