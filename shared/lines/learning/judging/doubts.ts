/** The last step: what speaks against what was found, so that a person is asked. */
import { channelOfRole } from '../names/roles.ts';
import type { ChannelId } from '../../../measurement/channel.ts';
import type { Role } from '../names/roles.ts';
import type { Column } from '../tables/table.ts';
import type { Found } from './column-verdict.ts';
import { areMixed, swappedChannels, type Used } from './contradictions.ts';
import type { Solved } from './identity.ts';
import { hasNumbers, isStrong, isTemperature, judgedRoles, unitAlone, type JudgedRole } from './judged-role.ts';
import { mainRoles } from './main-options.ts';
import { CONFIDENT, evidenceFor, look, reopen, type Weighing } from './weighing.ts';

/** What a burner's run can do without flue gas and stack: room CO, a draft, an oil pressure. */
const besideRoles: readonly Role[] = ['ambientCo', 'draft', 'pumpPressure', 'no', 'no2', 'so2'];

const massRoles: readonly Role[] = ['no', 'no2', 'so2'];
const hasDigit = /\d/;

/** Turns sure into asked where head, values or the other columns contradict it, and shows what only a wrong head says. */
export function addDoubts(weighing: Weighing): void {
  const { table, columns, excluded, swapped, solved, found } = weighing;
  // A name and a unit that say a channel over values that it cannot have: something in the head is wrong, and maybe more than this.
  if (Object.keys(found).length > 0)
    for (const [index, column] of columns.entries())
      for (const role of judgedRoles)
        if (excluded[index]?.[role]?.key === 'impossible' && isStrong(column, role) && column.unit !== undefined)
          look(weighing, index, evidenceFor(role, 'open', 'unit', 'values-contradict', 3, column.unit));
  // A factor beside the unit that can be read two ways, or two values under one key: the channel is not passed over in silence.
  for (const [index, column] of columns.entries()) {
    const role = judgedRoles.find((one) => isStrong(column, one));
    const isBeside = besideRoles.some((one) => (column.meaning.roles[one] ?? 0) >= 2);
    const key = column.isTwofold === true ? 'two-values' : 'factor-in-name';
    if (excluded[index]?.[role ?? 'o2']?.key === key && (role !== undefined || isBeside))
      look(weighing, index, {
        ...evidenceFor(role ?? 'o2', 'open', 'unit', key, 3, column.multiplier?.text),
        ...(role === undefined ? { channel: 'all' } : {}),
      });
  }
  // Numbers with more behind them than a unit: nobody reads them, and the name says that they are wanted.
  for (const [index, column] of columns.entries()) {
    const role = judgedRoles.find((one) => isStrong(column, one));
    const text = column.texts.find((one) => hasDigit.test(one));
    if (role === undefined || text === undefined || found[role] !== undefined) continue;
    const isNoUnit = column.foreign?.quantity === 'unknown' && /[^\p{L}%\u00b0/^\u00b2\u00b3.-]/u.test(column.foreign.text);
    if (!isNoUnit && excluded[index]?.[role]?.key !== 'text') continue;
    look(weighing, index, evidenceFor(role, 'open', 'nature', 'more-behind', 3, text.trim().slice(0, 24)));
  }
  // NO in mg/m3: at which temperature, and with which oxygen, is not said.
  for (const [index, column] of columns.entries())
    if (column.unit === 'mg/m3' && column.foreign === undefined && massRoles.some((one) => (column.meaning.roles[one] ?? 0) >= 2))
      look(weighing, index, { ...evidenceFor('o2', 'open', 'unit', 'reference-state', 2, 'mg/m3'), channel: 'all' });
  for (const [role, { column }] of Object.entries(found) as [JudgedRole, Found][]) {
    const multiplier = columns[column]?.multiplier;
    if (multiplier?.factor !== undefined && !multiplier.isClear)
      reopen(weighing, role, { ...evidenceFor(role, 'open', 'unit', 'factor-in-name', 2, multiplier.text), low: multiplier.factor });
  }
  // Corrected CO is no measured CO; where a column of its own says so, the banner was about that one.
  if (table.coBasis !== undefined && !columns.some(({ meaning }) => meaning.roles.coCorrected !== undefined))
    reopen(weighing, 'co', evidenceFor('co', 'open', 'name', 'co-corrected', 3, table.coBasis.slice(0, 40)));
  // A swapped head is shown with what its names say; nothing of it is used before a person has looked.
  for (const { index, role } of swapped) {
    if (found[role] !== undefined) continue;
    const unit = unitAlone(role);
    found[role] = {
      column: index,
      unit,
      scale: 1,
      sureness: 'look',
      evidence: [
        evidenceFor(role, 'for', 'name', 'name-says', 3, columns[index]?.name),
        evidenceFor(role, 'open', 'unit', 'unit-contradicts', 3, columns[index]?.unit),
      ],
    };
  }

  const isUnitOpen =
    (solved?.confidence ?? 1) < CONFIDENT &&
    isUnitQuestion(solved) &&
    Object.entries(found).some(([role, one]) => isTemperature(role as JudgedRole) && columns[one.column]?.unit === undefined);
  if (isUnitOpen)
    for (const role of ['stack', 'air'] as const) {
      const one = found[role];
      if (one !== undefined)
        found[role] = { ...one, sureness: 'look', evidence: [...one.evidence, evidenceFor(role, 'open', 'unit', 'unit-missing', 2)] };
    }
  const used = (Object.entries(found) as [JudgedRole, Found][]).map(([role, { column, unit, scale }]): Used => ({
    channel: channelOfRole[role],
    column: columns[column] as Column,
    unit,
    scale,
  }));
  // A temperature named as the air's that no room has, beside a stack that reads like one.
  const hotAir = columns.findIndex(
    (column, at) => isStrong(column, 'air') && excluded[at]?.air?.key === 'impossible' && hasNumbers(column),
  );
  if (hotAir >= 0 && found.stack !== undefined && found.air === undefined) {
    const column = columns[hotAir] as Column;
    used.push({ channel: 'airTemperature', column, unit: column.unit ?? found.stack.unit, scale: 1 });
  }
  // The temperature of a room alone is no run of a burner: nobody but a person can say what it is for.
  const isAirOnly =
    Object.keys(found).length === 1 &&
    found.air !== undefined &&
    !columns.some(({ meaning }) => meaning.excludedBy === undefined && besideRoles.some((role) => (meaning.roles[role] ?? 0) >= 2));
  if (isAirOnly) reopen(weighing, 'air', evidenceFor('air', 'open', 'name', 'air-only', 2));
  const roleOf = (channel: ChannelId): JudgedRole => judgedRoles.find((role) => channelOfRole[role] === channel) ?? 'o2';
  for (const [one, other] of swappedChannels(used)) {
    reopen(weighing, roleOf(one), evidenceFor(roleOf(one), 'open', 'movement', 'names-swapped', 2, other));
    reopen(weighing, roleOf(other), evidenceFor(roleOf(other), 'open', 'movement', 'names-swapped', 2, one));
    if (found.air === undefined && other === 'airTemperature')
      look(weighing, hotAir, evidenceFor('air', 'open', 'movement', 'names-swapped', 2, one));
  }
  if (areMixed(used, columns) || table.isMixed === true)
    for (const role of Object.keys(found) as JudgedRole[]) reopen(weighing, role, evidenceFor(role, 'open', 'movement', 'by-turns', 2));
}

/** The two best ways differ only in the unit. */
function isUnitQuestion(solved: Solved | undefined): boolean {
  if (solved?.second === undefined) return false;
  return mainRoles.every((role) => solved.best.main[role]?.column === solved.second?.main[role]?.column);
}
