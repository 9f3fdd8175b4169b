import type { SentUnit } from '../../measurement/recipe.ts';
import type { Role } from './column-name.ts';
import { isEfficiency } from './stack-loss.ts';
import type { Column, Statistics, Table } from './table.ts';

/** Which column is which, with the natural logarithm of how well it fits. */
export type Reading = {
  readonly column: number;
  readonly scale: number;
  readonly unit: SentUnit;
};
export type MainRole = 'o2' | 'co' | 'stack' | 'air';
export const mainRoles: readonly MainRole[] = ['o2', 'co', 'stack', 'air'];
export type Identity = {
  readonly main: Partial<Record<MainRole, Reading>>;
  readonly rest: readonly {
    readonly column: number;
    readonly role: Role;
    readonly unit?: SentUnit | undefined;
    readonly scale?: number | undefined;
  }[];
  readonly score: number;
};
export type Solved = {
  readonly best: Identity;
  readonly confidence: number;
  readonly second: Identity | undefined;
};

const IMPOSSIBLE = -30;
/** What it costs to leave a column unexplained, or a main channel out. */
const UNEXPLAINED = -3.5;
/** A best fit of this much is as likely no flue gas at all. */
const POOR_FIT = -13;
/** from so many rows on, numbers may speak for themselves */
const ROWS_TO_JUDGE = 14;
const missing: Record<MainRole, number> = { o2: -9, co: -7, stack: -7, air: -4 };

/** Soft edges: 0 inside [low, high], falling by `slope` per outer distance `soft`. */
const within = (value: number, low: number, high: number, soft: number, slope = 2): number =>
  value < low ? -slope * ((low - value) / soft) : value > high ? -slope * ((value - high) / soft) : 0;
const atLeast = (score: number, floor: number): number => Math.max(score, floor);

type Scaled = { low: number; high: number; median: number; spread: number; step: number; bigStep: number };
const scaleBy = (s: Statistics, factor: number, offset = 0): Scaled => ({
  low: s.low * factor + offset,
  high: s.high * factor + offset,
  median: s.median * factor + offset,
  spread: s.spread * factor,
  step: s.step * factor,
  bigStep: s.bigStep * factor,
});

/** O2 in %vol: near 20.9 in fresh air, else what a flame leaves. */
function o2Score(v: Scaled, decimals: number): number {
  if (v.low < -0.6 || v.high > 21.6) return IMPOSSIBLE;
  let score = decimals === 0 ? -2.5 : decimals > 3 ? -1.5 : 0;
  const isFresh = Math.abs(v.median - 20.9) < 0.35 && v.spread < 0.6;
  if (isFresh) score -= 0.3;
  else
    score +=
      v.median < 0.3
        ? -5
        : v.median < 0.8
          ? -3.5
          : v.median < 1.5
            ? -1.4
            : v.median < 2.2
              ? -0.5
              : v.median <= 12
                ? 0
                : v.median <= 17
                  ? -1
                  : v.median <= 20.95
                    ? -2
                    : -5;
  if (v.high > 20.4 && v.high < 21.3 && v.low < 15) score += 1;
  if (v.bigStep > 4) score -= 2;
  // Cells and sampling lines smooth the oxygen; it does not jump from one second to the next.
  score += atLeast(within(v.step, 0, 0.1, 0.15, 1.5), -5);
  // With hundredths, even a steady flame moves.
  if (v.spread === 0 && !isFresh) score -= decimals >= 2 ? 2.5 : 1;
  return score;
}

function coScore(v: Scaled, decimals: number, distinct: number): number {
  if (v.low < -30 || v.high > 41_000) return IMPOSSIBLE;
  let score = decimals === 0 ? 0 : decimals === 1 ? -1.2 : -4;
  if (v.median < -5) score -= 4;
  score += v.median <= 300 ? 0 : v.median <= 1500 ? -1 : -2.5;
  // A gas of a flame is never as still as a room.
  if (v.spread === 0) score += v.median === 0 ? -1.2 : -2.5;
  else if (v.median > 4 && v.spread <= (decimals === 0 ? 1 : 0.6)) score -= 1.5;
  if (distinct > 6 && v.step < 0.002 * Math.abs(v.median) && v.spread > 20) score -= 2;
  return score;
}

/** Temperature of the flue gas, degC: far above a room, and nothing jumps. */
function stackScore(v: Scaled, decimals: number): number {
  if (v.low < -35 || v.high > 1000) return IMPOSSIBLE;
  let score = decimals <= 1 ? 0 : decimals === 2 ? -1 : -2.5;
  score += v.high < 35 ? -5 : v.high < 75 ? -2.5 : v.median > 600 ? -3 : v.median > 450 ? -1.5 : 0;
  const level = Math.max(40, v.median);
  score += atLeast(within(v.step / level, 0, 0.012, 0.012, 1.5), -8);
  score += atLeast(within(v.bigStep / level, 0, 0.05, 0.05, 1), -5);
  if (v.spread > 25 && v.step / level < 0.01) score += 0.7;
  if (v.spread === 0) score -= decimals > 0 ? 0.6 : 0.3;
  return score;
}

/** How likely a room, a cellar, a boiler room, the outside are. */
function airLevel(celsius: number): number {
  if (celsius >= 12 && celsius <= 33) return 0;
  if (celsius > 33 && celsius <= 42) return -0.7;
  if (celsius >= 2 && celsius <= 45) return -2;
  return celsius >= -10 && celsius <= 50 ? -3 : -7;
}

/** Temperature of the air to the burner, degC: a room, and still. */
function airScore(v: Scaled, decimals: number): number {
  if (v.low < -35 || v.high > 70) return IMPOSSIBLE;
  let score = decimals <= 1 ? 0 : decimals === 2 ? -1 : -2.5;
  score += airLevel(v.median);
  score += atLeast(within(v.spread, 0, 2, 2, 1.2), -8);
  score += atLeast(within(v.step, 0, 0.25, 0.25, 1), -6);
  if (v.spread === 0) score -= decimals > 0 ? 0.6 : 0.2;
  // Around nothing, with hundredths: a draft rather than a frosty room.
  if (Math.abs(v.median) < 1 && decimals >= 2) score -= 3;
  return score;
}

const nameScore = (column: Column, role: Role): number => {
  const said = column.meaning.roles[role];
  if (said !== undefined) return said * 3;
  const strongest = Math.max(0, ...Object.values(column.meaning.roles));
  return strongest >= 2 ? -14 : strongest > 0 ? -3 : 0;
};

const temperatureUnits: readonly SentUnit[] = ['C', 'F', 'K'];
const toCelsius: Partial<Record<SentUnit, readonly [number, number]>> = { C: [1, 0], F: [1 / 1.8, -32 / 1.8], K: [1, -273.15] };

/** How often digits without a decimal mark stand for tenths or hundredths; logarithm. */
const usualScale: Record<MainRole, Record<string, number>> = {
  o2: { '0.1': 0, '0.01': -0.5, '1': -2.5 },
  co: { '1': 0, '0.1': -2.2, '0.01': -5 },
  stack: { '0.1': 0, '1': -0.7, '0.01': -3 },
  air: { '0.1': 0, '1': -0.7, '0.01': -3 },
};

/** `id` is the same for the same column, scale and unit */
type Option = Reading & { readonly score: number; readonly id: number };

/** Whole numbers that go up by the same each time: records are numbered so. */
function isRecordNumber({ values, statistics }: Column): boolean {
  if (statistics === undefined || statistics.decimals > 0 || statistics.distinct < 6) return false;
  const numbers = values.filter((value) => value !== undefined);
  const steps = numbers.slice(1).map((value, at) => value - (numbers[at] ?? 0));
  const usual = Float64Array.from(steps).sort()[Math.floor(steps.length / 2)] ?? 0;
  return usual > 0 && usual <= 10 && Number.isInteger(usual) && steps.filter((step) => step === usual).length >= steps.length * 0.92;
}

/** One digit that is any of the ten, whatever the line before had: a check, not a reading. */
function isCheckDigit({ values, statistics: s }: Column): boolean {
  if (s === undefined || s.decimals > 0 || s.distinct < 6 || s.distinct > 10 || s.low < 0 || s.high > 9 || s.step < 2) return false;
  return values.every((value) => value === undefined || (value >= 0 && value <= 9 && Number.isInteger(value)));
}

/** Its name leaves open what it is: there is none, or one like 'ch 3'. */
const speaksForNothing = ({ name, meaning }: Column): boolean => name === '' || meaning.isEmpty === true;

/** How a column reads as one of the four, in every unit and scale that is possible. */
function optionsFor(column: Column, index: number, role: MainRole, temperatureUnit: SentUnit): Omit<Option, 'id'>[] {
  const s = column.statistics;
  if (s === undefined || s.share < 0.3) {
    // A column that never showed a number is still what its name says: the channel is absent, and that is said.
    const isSaid = (column.meaning.roles[role] ?? 0) >= 2 && column.texts.some((text) => text !== '');
    const unit = column.unit ?? (role === 'o2' ? '%' : role === 'co' ? 'ppm' : temperatureUnit);
    return isSaid ? [{ column: index, scale: 1, unit, score: nameScore(column, role) - 3 }] : [];
  }
  // One character is a flag, not a reading.
  if (typeof column.at === 'object' && s.distinct === 1 && column.at.end - column.at.start < 4) return [];
  const isSaid = (column.meaning.roles[role] ?? 0) > 0;
  // A name that says something else, or something unknown, counts for ever: no values overrule it.
  if (!isSaid && !speaksForNothing(column)) return [];
  if (!isSaid && isRecordNumber(column) && (role !== 'stack' || s.low < 40)) return [];
  const base = nameScore(column, role) + (s.share < 0.7 ? -1 : 0) - (!isSaid && isCheckDigit(column) ? 3 : 0);
  const options: Omit<Option, 'id'>[] = [];
  // Whole numbers may stand for tenths, though seldom where the lines know a decimal mark.
  const scales = column.scales.length === 1 && s.decimals === 0 && role !== 'co' ? [1, 0.1, 0.01] : column.scales;
  for (const scale of scales) {
    const scaleCost = column.scales.length > 1 ? (usualScale[role][String(scale)] ?? -3) : scale === 1 ? 0 : -4;
    const decimals = s.decimals + Math.round(-Math.log10(scale));
    const add = (unit: SentUnit, score: number): void => {
      if (score > IMPOSSIBLE / 2) options.push({ column: index, scale, unit, score: base + scaleCost + score });
    };
    if (role === 'o2') {
      if (column.unit === undefined || column.unit === '%') add('%', o2Score(scaleBy(s, scale), decimals));
      if (column.unit === undefined && s.high < 0.22 && s.decimals >= 3 && scale === 1)
        add('fraction', o2Score(scaleBy(s, 100), s.decimals - 2) - 2);
      if (column.unit === 'ppm') add('ppm', o2Score(scaleBy(s, scale * 1e-4), 2) - 2);
    } else if (role === 'co') {
      if (column.unit === undefined || column.unit === 'ppm') add('ppm', coScore(scaleBy(s, scale), decimals, s.distinct));
      if (column.unit === 'ppb') add('ppb', coScore(scaleBy(s, scale * 1e-3), 0, s.distinct) - 2);
      if (column.unit === 'mg/m3') add('mg/m3', coScore(scaleBy(s, scale * 0.8), decimals, s.distinct));
      if (column.unit === '%' && column.meaning.roles.co !== undefined) add('%', coScore(scaleBy(s, scale * 1e4), 0, s.distinct));
    } else {
      if (column.unit !== undefined && !temperatureUnits.includes(column.unit)) continue;
      const unit = column.unit ?? temperatureUnit;
      const [factor, offset] = toCelsius[unit] ?? [1, 0];
      const celsius = scaleBy(s, scale * factor, offset);
      add(unit, role === 'stack' ? stackScore(celsius, decimals) : airScore(celsius, decimals));
    }
  }
  return options;
}

const ROWS_FOR_A_RELATION = 150;

/** Calls `each` with the values of two columns in the same rows, where both have one. */
function eachPair(a: Column, b: Column, each: (x: number, y: number) => void): void {
  const stride = Math.max(1, Math.floor(a.values.length / ROWS_FOR_A_RELATION));
  for (let at = 0; at < a.values.length; at += stride) {
    const x = a.values[at];
    const y = b.values[at];
    if (x !== undefined && y !== undefined) each(x, y);
  }
}

/** Share of the rows on which `fits` holds. */
function shareOf(a: Column, b: Column, fits: (x: number, y: number) => boolean): number {
  let all = 0;
  let good = 0;
  eachPair(a, b, (x, y) => {
    all += 1;
    if (fits(x, y)) good += 1;
  });
  return all < 3 ? 0 : good / all;
}

/** Oxygen of dry air, %vol; as in the combustion core. */
const AIR_O2 = 20.946;

/** CO2 = CO2max (1 - O2/20.946), with the CO2max of an oil, or of a gas: how well, and whether O2 moved enough to tell which is which. */
function co2Relation(o2: Column, co2: Column): { spread: number; co2Max: number } | undefined {
  const room = new Float64Array(o2.values.length);
  let count = 0;
  eachPair(o2, co2, (x, y) => {
    if (x < 17 && x > -0.5) room[count++] = y / (1 - x / AIR_O2);
  });
  if (count < 3) return undefined;
  const maxima = room.subarray(0, count).sort();
  const at = (q: number): number => maxima[Math.round(q * (count - 1))] ?? 0;
  return { spread: at(0.9) - at(0.1), co2Max: at(0.5) };
}

type Leftover = { role: Role; score: number };

const best = (list: readonly Leftover[]): Leftover => list.reduce((a, b) => (b.score > a.score ? b : a));
const pressureUnits: readonly SentUnit[] = ['Pa', 'hPa', 'mbar', 'kPa', 'inH2O', 'mmH2O', 'psi', 'inHg', 'bar'];

/** What a column may be by itself, when it is none of the four. */
function explainAlone(column: Column): Leftover[] {
  const s = column.statistics;
  const list: Leftover[] = [{ role: 'other', score: UNEXPLAINED }];
  for (const [role, said] of Object.entries(column.meaning.roles)) {
    if (!mainRoles.includes(role as MainRole)) list.push({ role: role as Role, score: said * 3 - 1 });
  }
  if (s === undefined || s.share < 0.3) {
    list.push({ role: 'label', score: 0 });
    return list;
  }
  if (isRecordNumber(column)) list.push({ role: 'counter', score: 0 });
  if (isCheckDigit(column)) list.push({ role: 'check', score: -0.5 });
  const isPercent = column.unit === undefined || column.unit === '%';
  if (s.spread === 0 && s.distinct <= 2) list.push({ role: 'reference', score: -0.8 });
  if (column.unit !== undefined && pressureUnits.includes(column.unit)) list.push({ role: 'draft', score: 0 });
  if (s.negativeShare > 0.6 && s.decimals >= 1) list.push({ role: 'draft', score: -0.5 });
  if (Math.abs(s.median) < 0.5 && s.decimals >= 2 && s.spread < 0.5) list.push({ role: 'draft', score: -1.2 });
  if (isPercent && s.median > 55 && s.median < 106 && s.spread < 40 && s.decimals >= 1 && s.decimals <= 2)
    list.push({ role: 'efficiency', score: column.unit === '%' ? 0 : -1 });
  if (column.unit === '%' && s.median < 30) list.push({ role: 'loss', score: -1.8 });
  if (column.unit !== undefined && temperatureUnits.includes(column.unit)) list.push({ role: 'otherTemperature', score: -2.2 });
  if (column.unit === 'ppm') list.push({ role: 'no', score: -2.2 });
  if (column.unit === undefined && s.decimals === 0 && s.low >= 0 && s.median > 15 && s.median < 250)
    list.push({ role: 'no', score: -2.4 });
  if (column.unit === undefined && s.median > 2.5 && s.median < 15 && s.decimals >= 1 && s.spread < s.median * 0.15)
    list.push({ role: 'battery', score: s.decimals === 2 && s.spread < s.median * 0.03 ? -1.2 : -2.4 });
  return list;
}

/** `scaledColumn` scales values, not statistics. */
const scaleOf = ({ values, statistics }: Column): number => {
  let most = 0;
  for (const value of values) if (value !== undefined) most = Math.max(most, Math.abs(value));
  return statistics === undefined || statistics.high <= 0 || most <= 0 ? 1 : Math.min(1, most / statistics.high);
};

/** What follows from the oxygen: CO2, air ratio, excess air. */
function explainByO2(column: Column, o2: Column): Leftover[] {
  const s = column.statistics;
  const list: Leftover[] = [];
  if (s === undefined || s.low < -0.5) return list;
  for (const scale of column.scales) {
    if (column.unit !== undefined && column.unit !== '%') continue;
    const relation = co2Relation(o2, scaledColumn(column, scale));
    if (relation === undefined) continue;
    const fits = relation.co2Max > 10.5 && relation.co2Max < 21 && relation.spread < 0.9;
    // Oils lie at 15 to 15.8; what a mistaken order gives seldom does.
    // Where the oxygen keeps still, any still column is in some relation to it; only an oil's is no accident.
    const isMoving = (o2.statistics?.spread ?? 0) * scaleOf(o2) > 0.25;
    if (fits)
      list.push({
        role: 'co2',
        score:
          (relation.co2Max > 14.6 && relation.co2Max < 16.3 ? 1.5 : isMoving ? -1.2 : -2.8) +
          (relation.spread < 0.35 && isMoving ? 0.5 : 0),
      });
  }
  if (s.decimals >= 1 && shareOf(o2, column, (x, y) => x < 17 && Math.abs(y - AIR_O2 / (AIR_O2 - x)) < 0.03 * y + 0.011) > 0.85)
    list.push({ role: 'lambda', score: 2 });
  if (s.spread > 0 && shareOf(o2, column, (x, y) => x < 17 && Math.abs(y - (93 * x) / (AIR_O2 - x)) < 0.13 * y + 1.5) > 0.85)
    list.push({ role: 'excessAir', score: 0.5 });
  return list;
}

/** Share of the rows on which a relation of three columns holds. */
function shareOfThree(a: Column, b: Column, c: Column, fits: (x: number, y: number, z: number) => boolean | undefined): number {
  let good = 0;
  let all = 0;
  const stride = Math.max(1, Math.floor(c.values.length / ROWS_FOR_A_RELATION));
  for (let at = 0; at < c.values.length; at += stride) {
    const [x, y, z] = [a.values[at], b.values[at], c.values[at]];
    if (x === undefined || y === undefined || z === undefined) continue;
    const verdict = fits(x, y, z);
    if (verdict === undefined) continue;
    all += 1;
    if (verdict) good += 1;
  }
  return all > 3 ? good / all : 0;
}

/** CO as if without the air: CO 20.946/(20.946 - O2). */
const isAirFree = (o2: Column, co: Column, column: Column): boolean =>
  (column.statistics?.median ?? 0) > 3 &&
  shareOfThree(o2, co, column, (x, y, z) => (x > 17 || x < 0.5 ? undefined : Math.abs(z - (y * AIR_O2) / (AIR_O2 - x)) <= 0.04 * z + 1)) >
    0.8;

const isNet = (stack: Column, air: Column, column: Column): boolean =>
  shareOfThree(stack, air, column, (x, y, z) => Math.abs(x - y - z) <= 0.15 + (column.statistics?.decimals === 0 ? 1 : 0)) > 0.8;

type Main = Partial<Record<MainRole, Option>>;

/** more than there are ways to read the columns that are weighed */
const MOST_IDS = 4096;

/** Explanations are asked for again and again with the same neighbours; each is worked out once. */
function createExplainer(table: Table): (index: number, main: Main) => Leftover {
  type Cache = Map<number, Leftover | undefined>;
  const cachesOf = table.columns.map(() => ({
    alone: undefined as Leftover | undefined,
    o2: new Map() as Cache,
    co: new Map() as Cache,
    net: new Map() as Cache,
    efficiency: new Map() as Cache,
  }));
  const once = (cache: Cache, key: number, make: () => Leftover | undefined): Leftover | undefined => {
    if (cache.has(key)) return cache.get(key);
    const made = make();
    cache.set(key, made);
    return made;
  };
  const scaledColumns = new Map<number, Column>();
  const scaledOf = (option: Option, column: Column): Column => {
    const before = scaledColumns.get(option.id);
    if (before !== undefined) return before;
    const own = table.columns[option.column];
    const factor = option.scale * (option.unit === 'fraction' ? 100 : option.unit === 'ppm' && option.scale < 1e-3 ? 1e-4 : 1);
    const made = own === undefined ? column : scaledColumn(own, factor);
    scaledColumns.set(option.id, made);
    return made;
  };
  return (index, { o2, co, stack, air }) => {
    const column = table.columns[index];
    const caches = cachesOf[index];
    if (column === undefined || caches === undefined) return { role: 'other', score: 0 };
    caches.alone ??= best(explainAlone(column));
    let found = caches.alone;
    if (column.statistics === undefined) return found;
    const weigh = (other: Leftover | undefined): void => {
      if (other !== undefined && other.score > found.score) found = other;
    };
    if (o2 !== undefined) {
      weigh(
        once(caches.o2, o2.id, () => {
          const list = explainByO2(column, scaledOf(o2, column));
          return list.length === 0 ? undefined : best(list);
        }),
      );
      if (co !== undefined)
        weigh(
          once(caches.co, o2.id * MOST_IDS + co.id, () =>
            isAirFree(scaledOf(o2, column), scaledOf(co, column), column) ? { role: 'coCorrected', score: 1.5 } : undefined,
          ),
        );
    }
    if (stack !== undefined && air !== undefined) {
      const pair = stack.id * MOST_IDS + air.id;
      weigh(
        once(caches.net, pair, () =>
          isNet(scaledOf(stack, column), scaledOf(air, column), column) ? { role: 'net', score: 3 } : undefined,
        ),
      );
      if (o2 !== undefined && stack.unit === air.unit)
        weigh(
          once(caches.efficiency, o2.id * MOST_IDS * MOST_IDS + pair, () => {
            const temperatures = { stack: scaledOf(stack, column), air: scaledOf(air, column), unit: stack.unit };
            return isEfficiency(scaledOf(o2, column), temperatures, column) ? { role: 'efficiency', score: 1.5 } : undefined;
          }),
        );
    }
    return found;
  };
}

const scaledColumn = (column: Column, factor: number): Column =>
  factor === 1 ? column : { ...column, values: column.values.map((value) => (value === undefined ? undefined : value * factor)) };

/** The usual order in which instruments write: gas before temperatures, stack before air. */
function orderScore(main: Main): number {
  let score = 0;
  // Digits without a decimal mark leave more open; there the usual order says more.
  const isScaled = main.o2 !== undefined && main.o2.scale !== 1;
  const place = (role: MainRole): number | undefined => main[role]?.column;
  for (const [before, after, cost] of [
    ['o2', 'co', isScaled ? 2.3 : 1],
    ['stack', 'air', 0.8],
    ['o2', 'stack', 0.3],
    ['co', 'stack', 0.3],
    ['co', 'air', 0.5],
  ] as const) {
    const a = place(before);
    const b = place(after);
    if (a !== undefined && b !== undefined && a > b) score -= cost;
  }
  return score;
}

/** The stack is warmer than the room; by how much does not matter. */
function temperaturePairScore(table: Table, main: Main): number {
  if (main.stack === undefined || main.air === undefined) return 0;
  const stack = table.columns[main.stack.column];
  const air = table.columns[main.air.column];
  if (stack === undefined || air === undefined || main.stack.unit !== main.air.unit) return 0;
  const [stackScale, airScale] = [main.stack.scale, main.air.scale];
  const share = shareOf(stack, air, (x, y) => x * stackScale >= y * airScale - 4);
  // One instrument writes its temperatures alike.
  const isAlike = stackScale === airScale && stack.statistics?.decimals === air.statistics?.decimals;
  return (share > 0.85 ? 0.5 : -5) - (isAlike ? 0 : stackScale === airScale ? 1.5 : 2.5);
}

/** Where all the oxygen of the air is left, nothing burns: no CO, and nothing hot for long. */
function flameScore(table: Table, { o2, co, stack }: Main): number {
  const oxygen = o2 === undefined ? undefined : table.columns[o2.column]?.statistics;
  if (o2 === undefined || oxygen === undefined || oxygen.low * o2.scale < 19.8 || o2.unit !== '%') return 0;
  const monoxide = co === undefined ? undefined : table.columns[co.column]?.statistics;
  const hot = stack === undefined ? undefined : table.columns[stack.column]?.statistics;
  return (
    (monoxide !== undefined && co !== undefined && monoxide.median * co.scale > 12 ? -3 : 0) +
    (hot !== undefined && stack?.unit === 'C' && hot.median * stack.scale > 90 ? -1.5 : 0)
  );
}

/**
 * Weighs every way to give the columns to O2, CO, stack and air. Names and units speak first; where there are none, ranges, how the
 * numbers move, and what follows from one another (CO2 from O2, net from stack and air) decide. The confidence is the share of
 * the best way among all ways.
 */
export function solveIdentity(table: Table): Solved | undefined {
  const isUnitKnown = table.columns.some((column) => column.unit !== undefined && temperatureUnits.includes(column.unit));
  const ids = new Map<string, number>();
  const idOf = ({ column, scale, unit }: Reading): number => {
    const sign = `${column}x${scale}${unit}`;
    const id = ids.get(sign) ?? ids.size + 1;
    ids.set(sign, id);
    return id;
  };
  /** ways by what they give to whom; the same way comes once for each unit that temperatures may have */
  const found = new Map<number, { main: Main; score: number }>();
  const explain = createExplainer(table);
  const temperatureChoices: readonly (readonly [SentUnit, number])[] = isUnitKnown
    ? [[table.columns.find((column) => column.unit !== undefined && temperatureUnits.includes(column.unit))?.unit ?? 'C', 0]]
    : [
        ['C', 0],
        ['F', -2.5],
        ['K', -3.5],
      ];
  const bestOptions = (role: MainRole, temperatureUnit: SentUnit): readonly Option[] =>
    table.columns
      .flatMap((column, index) => optionsFor(column, index, role, temperatureUnit))
      .filter((option) => option.score > -12)
      .sort((a, b) => b.score - a.score)
      .slice(0, table.columns.length > 14 ? 4 : 7)
      .map((option): Option => ({ ...option, id: idOf(option) }));
  const gases = { o2: bestOptions('o2', 'C'), co: bestOptions('co', 'C') };
  const isUsed = new Array<boolean>(table.columns.length).fill(false);
  const leftovers = (main: Main, each: (column: number, leftover: Leftover, isSecondCo2: boolean) => void): void => {
    let hasCo2 = false;
    for (let index = 0; index < table.columns.length; index++) {
      if (isUsed[index] === true) continue;
      const leftover = explain(index, main);
      each(index, leftover, hasCo2 && leftover.role === 'co2');
      hasCo2 ||= leftover.role === 'co2';
    }
  };
  for (const [temperatureUnit, unitCost] of temperatureChoices) {
    const options = mainRoles.map((role) => (role === 'o2' || role === 'co' ? gases[role] : bestOptions(role, temperatureUnit)));
    const pairScores = new Map<number, number>();
    const pairScoreOf = (main: Main): number => {
      if (main.stack === undefined || main.air === undefined) return 0;
      const pair = main.stack.id * MOST_IDS + main.air.id;
      const before = pairScores.get(pair);
      if (before !== undefined) return before;
      const score = temperaturePairScore(table, main);
      pairScores.set(pair, score);
      return score;
    };
    const main: Main = {};
    const visit = (depth: number, score: number, sign: number): void => {
      const role = mainRoles[depth];
      if (role === undefined) {
        if (sign === 0) return;
        let total = score + orderScore(main) + pairScoreOf(main) + flameScore(table, main) + unitCost;
        leftovers(main, (_, leftover, isSecondCo2) => {
          total += isSecondCo2 ? UNEXPLAINED : leftover.score;
        });
        const before = found.get(sign);
        if (before === undefined || before.score < total) found.set(sign, { main: { ...main }, score: total });
        return;
      }
      for (const option of options[depth] ?? []) {
        if (isUsed[option.column] === true) continue;
        isUsed[option.column] = true;
        main[role] = option;
        visit(depth + 1, score + option.score, sign * MOST_IDS + option.id);
        delete main[role];
        isUsed[option.column] = false;
      }
      visit(depth + 1, score + missing[role], sign * MOST_IDS);
    };
    visit(0, 0, 0);
  }
  /** the other columns of a way; wanted for the few that are shown */
  const whole = ({ main, score }: { main: Main; score: number }): Identity => {
    const used = new Set(Object.values(main).map(({ column }) => column));
    isUsed.fill(false);
    for (const column of used) isUsed[column] = true;
    const rest: { column: number; role: Role }[] = [];
    leftovers(main, (column, { role }) => rest.push({ column, role }));
    return { main, rest, score };
  };
  const ranked = [...found.values()].sort((a, b) => b.score - a.score);
  const [top] = ranked;
  if (top === undefined) return undefined;
  const first = whole(top);
  // A handful of rows shows little of how the numbers move; what names and units say stays clear all the same.
  const weight = Math.min(1, Math.max(0.5, table.rows / ROWS_TO_JUDGE));
  const total = ranked.reduce((sum, { score }) => sum + Math.exp((score - first.score) * weight), 0);
  // Even the best way may be a poor one: then these are probably no readings of a flue gas at all.
  const unexplained = first.rest.filter(({ role }) => role === 'other').length;
  const fit = first.score - UNEXPLAINED * unexplained;
  const plausible = 1 / (1 + Math.exp(-(fit - POOR_FIT) / 1.5));
  const confidence = plausible / total;
  const otherUnit = isUnitKnown ? undefined : inOtherUnit(table, first, ranked);
  return {
    best: first,
    confidence: otherUnit === undefined ? confidence : Math.min(confidence, UNIT_UNCLEAR),
    second: otherUnit !== undefined ? whole(otherUnit) : ranked[1] === undefined ? undefined : whole(ranked[1]),
  };
}

/** A room that reads so is a hot one in degC and a cold one in degF; both are rare, and nothing else tells them apart. */
const UNCLEAR_AIR: readonly [number, number] = [33, 50];
const UNIT_UNCLEAR = 0.75;

/** @returns the same columns in the other unit, where the figures fit both */
function inOtherUnit<Way extends Pick<Identity, 'main'>>(table: Table, { main }: Identity, ranked: readonly Way[]): Way | undefined {
  const { air, stack } = main;
  if (air === undefined || stack === undefined || air.unit === 'K') return undefined;
  const shown = (table.columns[air.column]?.statistics?.median ?? 0) * air.scale;
  if (shown < UNCLEAR_AIR[0] || shown > UNCLEAR_AIR[1]) return undefined;
  const other: SentUnit = air.unit === 'C' ? 'F' : 'C';
  return ranked.find((identity) =>
    mainRoles.every((role) => {
      const [one, two] = [main[role], identity.main[role]];
      const unit = role === 'air' || role === 'stack' ? other : one?.unit;
      return one?.column === two?.column && one?.scale === two?.scale && two?.unit === unit;
    }),
  );
}
