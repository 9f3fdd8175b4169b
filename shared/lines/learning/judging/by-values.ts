/** The second step: what no name says, from hints of names, from how columns move together, and from their ranges. */
import { whenDefined } from '../../../defined.ts';
import type { Evidence } from '../evidence.ts';
import type { Column } from '../tables/table.ts';
import type { Found } from './column-verdict.ts';
import { ROWS_TO_JUDGE } from './identity.ts';
import { hasNumbers, innerRange, isStrong, isTemperature, saidFor, temperatures, type JudgedRole } from './judged-role.ts';
import { mainRoles, type Reading } from './main-options.ts';
import { CONFIDENT, evidenceFor, MOST_OF_A_PLAIN, type Weighing } from './weighing.ts';

/** %vol: no room has so much CO2 */
const LEAST_OF_FLUE_CO2 = 1;
/** From so many temperatures on that no word places, numbers alone do not tell which is the stack. */
const MOST_UNPLACED = 2;

/** Fills in what names left open; in the plain table of one instrument that is sure, elsewhere a person is asked. */
export function findByValues(weighing: Weighing): void {
  const { table, columns, excluded, isNamed, isTooWide, solved, found } = weighing;
  const best = solved?.best;
  const isPlain = isPlainTable(weighing);
  const byValues = best === undefined ? [] : mainRoles.filter((role) => found[role] === undefined && best.main[role] !== undefined);
  const usedColumns = new Set(Object.values(found).map(({ column }) => column));
  const unplaced = numericIn(weighing).filter(
    (column) => !isStrong(column, 'stack') && !isStrong(column, 'air') && isNamed && (column.meaning.roles.otherTemperature ?? 3) < 3,
  ).length;
  const placed = new Set([...usedColumns, ...byValues.map((role) => best?.main[role]?.column)]);
  const hasUnplacedNumber = columns.some((column, index) => isNumbered(column) && hasNumbers(column) && !placed.has(index));
  for (const role of byValues) {
    const reading = best?.main[role] as Reading;
    if (usedColumns.has(reading.column) || excluded[reading.column]?.[role] !== undefined) continue;
    const column = columns[reading.column] as Column;
    const hint = saidFor(column, role);
    const s = column.statistics;
    const evidence = [
      ...(hint > 0 ? [evidenceFor(role, 'for', 'name', 'name-hints', hint, column.name)] : []),
      ...whenDefined(column.unit, (unit) => evidenceFor(role, 'for', 'unit', 'unit-fits', 1, unit)),
      { ...evidenceFor(role, 'for', 'range', 'values-fit', 1), low: s?.low, high: s?.high },
    ];
    const as = (sureness: Found['sureness'], last: Evidence): Found => ({ ...reading, sureness, evidence: [...evidence, last] });
    // 'T1' may be the water of the boiler: a few lines do not show which of two is the stack, nor does a second one that is no air
    const isPlaceOpen =
      isTemperature(role) &&
      (unplaced > MOST_UNPLACED || (isNamed && isNumbered(column) && (table.rows < ROWS_TO_JUDGE || hasUnplacedNumber)));
    if (isPlain && isPlaceOpen) found[role] = as('look', evidenceFor(role, 'open', 'name', 'place-unknown', 2));
    else if (isPlain && mayBePercent(role, column)) found[role] = as('look', evidenceFor(role, 'open', 'unit', 'unit-missing', 2));
    else if (isPlain) found[role] = as('sure', evidenceFor(role, 'for', 'movement', 'moves-like', 2));
    else if (!isNamed && !isTooWide) found[role] = as('look', evidenceFor(role, 'open', 'range', 'only-values', 2));
    if (found[role]?.column === reading.column) usedColumns.add(reading.column);
  }
  findHalfSaidAir(weighing);
  placeTemperature(weighing);
  if (isPlain) findCo2(weighing);
}

/** 'T1', 'temp 2': a temperature of some place */
const isNumbered = ({ meaning }: Column): boolean => meaning.roles.otherTemperature !== undefined && meaning.roles.otherTemperature < 3;

/** 'TA' and 'AT' may be either place; where a name gives the stack to another column, and the values are those of a room, it is the air. */
function findHalfSaidAir({ columns, excluded, found, isTooWide, table }: Weighing): void {
  const isStackSaid = found.stack?.sureness === 'sure' && isStrong(columns[found.stack.column] as Column, 'stack');
  if (!isStackSaid || found.air !== undefined || isTooWide || table.hasUnfitHead === true) return;
  const taken = new Set(Object.values(found).map(({ column }) => column));
  const halfSaid = columns.flatMap((column, index) => {
    // 'T2' hints at the air by its number only
    const isPlaceSaid = saidFor(column, 'air') >= 1.5 && column.meaning.roles.otherTemperature === undefined;
    return isPlaceSaid && !taken.has(index) && excluded[index]?.air === undefined ? [{ column, index }] : [];
  });
  const [only] = halfSaid;
  // one instrument writes its temperatures in one unit
  const unit = only?.column.unit ?? found.stack?.unit;
  if (only === undefined || halfSaid.length > 1 || unit === undefined || !temperatures.includes(unit)) return;
  const range = innerRange(only.column, 'air', unit);
  if (range === undefined || range[0] < AIR_OF_ROOMS[0] || range[1] > AIR_OF_ROOMS[1]) return;
  const evidence = [
    evidenceFor('air', 'for', 'name', 'name-hints', 1.5, only.column.name),
    evidenceFor('air', 'for', 'unit', 'unit-fits', 1, unit),
  ];
  found.air = { column: only.index, unit, scale: 1, sureness: 'sure', evidence };
}
/** degC, as the solver has it: beyond, a room is rare */
const AIR_OF_ROOMS: readonly [number, number] = [-10, 50];

/** No cell shows hundredths of a ppm; 0.15 without a unit may be 1 500 ppm. No flue gas has 10 % of CO. */
const mayBePercent = (role: JudgedRole, { unit, statistics }: Column): boolean =>
  role === 'co' && unit === undefined && statistics !== undefined && statistics.decimals >= 2 && statistics.high < 10;

/** Columns of numbers that are no clock. */
const numericIn = ({ columns, clocks }: Weighing): readonly Column[] =>
  columns.filter((column, index) => hasNumbers(column) && !clocks.has(index));

/** The plain table of one instrument: every column is explained, and the gases move as they do in a flue. */
function isPlainTable(weighing: Weighing): boolean {
  const { table, columns, isNamed, isTooWide, solved } = weighing;
  const best = solved?.best;
  const unexplained = best?.rest.filter(({ role }) => role === 'other').length ?? 0;
  const isRig = columns.some(
    ({ foreign, meaning }) =>
      (foreign !== undefined && ['mass', 'flow', 'voltage', 'power', 'count', 'dust', 'lambda', 'unknown'].includes(foreign.quantity)) ||
      (meaning.excludedBy !== undefined && ['mass', 'flow', 'raw', 'power', 'dust', 'position', 'water'].includes(meaning.excludedBy)),
  );
  const readsGas = best?.main.o2 !== undefined && best.main.co !== undefined;
  return (
    !isTooWide &&
    !isRig &&
    table.hasFactors !== true &&
    table.hasUnfitHead !== true &&
    readsGas &&
    numericIn(weighing).length <= MOST_OF_A_PLAIN &&
    unexplained <= (isNamed ? 2 : 1) &&
    (solved?.confidence ?? 0) >= CONFIDENT &&
    (isNamed || best.main.stack !== undefined)
  );
}

/** A temperature that no word places: asked about where it matters, else left out. */
function placeTemperature({ columns, excluded, found }: Weighing): void {
  const usedColumns = new Set(Object.values(found).map(({ column }) => column));
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
          evidence: [evidenceFor(role, 'for', 'unit', 'unit-fits', 1, unit), evidenceFor(role, 'open', 'name', 'place-unknown', 2)],
        };
    }
  }
}

/** CO2 that is known by how it moves against O2. */
function findCo2({ columns, excluded, solved, found }: Weighing): void {
  const related = solved?.best.rest.find(({ role }) => role === 'co2');
  if (found.co2 === undefined && related !== undefined && excluded[related.column]?.co2 === undefined) {
    const column = columns[related.column] as Column;
    found.co2 = {
      column: related.column,
      unit: column.unit ?? '%',
      scale: column.scales.length > 1 ? 0.1 : 1,
      sureness: 'sure',
      evidence: [evidenceFor('co2', 'for', 'movement', 'from-o2', 2)],
    };
  }
}
