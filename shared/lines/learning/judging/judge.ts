/**
 * Which column is which, and how sure that is. Names and units decide first; how columns move together and their ranges only choose
 * among columns that no name or unit speaks about, or arrange columns that a word hints at. Whatever only values say is asked about,
 * save in the plain table of an instrument, where every column is explained and the gases and the stack move as they do in a flue.
 */
import { whenDefined } from '../../../defined.ts';
import type { ColumnVerdict } from '../evidence.ts';
import type { FoundClock } from '../find-clock.ts';
import type { Role } from '../names/roles.ts';
import type { Column, Table } from '../tables/table.ts';
import { findByName } from './by-name.ts';
import { findByValues } from './by-values.ts';
import { verdictOf, type Found } from './column-verdict.ts';
import { addDoubts } from './doubts.ts';
import type { Identity, Solved } from './identity.ts';
import { isStrong, judgedRoles, type JudgedRole } from './judged-role.ts';
import type { MainRole, Reading } from './main-options.ts';
import { weigh } from './weighing.ts';

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

export function judge(table: Table, clock: FoundClock, isEnoughLines: boolean): Judged {
  const weighing = weigh(table, clock);
  const { columns, clocks, excluded, swapped, solved, found, looks } = weighing;
  findByName(weighing);
  findByValues(weighing);
  const verdicts = (): ColumnVerdict[] =>
    columns.map((column, index) =>
      verdictOf(column, index, { found: Object.entries(found) as [JudgedRole, Found][], looks, excluded, clocks }),
    );
  if (Object.keys(found).length === 0 && swapped.length === 0)
    return { identity: { main: {}, rest: [], score: 0 }, verdicts: verdicts(), isEmpty: true, isOpen: false, confidence: 0, solved };
  addDoubts(weighing);
  const all = Object.entries(found) as [JudgedRole, Found][];
  // A name that says it stays sure where another column of the same quantity is asked about; the question shows both.
  const isOpen = all.some(([, one]) => one.sureness === 'look') || looks.size > 0;
  const main: Partial<Record<MainRole, Reading>> = {};
  for (const [role, { column, unit, scale }] of all) if (role !== 'co2') main[role] = { column, unit, scale };
  const rest = (solved?.best.rest ?? []).filter(
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
    score: solved?.best.score ?? 0,
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
