/** Which column is which: every way to give the columns to oxygen, CO, stack and air is weighed. */
import type { SentUnit } from '../../../measurement/sent-unit.ts';
import type { Role } from '../names/roles.ts';
import { createExplainer, MOST_IDS, UNEXPLAINED, type Leftover } from './leftovers.ts';
import { mainRoles, optionsFor, temperatureUnits, type Main, type MainRole, type Option, type Reading } from './main-options.ts';
import { shareOf } from './relations.ts';
import type { Table } from '../tables/table.ts';

/** One way, with the natural logarithm of how well it fits. */
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

/** A best fit of this much is as likely no flue gas at all. */
const POOR_FIT = -13;
/** from so many rows on, numbers may speak for themselves */
export const ROWS_TO_JUDGE = 14;
/** What it costs to leave a main channel out. */
const missing: Record<MainRole, number> = { o2: -9, co: -7, stack: -7, air: -4 };

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
