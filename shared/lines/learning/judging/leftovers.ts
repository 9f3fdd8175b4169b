/** What a column is when it is none of the four main ones: by its name and range, or by what follows from the others. */
import type { SentUnit } from '../../../measurement/sent-unit.ts';
import type { Role } from '../names/roles.ts';
import { isCheckDigit, isRecordNumber, mainRoles, temperatureUnits, type Main, type MainRole, type Option } from './main-options.ts';
import { AIR_O2, co2Relation, isAirFree, isNet, scaledColumn, shareOf } from './relations.ts';
import { isEfficiency } from './stack-loss.ts';
import type { Column, Table } from '../tables/table.ts';

/** What it costs to leave a column unexplained. */
export const UNEXPLAINED = -3.5;

export type Leftover = { role: Role; score: number };

const best = (list: readonly Leftover[]): Leftover => list.reduce((a, b) => (b.score > a.score ? b : a));
const pressureUnits: readonly SentUnit[] = ['Pa', 'daPa', 'hPa', 'mbar', 'kPa', 'inH2O', 'mmH2O', 'psi', 'inHg', 'bar'];

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

/** more than there are ways to read the columns that are weighed */
export const MOST_IDS = 4096;

/** Explanations are asked for again and again with the same neighbours; each is worked out once. */
export function createExplainer(table: Table): (index: number, main: Main) => Leftover {
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
