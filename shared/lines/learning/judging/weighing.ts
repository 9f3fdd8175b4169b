/** The columns of a table as they are weighed: what is ruled out, what the solver makes of the others, and what has been found so far. */
import { channelOfRole } from '../names/roles.ts';
import { defined } from '../../../defined.ts';
import type { Evidence, EvidenceKey } from '../evidence.ts';
import type { FoundClock } from '../find-clock.ts';
import type { Column, Table } from '../tables/table.ts';
import type { Found } from './column-verdict.ts';
import { exclusion, isSwapped } from './exclusion.ts';
import { solveIdentity, type Identity, type Solved } from './identity.ts';
import { hasNumbers, isStrong, judgedRoles, saidFor, type JudgedRole } from './judged-role.ts';
import { mainRoles } from './main-options.ts';
import { withNumbering, withOpenShortNames } from './unclear-names.ts';

/** Below this many columns a solver may weigh all of them against each other. */
const MOST_TO_WEIGH = 28;
/** A plain instrument writes no more columns than this. */
export const MOST_OF_A_PLAIN = 16;
/** From here on the solver's answer counts as sure. */
export const CONFIDENT = 0.8;

export type Weighing = {
  readonly table: Table;
  readonly columns: readonly Column[];
  readonly clocks: ReadonlySet<number>;
  /** why a column cannot be a channel, by column and role */
  readonly excluded: readonly Record<JudgedRole, Evidence | undefined>[];
  /** strong names with the unit of another channel */
  readonly swapped: readonly { readonly index: number; readonly role: JudgedRole }[];
  readonly isNamed: boolean;
  /** too many columns to weigh them all */
  readonly isTooWide: boolean;
  readonly solved: Solved | undefined;
  /** filled step by step: names first, then values */
  readonly found: Partial<Record<JudgedRole, Found>>;
  /** what a person should look at, by column */
  readonly looks: Map<number, Evidence[]>;
};

/** Rules columns out, and lets the solver weigh the others. */
export function weigh(table: Table, clock: FoundClock): Weighing {
  const columns = withNumbering(withOpenShortNames(table.columns));
  const clocks = new Set(clock.columns);
  const isAnyShown = columns.some(
    (column, index) => hasNumbers(column) && !clocks.has(index) && judgedRoles.some((role) => isStrong(column, role)),
  );
  const excluded = columns.map(
    (column, index) =>
      Object.fromEntries(judgedRoles.map((role) => [role, exclusion(column, clocks.has(index), role, isAnyShown)])) as Record<
        JudgedRole,
        Evidence | undefined
      >,
  );
  const swapped = columns.flatMap((column, index) =>
    judgedRoles.filter((role) => isSwapped(column, role)).map((role) => ({ index, role })),
  );

  // What is left to be weighed: columns that some channel may be, and those that are the instrument's own computations.
  const isNamed = columns.some(({ name, meaning }) => name !== '' && meaning.isEmpty !== true);
  const open = columns.flatMap((column, index) => {
    const isCandidate = judgedRoles.some((role) => excluded[index]?.[role] === undefined);
    const isMute = !isNamed && hasNumbers(column) && !clocks.has(index);
    const isOwn = Object.entries(column.meaning.roles).some(([role, said]) => said >= 1 && !judgedRoles.includes(role as JudgedRole));
    return isCandidate || isMute || (isOwn && hasNumbers(column) && columns.length <= MOST_OF_A_PLAIN && !clocks.has(index)) ? [index] : [];
  });
  const weighed =
    open.length > MOST_TO_WEIGH ? open.filter((index) => judgedRoles.some((role) => saidFor(columns[index] as Column, role) > 0)) : open;
  const isTooWide = weighed.length > MOST_TO_WEIGH;
  const view = weighed.slice(0, MOST_TO_WEIGH).map((index) => {
    const column = columns[index] as Column;
    const roles = Object.fromEntries(
      Object.entries(column.meaning.roles).filter(
        ([role]) => !judgedRoles.includes(role as JudgedRole) || excluded[index]?.[role as JudgedRole] === undefined,
      ),
    );
    const isOut = mainRoles.every((role) => excluded[index]?.[role] !== undefined);
    return isOut && Object.keys(roles).length > 0 && !('co2' in roles)
      ? { ...column, meaning: { ...column.meaning, roles } }
      : { ...column, meaning: { ...column.meaning, roles } };
  });
  const solvedView = view.length === 0 ? undefined : solveIdentity({ ...table, columns: view });
  const back = (identity: Identity): Identity => ({
    ...identity,
    main: Object.fromEntries(
      Object.entries(identity.main).map(([role, reading]) => [role, { ...reading, column: weighed[reading.column] ?? 0 }]),
    ) as Identity['main'],
    rest: identity.rest.map((one) => ({ ...one, column: weighed[one.column] ?? 0 })),
  });
  const solved: Solved | undefined =
    solvedView === undefined
      ? undefined
      : {
          ...solvedView,
          best: back(solvedView.best),
          second: solvedView.second === undefined ? undefined : back(solvedView.second),
        };

  return { table, columns, clocks, excluded, swapped, isNamed, isTooWide, solved, found: {}, looks: new Map() };
}

/** One piece of evidence for or against a channel, or one that leaves it open. */
export const evidenceFor = (
  role: JudgedRole,
  side: Evidence['side'],
  kind: Evidence['kind'],
  key: EvidenceKey,
  strength: number,
  text?: string,
): Evidence => ({
  channel: channelOfRole[role],
  side,
  kind,
  strength,
  key,
  ...defined({ text }),
});

/** Asks a person to look at this column. */
export function look({ looks }: Weighing, index: number, evidence: Evidence): void {
  looks.set(index, [...(looks.get(index) ?? []), evidence]);
}

/** What was found for this role is asked about after all. */
export function reopen({ found }: Weighing, role: JudgedRole, evidence: Evidence): void {
  const one = found[role];
  if (one !== undefined) found[role] = { ...one, sureness: 'look', evidence: [...one.evidence, evidence] };
}
