import type { SentUnit } from '../../../measurement/sent-unit.ts';
import type { Column } from '../tables/table.ts';

/**
 * Flue gas loss by the statutory formula for oil, % of the lower heating value; good enough to know an efficiency by.
 * @source 1. BImSchV of 26 Jan 2010 (BGBl. I p. 38), Annex 2 No. 3.4.1
 */
const oilLossPercent = (netStackK: number, o2PercentDry: number): number => netStackK * (0.68 / (21 - o2PercentDry) + 0.007);

/** Efficiency and loss add up to 100 on the lower heating value; on the higher one the latent heat is missing, 6 for oil, 10 for gas. */
const SUM_LOW = 87;
const SUM_HIGH = 101.5;
/** Whatever the basis and the fuel, the sum keeps still while the burner moves. */
const SUM_SPREAD = 1.5;
const ROWS_NEEDED = 4;
const ROWS_AT_MOST = 150;

const kelvinPerUnit: Partial<Record<SentUnit, number>> = { C: 1, K: 1, F: 1 / 1.8 };

/** @param temperatures stack and air in the same unit */
export function isEfficiency(o2: Column, temperatures: { stack: Column; air: Column; unit: SentUnit }, column: Column): boolean {
  const s = column.statistics;
  const kelvin = kelvinPerUnit[temperatures.unit];
  if (s === undefined || kelvin === undefined || s.decimals < 1 || s.decimals > 2 || s.median < 55 || s.high > 106) return false;
  const stride = Math.max(1, Math.floor(column.values.length / ROWS_AT_MOST));
  const sums: number[] = [];
  for (let at = 0; at < column.values.length; at += stride) {
    const [oxygen, stack, air, efficiency] = [o2.values[at], temperatures.stack.values[at], temperatures.air.values[at], column.values[at]];
    if (oxygen === undefined || stack === undefined || air === undefined || efficiency === undefined || oxygen > 15) continue;
    const netK = (stack - air) * kelvin;
    if (netK > 0) sums.push(efficiency + oilLossPercent(netK, oxygen));
  }
  if (sums.length < ROWS_NEEDED) return false;
  sums.sort((a, b) => a - b);
  const at = (share: number): number => sums[Math.round(share * (sums.length - 1))] ?? 0;
  return at(0.5) >= SUM_LOW && at(0.5) <= SUM_HIGH && at(0.9) - at(0.1) <= SUM_SPREAD;
}
