import { channelOfRole } from '../names/roles.ts';
import type { SentUnit } from '../../../measurement/sent-unit.ts';
import type { ColumnVerdict, Evidence } from '../evidence.ts';
import { judgedRoles, type JudgedRole } from './judged-role.ts';
import type { Column } from '../tables/table.ts';

export type Found = { column: number; unit: SentUnit; scale: number; sureness: 'sure' | 'look'; evidence: Evidence[] };

type VerdictParts = {
  found: readonly [JudgedRole, Found][];
  looks: ReadonlyMap<number, readonly Evidence[]>;
  excluded: readonly Record<JudgedRole, Evidence | undefined>[];
  clocks: ReadonlySet<number>;
};

export function verdictOf(column: Column, index: number, { found, looks, excluded, clocks }: VerdictParts): ColumnVerdict {
  const taken = found.find(([, one]) => one.column === index);
  const isClock = clocks.has(index);
  const out = judgedRoles.flatMap((role) => excluded[index]?.[role] ?? []);
  // The same reason for every channel is one reason.
  const [first] = out;
  const isAlike =
    first !== undefined && out.length === judgedRoles.length && out.every(({ key, text }) => key === first.key && text === first.text);
  const against = isAlike ? [{ ...first, channel: 'all' as const }] : out;
  const open = looks.get(index) ?? [];
  return {
    at: column.at,
    name: column.name,
    unitText: column.unitText ?? column.unit ?? '',
    examples: threeOf(column.texts),
    taken: isClock ? 'time' : taken === undefined ? undefined : channelOfRole[taken[0]],
    unit: taken?.[1].unit,
    sureness: isClock ? 'none' : taken?.[1].sureness === 'look' || open.length > 0 ? 'look' : taken === undefined ? 'none' : 'sure',
    evidence: [
      ...(taken?.[1].evidence ?? []),
      ...open,
      ...(taken === undefined ? against : against.filter(({ channel }) => channel !== channelOfRole[taken[0]])),
    ],
  };
}

/** The first, one from the middle, and the last that hold something. */
function threeOf(texts: readonly string[]): string[] {
  const filled = texts.filter((text) => text.trim() !== '');
  const picks = [filled[0], filled[Math.floor(filled.length / 2)], filled.at(-1)];
  return picks.flatMap((text) => (text === undefined ? [] : [text.trim().slice(0, 24)]));
}
