/**
 * Which column is which, and how sure that is. Names and units decide first; how columns move together and their ranges only choose
 * among columns that no name or unit speaks about, or arrange columns that a word hints at. Whatever only values say is asked about,
 * save in the plain table of an instrument, where every column is explained and the gases and the stack move as they do in a flue.
 */
import type { ChannelId } from '../../measurement/channel.ts';
import { unitsFor, type SentUnit } from '../../measurement/recipe.ts';
import { toInner } from '../sent-units.ts';
import type { Role } from './column-name.ts';
import { areMixed, isHexadecimal, isNumbering, swappedChannels, type Used } from './contradictions.ts';
import type { ColumnVerdict, Evidence, EvidenceKey } from './evidence.ts';
import type { FoundClock } from './find-clock.ts';
import { solveIdentity, type Identity, type Solved } from './identity.ts';
import { mainRoles, type MainRole, type Reading } from './main-options.ts';
import type { Column, Table } from './table.ts';
import { defined, whenDefined } from '../../defined.ts';

export type JudgedRole = MainRole | 'co2';
export const judgedRoles: readonly JudgedRole[] = ['o2', 'co', 'co2', 'stack', 'air'];
export const channelOfRole: Record<JudgedRole, ChannelId> = {
  o2: 'o2',
  co: 'co',
  co2: 'co2',
  stack: 'stackTemperature',
  air: 'airTemperature',
};

export type Judged = {
  /** what the recipe is built from: sure channels, and the best guess where a question is open */
  readonly identity: Identity;
  readonly verdicts: readonly ColumnVerdict[];
  /** no column can be a channel; `verdicts` say why */
  readonly isEmpty: boolean;
  /** a person has to look before anything is used */
  readonly isOpen: boolean;
  readonly confidence: number;
  readonly solved: Solved | undefined;
};

/** Below this many columns a solver may weigh all of them against each other. */
const MOST_TO_WEIGH = 28;
/** A plain instrument writes no more columns than this. */
const MOST_OF_A_PLAIN = 16;
const CONFIDENT = 0.8;
const temperatures: readonly SentUnit[] = ['C', 'F', 'K'];
const isTemperature = (role: JudgedRole): boolean => role === 'stack' || role === 'air';

/** Inner values that a channel can show: anything else is another quantity, raw counts or a broken sensor. */
const possible: Record<JudgedRole, readonly [number, number]> = {
  o2: [-1.5, 25.5],
  co: [-150, 200_000],
  co2: [-1.5, 40],
  stack: [-45, 1400],
  air: [-45, 75],
};
/** ppm: more is no flue gas, whatever the unit was meant to be */
const MOST_CO_WITHOUT_UNIT = 60_000;

/** What is seldom in a flue, and usual where name and unit have been mixed up. */
const usual: Record<JudgedRole, readonly [number, number]> = {
  o2: [0.05, 22],
  co: [-150, 20_000],
  // pure carbon gives 20.9 % where no air is left over; a reading of so much is oxygen
  co2: [0, 20],
  stack: [-45, 1200],
  air: [-40, 60],
};

const saidFor = (column: Column, role: JudgedRole): number => (role in column.meaning.roles ? (column.meaning.roles[role] ?? 0) : 0);
const isStrong = (column: Column, role: JudgedRole): boolean => saidFor(column, role) >= 2;
const hasNumbers = (column: Column): boolean => column.statistics !== undefined && column.statistics.share >= 0.3;

function innerRange(column: Column, role: JudgedRole, unit: SentUnit): readonly [number, number, number] | undefined {
  const conversion = toInner(channelOfRole[role], unit);
  const s = column.statistics;
  if (conversion === undefined || s === undefined) return undefined;
  const inner = (value: number): number => value * conversion.factor + conversion.offset;
  return [inner(s.low), inner(s.high), inner(s.median)];
}

/** The unit that a name alone goes with, where every value fits it. */
const unitAlone = (role: JudgedRole): SentUnit => (role === 'co' ? 'ppm' : role === 'o2' || role === 'co2' ? '%' : 'C');

/** Does nothing at all forbid that this column is the channel? The reason where something does. */
function exclusion(column: Column, isClock: boolean, role: JudgedRole): Evidence | undefined {
  const against = (key: EvidenceKey, kind: Evidence['kind'], text?: string, low?: number, high?: number): Evidence => ({
    channel: isTemperature(role) || role === 'o2' || role === 'co' || role === 'co2' ? channelOfRole[role] : 'all',
    side: 'against',
    kind,
    strength: 3,
    key,
    ...defined({ text, low, high }),
  });
  const { meaning, unit, foreign, statistics: s } = column;
  if (isClock) return against('clock', 'nature');
  if (foreign !== undefined) return against('foreign-unit', 'unit', foreign.text);
  if (meaning.excludedBy !== undefined) return against('other-name', 'name', meaning.excludedBy);
  const strongest = Object.entries(meaning.roles).find(([, said]) => said >= 2);
  if (strongest !== undefined && !isStrong(column, role)) return against('other-name', 'name', strongest[0]);
  if (column.name !== '' && meaning.isEmpty !== true && saidFor(column, role) === 0) return against('unknown-name', 'name', column.name);
  if (unit !== undefined && !unitsFor(channelOfRole[role]).includes(unit)) return against('foreign-unit', 'unit', unit);
  if (isHexadecimal(column)) return against('hexadecimal', 'nature');
  if (s === undefined) return against(column.texts.some((text) => text.trim() !== '') ? 'text' : 'empty', 'nature');
  if (s.distinct === 1 && s.count > 3 && saidFor(column, role) < 1) return against('constant', 'nature', undefined, s.median, s.median);
  const range = innerRange(column, role, unit ?? unitAlone(role));
  const isUnitKnown = unit !== undefined;
  if (range !== undefined && saidFor(column, role) > 0) {
    const [low, high] = possible[role];
    const most = isUnitKnown || isTemperature(role) ? high : role === 'co' ? MOST_CO_WITHOUT_UNIT : Infinity;
    const isOut = range[2] < low || range[2] > most;
    // degF and K without a unit read higher
    if (isOut && (isUnitKnown || !isTemperature(role) || range[2] < low || range[2] > 2600))
      return against('impossible', 'range', undefined, s.low, s.high);
  }
  return undefined;
}

/** The unit says one thing, the values another: a head that lies, or a mistake in it. */
function contradicts(column: Column, role: JudgedRole): EvidenceKey | undefined {
  const { unit } = column;
  if (unit === undefined || !hasNumbers(column)) return undefined;
  const range = innerRange(column, role, unit);
  if (range === undefined) return 'unit-contradicts';
  const [low, high] = usual[role];
  if (role === 'co' && unit === '%' && range[2] > 20_000) return 'values-contradict';
  if (role === 'o2' && unit !== '%' && range[2] < low) return 'values-contradict';
  if (role === 'co2' && unit === '%' && range[1] > high) return 'values-contradict';
  return range[2] > high || range[2] < (role === 'o2' ? -1 : low) ? 'values-contradict' : undefined;
}

const gasUnits: readonly SentUnit[] = ['%', 'ppm', 'ppb', 'fraction', 'mg/m3'];
/** A strong name with a unit of one of the other channels: names and units were mixed up. */
const isSwapped = (column: Column, role: JudgedRole): boolean =>
  column.unit !== undefined &&
  column.foreign === undefined &&
  column.meaning.excludedBy === undefined &&
  isStrong(column, role) &&
  !unitsFor(channelOfRole[role]).includes(column.unit) &&
  (gasUnits.includes(column.unit) || temperatures.includes(column.unit)) &&
  hasNumbers(column);

/** Short forms that nobody knows, beside O2 and CO with their names: what they are is left to their values. */
const LONGEST_SHORT = 4;
const MOST_OF_A_SLIP = 10;
function withOpenShortNames(columns: readonly Column[]): readonly Column[] {
  const isFlue = (['o2', 'co'] as const).every((role) => columns.some((column) => isStrong(column, role)));
  if (!isFlue || columns.length > MOST_OF_A_SLIP) return columns;
  return columns.map((column) => {
    const { name, meaning, foreign } = column;
    const isUnknown = name.length <= LONGEST_SHORT && Object.keys(meaning.roles).length === 0;
    return isUnknown && foreign === undefined && meaning.excludedBy === undefined
      ? { ...column, meaning: { ...meaning, isEmpty: true } }
      : column;
  });
}

/** 'No' over numbers that count is the number of the record, not nitric oxide. */
const withNumbering = (columns: readonly Column[]): readonly Column[] =>
  columns.map((column) => {
    const { no, counter } = column.meaning.roles;
    const isRecord = no !== undefined && counter !== undefined && column.unit === undefined && isNumbering(column);
    return isRecord ? { ...column, meaning: { ...column.meaning, roles: { counter: 3 } } } : column;
  });

/** What a burner's run can do without flue gas and stack: room CO, a draft, an oil pressure. */
const besideRoles: readonly Role[] = ['ambientCo', 'draft', 'pumpPressure', 'no', 'no2', 'so2'];

/** Of one gas said wet and dry, or dry and nothing, the dry one counts: the channels are dry. */
function drySide(columns: readonly Column[], candidates: readonly number[]): readonly number[] {
  const dry = candidates.filter((index) => columns[index]?.meaning.isDry === true);
  if (dry.length > 0) return dry;
  const rest = candidates.filter((index) => columns[index]?.meaning.isWet !== true);
  return rest.length > 0 ? rest : candidates;
}

/** %vol: no room has so much CO2 */
const LEAST_OF_FLUE_CO2 = 1;

/** From so many temperatures on that no word places, numbers alone do not tell which is the stack. */
const MOST_UNPLACED = 2;

type Found = { column: number; unit: SentUnit; scale: number; sureness: 'sure' | 'look'; evidence: Evidence[] };

export function judge(table: Table, clock: FoundClock, isEnoughLines: boolean): Judged {
  const columns = withNumbering(withOpenShortNames(table.columns));
  const clocks = new Set(clock.columns);
  const excluded = columns.map(
    (column, index) =>
      Object.fromEntries(judgedRoles.map((role) => [role, exclusion(column, clocks.has(index), role)])) as Record<
        JudgedRole,
        Evidence | undefined
      >,
  );
  const swapped = columns.flatMap((column, index) =>
    judgedRoles.filter((role) => isSwapped(column, role)).map((role) => ({ index, role })),
  );

  // What is left to be weighed: columns that some channel may be, and those that are the instrument's own computations.
  const isNamed = columns.some(({ name, meaning }) => name !== '' && meaning.isEmpty !== true);
  const open = columns.flatMap((column, index) => {
    const isCandidate = judgedRoles.some((role) => excluded[index]?.[role] === undefined);
    const isMute = !isNamed && hasNumbers(column) && !clocks.has(index);
    const isOwn = Object.entries(column.meaning.roles).some(([role, said]) => said >= 1 && !judgedRoles.includes(role as JudgedRole));
    return isCandidate || isMute || (isOwn && hasNumbers(column) && columns.length <= MOST_OF_A_PLAIN && !clocks.has(index)) ? [index] : [];
  });
  const weighed =
    open.length > MOST_TO_WEIGH ? open.filter((index) => judgedRoles.some((role) => saidFor(columns[index] as Column, role) > 0)) : open;
  const isTooWide = weighed.length > MOST_TO_WEIGH;
  const view = weighed.slice(0, MOST_TO_WEIGH).map((index) => {
    const column = columns[index] as Column;
    const roles = Object.fromEntries(
      Object.entries(column.meaning.roles).filter(
        ([role]) => !judgedRoles.includes(role as JudgedRole) || excluded[index]?.[role as JudgedRole] === undefined,
      ),
    );
    const isOut = mainRoles.every((role) => excluded[index]?.[role] !== undefined);
    return isOut && Object.keys(roles).length > 0 && !('co2' in roles)
      ? { ...column, meaning: { ...column.meaning, roles } }
      : { ...column, meaning: { ...column.meaning, roles } };
  });
  const solvedView = view.length === 0 ? undefined : solveIdentity({ ...table, columns: view });
  const back = (identity: Identity): Identity => ({
    ...identity,
    main: Object.fromEntries(
      Object.entries(identity.main).map(([role, reading]) => [role, { ...reading, column: weighed[reading.column] ?? 0 }]),
    ) as Identity['main'],
    rest: identity.rest.map((one) => ({ ...one, column: weighed[one.column] ?? 0 })),
  });
  const solved: Solved | undefined =
    solvedView === undefined
      ? undefined
      : {
          ...solvedView,
          best: back(solvedView.best),
          second: solvedView.second === undefined ? undefined : back(solvedView.second),
        };

  const found: Partial<Record<JudgedRole, Found>> = {};
  const looks = new Map<number, Evidence[]>();
  const look = (index: number, evidence: Evidence): void => {
    looks.set(index, [...(looks.get(index) ?? []), evidence]);
  };
  const line = (
    role: JudgedRole,
    side: Evidence['side'],
    kind: Evidence['kind'],
    key: EvidenceKey,
    strength: number,
    text?: string,
  ): Evidence => ({
    channel: channelOfRole[role],
    side,
    kind,
    strength,
    key,
    ...defined({ text }),
  });

  const strongFor = (role: JudgedRole): readonly number[] =>
    drySide(
      columns,
      columns.flatMap((column, index) => (isStrong(column, role) && excluded[index]?.[role] === undefined ? [index] : [])),
    );
  /** Which column a strong name gives: the one that the solver took where several say so. */
  const pick = (role: JudgedRole, candidates: readonly number[]): number | undefined => {
    const taken = role === 'co2' ? solved?.best.rest.find((one) => one.role === 'co2')?.column : solved?.best.main[role]?.column;
    return taken !== undefined && candidates.includes(taken) ? taken : candidates[0];
  };
  const readingOf = (role: JudgedRole, index: number): { unit: SentUnit; scale: number } => {
    const column = columns[index] as Column;
    const solvedReading = role === 'co2' ? undefined : solved?.best.main[role];
    if (column.unit !== undefined) return { unit: column.unit, scale: solvedReading?.column === index ? solvedReading.scale : 1 };
    if (solvedReading?.column === index) return { unit: solvedReading.unit, scale: solvedReading.scale };
    const high = column.statistics?.high ?? 0;
    if (role === 'co2') return { unit: high > 40 ? 'ppm' : '%', scale: column.scales.length > 1 ? 0.1 : 1 };
    return { unit: unitAlone(role), scale: 1 };
  };

  // 1. Names, with their units.
  const gasIsSaid = strongFor('o2').length > 0;
  for (const role of judgedRoles) {
    const candidates = strongFor(role);
    const index = pick(role, candidates);
    if (index === undefined) continue;
    const column = columns[index] as Column;
    const { unit, scale } = readingOf(role, index);
    const evidence: Evidence[] = [line(role, 'for', 'name', 'name-says', 3, column.name)];
    const doubts: Evidence[] = [];
    const doubt = (key: EvidenceKey, kind: Evidence['kind'], text?: string): void => {
      doubts.push(line(role, 'open', kind, key, 2, text));
    };
    const withNumbers = candidates.filter((one) => hasNumbers(columns[one] as Column));
    if (withNumbers.length > 1)
      for (const one of withNumbers) look(one, line(role, 'open', 'name', 'rival', 3, String(withNumbers.length)));
    if (withNumbers.length > 1) doubt('rival', 'name', String(withNumbers.length));
    if (column.meaning.isWet === true) doubt('wet-gas', 'name');
    const contradiction = contradicts(column, role);
    if (contradiction !== undefined) doubt(contradiction, 'unit', unit);
    if (column.unit !== undefined) evidence.push(line(role, 'for', 'unit', 'unit-fits', 3, column.unit));
    if (unit === 'mg/m3') doubt('reference-state', 'unit', unit);
    if (column.unit === undefined && hasNumbers(column)) {
      const isPlain = gasIsSaid && !isTooWide;
      const s = column.statistics;
      const isDecimal = (s?.decimals ?? 0) > 1;
      const range = innerRange(column, role, unit);
      const isUsual = range !== undefined && range[2] <= usual[role][1] && range[0] >= possible[role][0] && range[1] <= possible[role][1];
      if (table.hasFactors === true) doubt('factors-above', 'nature');
      else if (
        role === 'o2'
          ? !isUsual || (range?.[1] ?? 0) < 0.5
          : role === 'co'
            ? !isPlain || isDecimal || !isUsual
            : role === 'co2'
              ? !isPlain || !isUsual || unit !== '%'
              : false
      )
        doubt('unit-missing', 'unit');
      else if (isTemperature(role) && !gasIsSaid && !(strongFor('co').length > 0)) doubt('unit-missing', 'unit');
      else evidence.push(line(role, 'for', 'range', 'unit-assumed', 1, unit));
    }
    found[role] = { column: index, unit, scale, sureness: doubts.length === 0 ? 'sure' : 'look', evidence: [...evidence, ...doubts] };
  }
  for (const { index, role } of swapped) {
    look(index, line(role, 'open', 'unit', 'unit-contradicts', 3, columns[index]?.unit));
  }

  // 2. What no name says: hints of names, how columns move, and ranges.
  const best = solved?.best;
  const byValues = best === undefined ? [] : mainRoles.filter((role) => found[role] === undefined && best.main[role] !== undefined);
  const usedColumns = new Set(Object.values(found).map(({ column }) => column));
  const numeric = columns.filter((column, index) => hasNumbers(column) && !clocks.has(index));
  const unexplained = best?.rest.filter(({ role }) => role === 'other').length ?? 0;
  const isRig = columns.some(
    ({ foreign, meaning }) =>
      (foreign !== undefined && ['mass', 'flow', 'voltage', 'power', 'count', 'dust', 'lambda', 'unknown'].includes(foreign.quantity)) ||
      (meaning.excludedBy !== undefined && ['mass', 'flow', 'raw', 'power', 'dust', 'position', 'water'].includes(meaning.excludedBy)),
  );
  const readsGas = best?.main.o2 !== undefined && best.main.co !== undefined;
  const isPlainTable =
    !isTooWide &&
    !isRig &&
    table.hasFactors !== true &&
    readsGas &&
    numeric.length <= MOST_OF_A_PLAIN &&
    unexplained <= (isNamed ? 2 : 1) &&
    (solved?.confidence ?? 0) >= CONFIDENT &&
    (isNamed || best.main.stack !== undefined);
  const unplaced = numeric.filter(
    (column) => !isStrong(column, 'stack') && !isStrong(column, 'air') && isNamed && (column.meaning.roles.otherTemperature ?? 3) < 3,
  ).length;
  for (const role of byValues) {
    const reading = best?.main[role] as Reading;
    if (usedColumns.has(reading.column) || excluded[reading.column]?.[role] !== undefined) continue;
    const column = columns[reading.column] as Column;
    const hint = saidFor(column, role);
    const s = column.statistics;
    const evidence = [
      ...(hint > 0 ? [line(role, 'for', 'name', 'name-hints', hint, column.name)] : []),
      ...whenDefined(column.unit, (unit) => line(role, 'for', 'unit', 'unit-fits', 1, unit)),
      { ...line(role, 'for', 'range', 'values-fit', 1), low: s?.low, high: s?.high },
    ];
    if (isPlainTable && isTemperature(role) && unplaced > MOST_UNPLACED) {
      found[role] = {
        column: reading.column,
        unit: reading.unit,
        scale: reading.scale,
        sureness: 'look',
        evidence: [...evidence, line(role, 'open', 'name', 'place-unknown', 2)],
      };
    } else if (isPlainTable) {
      found[role] = {
        column: reading.column,
        unit: reading.unit,
        scale: reading.scale,
        sureness: 'sure',
        evidence: [...evidence, line(role, 'for', 'movement', 'moves-like', 2)],
      };
    } else if (!isNamed && !isTooWide) {
      found[role] = {
        column: reading.column,
        unit: reading.unit,
        scale: reading.scale,
        sureness: 'look',
        evidence: [...evidence, line(role, 'open', 'range', 'only-values', 2)],
      };
    }
    if (found[role]?.column === reading.column) usedColumns.add(reading.column);
  }
  // A temperature that no word places: asked about where it matters, else left out.
  const carbonDioxide = found.co2 === undefined ? undefined : innerRange(columns[found.co2.column] as Column, 'co2', found.co2.unit);
  const isFlueCo2 = (carbonDioxide?.[1] ?? 0) >= LEAST_OF_FLUE_CO2;
  if (
    Object.keys(found).length === 0 ||
    ((found.o2 !== undefined || found.co !== undefined || isFlueCo2) && found.stack === undefined && found.air === undefined)
  ) {
    const index = columns.findIndex(
      (column, at) =>
        hasNumbers(column) &&
        !usedColumns.has(at) &&
        ((saidFor(column, 'stack') > 0 && excluded[at]?.stack === undefined) ||
          (saidFor(column, 'air') > 0 && excluded[at]?.air === undefined)),
    );
    const column = columns[index];
    if (column !== undefined) {
      const unit = column.unit ?? 'C';
      const range = innerRange(column, 'stack', unit);
      const role: JudgedRole =
        excluded[index]?.air === undefined && range !== undefined && range[1] < 50
          ? 'air'
          : excluded[index]?.stack === undefined
            ? 'stack'
            : 'air';
      if (excluded[index]?.[role] === undefined)
        found[role] = {
          column: index,
          unit,
          scale: 1,
          sureness: 'look',
          evidence: [line(role, 'for', 'unit', 'unit-fits', 1, unit), line(role, 'open', 'name', 'place-unknown', 2)],
        };
    }
  }

  // 3. CO2 that is known by what it is to O2.
  const related = best?.rest.find(({ role }) => role === 'co2');
  if (found.co2 === undefined && related !== undefined && isPlainTable && excluded[related.column]?.co2 === undefined) {
    const column = columns[related.column] as Column;
    found.co2 = {
      column: related.column,
      unit: column.unit ?? '%',
      scale: column.scales.length > 1 ? 0.1 : 1,
      sureness: 'sure',
      evidence: [line('co2', 'for', 'movement', 'from-o2', 2)],
    };
  }

  const verdicts = (): ColumnVerdict[] =>
    columns.map((column, index) =>
      verdictOf(column, index, { found: Object.entries(found) as [JudgedRole, Found][], looks, excluded, clocks }),
    );
  if (Object.keys(found).length === 0 && swapped.length === 0)
    return { identity: { main: {}, rest: [], score: 0 }, verdicts: verdicts(), isEmpty: true, isOpen: false, confidence: 0, solved };
  // A name and a unit that say a channel over values that it cannot have: something in the head is wrong, and maybe more than this.
  if (Object.keys(found).length > 0)
    for (const [index, column] of columns.entries())
      for (const role of judgedRoles)
        if (excluded[index]?.[role]?.key === 'impossible' && isStrong(column, role) && column.unit !== undefined)
          look(index, line(role, 'open', 'unit', 'values-contradict', 3, column.unit));
  // A swapped head is shown with what its names say; nothing of it is used before a person has looked.
  for (const { index, role } of swapped) {
    if (found[role] !== undefined) continue;
    const unit = unitAlone(role);
    found[role] = {
      column: index,
      unit,
      scale: 1,
      sureness: 'look',
      evidence: [
        line(role, 'for', 'name', 'name-says', 3, columns[index]?.name),
        line(role, 'open', 'unit', 'unit-contradicts', 3, columns[index]?.unit),
      ],
    };
  }

  const isUnitOpen =
    (solved?.confidence ?? 1) < CONFIDENT &&
    isUnitQuestion(solved) &&
    Object.entries(found).some(([role, one]) => isTemperature(role as JudgedRole) && columns[one.column]?.unit === undefined);
  if (isUnitOpen)
    for (const role of ['stack', 'air'] as const) {
      const one = found[role];
      if (one !== undefined)
        found[role] = { ...one, sureness: 'look', evidence: [...one.evidence, line(role, 'open', 'unit', 'unit-missing', 2)] };
    }
  const reopen = (role: JudgedRole, evidence: Evidence): void => {
    const one = found[role];
    if (one !== undefined) found[role] = { ...one, sureness: 'look', evidence: [...one.evidence, evidence] };
  };
  const used = (Object.entries(found) as [JudgedRole, Found][]).map(([role, { column, unit, scale }]): Used => ({
    channel: channelOfRole[role],
    column: columns[column] as Column,
    unit,
    scale,
  }));
  // A temperature named as the air's that no room has, beside a stack that reads like one.
  const hotAir = columns.findIndex(
    (column, at) => isStrong(column, 'air') && excluded[at]?.air?.key === 'impossible' && hasNumbers(column),
  );
  if (hotAir >= 0 && found.stack !== undefined && found.air === undefined) {
    const column = columns[hotAir] as Column;
    used.push({ channel: 'airTemperature', column, unit: column.unit ?? found.stack.unit, scale: 1 });
  }
  // The temperature of a room alone is no run of a burner: nobody but a person can say what it is for.
  const isAirOnly =
    Object.keys(found).length === 1 &&
    found.air !== undefined &&
    !columns.some(({ meaning }) => meaning.excludedBy === undefined && besideRoles.some((role) => (meaning.roles[role] ?? 0) >= 2));
  if (isAirOnly) reopen('air', line('air', 'open', 'name', 'air-only', 2));
  const roleOf = (channel: ChannelId): JudgedRole => judgedRoles.find((role) => channelOfRole[role] === channel) ?? 'o2';
  for (const [one, other] of swappedChannels(used)) {
    reopen(roleOf(one), line(roleOf(one), 'open', 'movement', 'names-swapped', 2, other));
    reopen(roleOf(other), line(roleOf(other), 'open', 'movement', 'names-swapped', 2, one));
    if (found.air === undefined && other === 'airTemperature') look(hotAir, line('air', 'open', 'movement', 'names-swapped', 2, one));
  }
  if (areMixed(used, columns) || table.isMixed === true)
    for (const role of Object.keys(found) as JudgedRole[]) reopen(role, line(role, 'open', 'movement', 'by-turns', 2));
  const all = Object.entries(found) as [JudgedRole, Found][];
  // A name that says it stays sure where another column of the same quantity is asked about; the question shows both.
  const isOpen = all.some(([, one]) => one.sureness === 'look') || looks.size > 0;
  const main: Partial<Record<MainRole, Reading>> = {};
  for (const [role, { column, unit, scale }] of all) if (role !== 'co2') main[role] = { column, unit, scale };
  const rest = (best?.rest ?? []).filter(
    ({ role, column }) => role !== 'co2' && !all.some(([, one]) => one.column === column) && !clocks.has(column),
  );
  const others = columns.flatMap((column, index): { column: number; role: Role }[] =>
    rest.some((one) => one.column === index) || all.some(([, one]) => one.column === index) || clocks.has(index)
      ? []
      : Object.entries(column.meaning.roles)
          .filter(([role, said]) => said >= 2 && !judgedRoles.includes(role as JudgedRole))
          .map(([role]) => ({ column: index, role: role as Role }))
          .slice(0, 1),
  );
  const identity: Identity = {
    main,
    rest: [
      ...rest,
      ...others,
      ...whenDefined(found.co2, (co2) => ({ column: co2.column, role: 'co2' as const, unit: co2.unit, scale: co2.scale })),
    ],
    score: best?.score ?? 0,
  };
  const isSaidAll = all.every(([role, one]) => isStrong(columns[one.column] as Column, role));
  const isOnlyReference =
    looks.size === 0 && all.every(([, one]) => one.evidence.every(({ side, key }) => side !== 'open' || key === 'reference-state'));
  const confidence =
    isOpen && !isOnlyReference
      ? Math.min(solved?.confidence ?? 0.5, 0.6)
      : isSaidAll
        ? Math.max(solved?.confidence ?? 0, isEnoughLines ? 0.97 : 0.9)
        : (solved?.confidence ?? 0.9);
  return {
    identity,
    verdicts: verdicts(),
    isEmpty: false,
    isOpen,
    confidence,
    solved,
  };
}

/** The two best ways differ only in the unit. */
function isUnitQuestion(solved: Solved | undefined): boolean {
  if (solved?.second === undefined) return false;
  return mainRoles.every((role) => solved.best.main[role]?.column === solved.second?.main[role]?.column);
}

type VerdictParts = {
  found: readonly [JudgedRole, Found][];
  looks: ReadonlyMap<number, readonly Evidence[]>;
  excluded: readonly Record<JudgedRole, Evidence | undefined>[];
  clocks: ReadonlySet<number>;
};

function verdictOf(column: Column, index: number, { found, looks, excluded, clocks }: VerdictParts): ColumnVerdict {
  const taken = found.find(([, one]) => one.column === index);
  const isClock = clocks.has(index);
  const out = judgedRoles.flatMap((role) => excluded[index]?.[role] ?? []);
  // The same reason for every channel is one reason.
  const [first] = out;
  const isAlike =
    first !== undefined && out.length === judgedRoles.length && out.every(({ key, text }) => key === first.key && text === first.text);
  const against = isAlike ? [{ ...first, channel: 'all' as const }] : out;
  const open = looks.get(index) ?? [];
  return {
    at: column.at,
    name: column.name,
    unitText: column.unitText ?? column.unit ?? '',
    examples: threeOf(column.texts),
    taken: isClock ? 'time' : taken === undefined ? undefined : channelOfRole[taken[0]],
    unit: taken?.[1].unit,
    sureness: isClock ? 'none' : taken?.[1].sureness === 'look' || open.length > 0 ? 'look' : taken === undefined ? 'none' : 'sure',
    evidence: [
      ...(taken?.[1].evidence ?? []),
      ...open,
      ...(taken === undefined ? against : against.filter(({ channel }) => channel !== channelOfRole[taken[0]])),
    ],
  };
}

/** The first, one from the middle, and the last that hold something. */
function threeOf(texts: readonly string[]): string[] {
  const filled = texts.filter((text) => text.trim() !== '');
  const picks = [filled[0], filled[Math.floor(filled.length / 2)], filled.at(-1)];
  return picks.flatMap((text) => (text === undefined ? [] : [text.trim().slice(0, 24)]));
}
