/** What speaks against a column being a channel: its name, its unit, or values that no flue has. */
import { channelOfRole } from '../names/roles.ts';
import { defined } from '../../../defined.ts';
import { unitsFor, type SentUnit } from '../../../measurement/sent-unit.ts';
import { isHexadecimal } from './contradictions.ts';
import { absentReason } from '../../reading/absent-words.ts';
import type { Evidence, EvidenceKey } from '../evidence.ts';
import {
  hasNumbers,
  innerRange,
  isStrong,
  isTemperature,
  possible,
  saidFor,
  temperatures,
  unitAlone,
  usual,
  type JudgedRole,
} from './judged-role.ts';
import type { Column } from '../tables/table.ts';

/** ppm: more is no flue gas, whatever the unit was meant to be */
const MOST_CO_WITHOUT_UNIT = 60_000;

/**
 * A strong name over words and numbers for 'no value': a sensor that warms up, or is not plugged in. The channel is what its name says, and must be
 * there when its values come. A temperature needs its unit, too: no value will tell degF from degC.
 */
const waitsForValues = (column: Column, role: JudgedRole): boolean =>
  isStrong(column, role) &&
  (column.unit !== undefined || !isTemperature(role)) &&
  column.texts.every((text) => absentReason(text) !== undefined || column.sentinels.includes(Number(text.replace(',', '.'))));

/**
 * Does nothing at all forbid that this column is the channel? The reason where something does.
 * @param isAnyShown a channel that its name says has values: beside it another may still have none
 */
export function exclusion(column: Column, isClock: boolean, role: JudgedRole, isAnyShown = false): Evidence | undefined {
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
  if (column.multiplier !== undefined && column.multiplier.factor === undefined)
    return against('factor-in-name', 'unit', column.multiplier.text);
  if (column.isTwofold === true) return against('two-values', 'nature');
  const strongest = Object.entries(meaning.roles).find(([, said]) => said >= 2);
  if (strongest !== undefined && !isStrong(column, role)) return against('other-name', 'name', strongest[0]);
  if (column.name !== '' && meaning.isEmpty !== true && saidFor(column, role) === 0) return against('unknown-name', 'name', column.name);
  if (unit !== undefined && !unitsFor(channelOfRole[role]).includes(unit)) return against('foreign-unit', 'unit', unit);
  if (isHexadecimal(column)) return against('hexadecimal', 'nature');
  if (s === undefined && isAnyShown && waitsForValues(column, role)) return undefined;
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
export function contradicts(column: Column, role: JudgedRole): EvidenceKey | undefined {
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
export const isSwapped = (column: Column, role: JudgedRole): boolean =>
  column.unit !== undefined &&
  column.foreign === undefined &&
  column.meaning.excludedBy === undefined &&
  isStrong(column, role) &&
  !unitsFor(channelOfRole[role]).includes(column.unit) &&
  (gasUnits.includes(column.unit) || temperatures.includes(column.unit)) &&
  hasNumbers(column);
