/** How well a column reads as oxygen, CO, stack or air temperature, in every unit and scale that is possible: by its name, its range and how it moves. */
import type { SentUnit } from '../../../measurement/sent-unit.ts';
import type { Role } from '../names/roles.ts';
import type { Column, Statistics } from '../tables/table.ts';

/** One way to read a column. */
export type Reading = {
  readonly column: number;
  readonly scale: number;
  readonly unit: SentUnit;
};
export type MainRole = 'o2' | 'co' | 'stack' | 'air';
export const mainRoles: readonly MainRole[] = ['o2', 'co', 'stack', 'air'];

const IMPOSSIBLE = -30;

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

export const temperatureUnits: readonly SentUnit[] = ['C', 'F', 'K'];
const toCelsius: Partial<Record<SentUnit, readonly [number, number]>> = { C: [1, 0], F: [1 / 1.8, -32 / 1.8], K: [1, -273.15] };

/** How often digits without a decimal mark stand for tenths or hundredths; logarithm. */
const usualScale: Record<MainRole, Record<string, number>> = {
  o2: { '0.1': 0, '0.01': -0.5, '1': -2.5 },
  co: { '1': 0, '0.1': -2.2, '0.01': -5 },
  stack: { '0.1': 0, '1': -0.7, '0.01': -3 },
  air: { '0.1': 0, '1': -0.7, '0.01': -3 },
};

/** `id` is the same for the same column, scale and unit */
export type Option = Reading & { readonly score: number; readonly id: number };

/** What is taken for which. */
export type Main = Partial<Record<MainRole, Option>>;

/** Whole numbers that go up by the same each time: records are numbered so. */
export function isRecordNumber({ values, statistics }: Column): boolean {
  if (statistics === undefined || statistics.decimals > 0 || statistics.distinct < 6) return false;
  const numbers = values.filter((value) => value !== undefined);
  const steps = numbers.slice(1).map((value, at) => value - (numbers[at] ?? 0));
  const usual = Float64Array.from(steps).sort()[Math.floor(steps.length / 2)] ?? 0;
  return usual > 0 && usual <= 10 && Number.isInteger(usual) && steps.filter((step) => step === usual).length >= steps.length * 0.92;
}

/** One digit that is any of the ten, whatever the line before had: a check, not a reading. */
export function isCheckDigit({ values, statistics: s }: Column): boolean {
  if (s === undefined || s.decimals > 0 || s.distinct < 6 || s.distinct > 10 || s.low < 0 || s.high > 9 || s.step < 2) return false;
  return values.every((value) => value === undefined || (value >= 0 && value <= 9 && Number.isInteger(value)));
}

/** Its name leaves open what it is: there is none, or one like 'ch 3'. */
const speaksForNothing = ({ name, meaning }: Column): boolean => name === '' || meaning.isEmpty === true;

/** How a column reads as one of the four, in every unit and scale that is possible. */
export function optionsFor(column: Column, index: number, role: MainRole, temperatureUnit: SentUnit): Omit<Option, 'id'>[] {
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
  // Whole numbers may stand for tenths, though seldom where the lines know a decimal mark, and never where they name their unit.
  const mayBeTenths = column.scales.length === 1 && s.decimals === 0 && role !== 'co' && column.unit === undefined;
  const scales = mayBeTenths ? [1, 0.1, 0.01] : column.scales;
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
