/** The first step: what names say, with their units. */
import type { SentUnit } from '../../../measurement/sent-unit.ts';
import type { Evidence, EvidenceKey } from '../evidence.ts';
import type { Column } from '../tables/table.ts';
import { contradicts } from './exclusion.ts';
import {
  hasNumbers,
  innerRange,
  isStrong,
  isTemperature,
  judgedRoles,
  possible,
  temperatures,
  unitAlone,
  usual,
  type JudgedRole,
} from './judged-role.ts';
import { drySide } from './unclear-names.ts';
import { evidenceFor, look, type Weighing } from './weighing.ts';

/** A stack that reads more than this is not in degC; one that reads less may be in either. Common practice: seldom above 430 degC. */
const MOST_C = 800;

/** Takes the column that a strong name gives; what a person should look at first is a doubt beside it. */
export function findByName(weighing: Weighing): void {
  const { table, columns, excluded, swapped, isTooWide, solved, found } = weighing;
  const strongFor = (role: JudgedRole): readonly number[] => {
    const said = columns.flatMap((column, index) => (isStrong(column, role) && excluded[index]?.[role] === undefined ? [index] : []));
    // one that has no value yet counts only where no other has
    const shown = said.filter((index) => columns[index]?.statistics !== undefined);
    return drySide(columns, shown.length > 0 ? shown : said);
  };
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

  // the room beside it tells degF from degC; without it, and without a unit on any temperature, nothing does
  const isUnitFree = solved?.best.main.air === undefined && !columns.some(({ unit }) => unit !== undefined && temperatures.includes(unit));
  const gasIsSaid = strongFor('o2').length > 0;
  for (const role of judgedRoles) {
    const candidates = strongFor(role);
    const index = pick(role, candidates);
    if (index === undefined) continue;
    const column = columns[index] as Column;
    const { unit, scale } = readingOf(role, index);
    const evidence: Evidence[] = [evidenceFor(role, 'for', 'name', 'name-says', 3, column.name)];
    const doubts: Evidence[] = [];
    const doubt = (key: EvidenceKey, kind: Evidence['kind'], text?: string): void => {
      doubts.push(evidenceFor(role, 'open', kind, key, 2, text));
    };
    const withNumbers = candidates.filter((one) => hasNumbers(columns[one] as Column));
    if (withNumbers.length > 1)
      for (const one of withNumbers) look(weighing, one, evidenceFor(role, 'open', 'name', 'rival', 3, String(withNumbers.length)));
    if (withNumbers.length > 1) doubt('rival', 'name', String(withNumbers.length));
    if (column.meaning.isWet === true) doubt('wet-gas', 'name');
    const contradiction = contradicts(column, role);
    if (contradiction !== undefined) doubt(contradiction, 'unit', unit);
    if (column.unit !== undefined) evidence.push(evidenceFor(role, 'for', 'unit', 'unit-fits', 3, column.unit));
    if (unit === 'mg/m3') doubt('reference-state', 'unit', unit);
    if (column.unit === undefined && hasNumbers(column)) {
      const isPlain = gasIsSaid && !isTooWide;
      const s = column.statistics;
      const isDecimal = (s?.decimals ?? 0) > 1;
      const range = innerRange(column, role, unit);
      const isUsual = range !== undefined && range[2] <= usual[role][1] && range[0] >= possible[role][0] && range[1] <= possible[role][1];
      // 19 may be 19 % or 1.9 %, and 223 may be 22.3 degC: no name tells
      const mayBeTenths = column.scales.length === 1 && s?.decimals === 0 && (role === 'o2' || scale !== 1);
      if (table.hasFactors === true) doubt('factors-above', 'nature');
      else if (mayBeTenths) doubt('unit-missing', 'unit');
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
      else if (role === 'stack' && isUnitFree && (s?.high ?? 0) <= MOST_C) doubt('unit-missing', 'unit');
      else evidence.push(evidenceFor(role, 'for', 'range', 'unit-assumed', 1, unit));
    }
    found[role] = { column: index, unit, scale, sureness: doubts.length === 0 ? 'sure' : 'look', evidence: [...evidence, ...doubts] };
  }
  for (const { index, role } of swapped) {
    look(weighing, index, evidenceFor(role, 'open', 'unit', 'unit-contradicts', 3, columns[index]?.unit));
  }
}
