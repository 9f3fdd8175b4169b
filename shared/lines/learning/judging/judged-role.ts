/** The channels that a column may be, and the values that each of them can and usually does show. */
import { channelOfRole } from '../names/roles.ts';
import type { SentUnit } from '../../../measurement/sent-unit.ts';
import { toInner } from '../../to-inner.ts';
import type { MainRole } from './main-options.ts';
import type { Column } from '../tables/table.ts';

export type JudgedRole = MainRole | 'co2';
export const judgedRoles: readonly JudgedRole[] = ['o2', 'co', 'co2', 'stack', 'air'];
export const temperatures: readonly SentUnit[] = ['C', 'F', 'K'];
export const isTemperature = (role: JudgedRole): boolean => role === 'stack' || role === 'air';

/** Inner values that a channel can show: anything else is another quantity, raw counts or a broken sensor. */
export const possible: Record<JudgedRole, readonly [number, number]> = {
  o2: [-1.5, 25.5],
  co: [-150, 200_000],
  co2: [-1.5, 40],
  stack: [-45, 1400],
  air: [-45, 75],
};

/** What is seldom in a flue, and usual where name and unit have been mixed up. */
export const usual: Record<JudgedRole, readonly [number, number]> = {
  o2: [0.05, 22],
  co: [-150, 20_000],
  // pure carbon gives 20.9 % where no air is left over; a reading of so much is oxygen
  co2: [0, 20],
  stack: [-45, 1200],
  air: [-40, 60],
};

export const saidFor = (column: Column, role: JudgedRole): number => (role in column.meaning.roles ? (column.meaning.roles[role] ?? 0) : 0);
export const isStrong = (column: Column, role: JudgedRole): boolean => saidFor(column, role) >= 2;
export const hasNumbers = (column: Column): boolean => column.statistics !== undefined && column.statistics.share >= 0.3;

export function innerRange(column: Column, role: JudgedRole, unit: SentUnit): readonly [number, number, number] | undefined {
  const conversion = toInner(channelOfRole[role], unit);
  const s = column.statistics;
  if (conversion === undefined || s === undefined) return undefined;
  const inner = (value: number): number => value * conversion.factor + conversion.offset;
  return [inner(s.low), inner(s.high), inner(s.median)];
}

/** The unit that a name alone goes with, where every value fits it. */
export const unitAlone = (role: JudgedRole): SentUnit => (role === 'co' ? 'ppm' : role === 'o2' || role === 'co2' ? '%' : 'C');
