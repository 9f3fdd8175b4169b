/** What is the same as at the appliance's last visit and is not typed again: plates, maker's figures, adjusters, card. Never a measurement. */
import { presentValue, setUpItemNames, type SetUpRow } from './set-up-sheet.ts';
import type { Visit } from './visit.ts';

export const carriedParts = ['fuel', 'instrument', 'technician', 'adjusters', 'makers-figures', 'nozzle', 'card', 'control'] as const;
export type CarriedPart = (typeof carriedParts)[number];
export type CarriedOver = { changes: { path: (string | number)[]; after: unknown }[]; parts: CarriedPart[] };

/** Stamped on the nozzle, so no measurement; it is looked at again when the nozzle is out. */
const stamped: ReadonlySet<string> = new Set(['nozzleFlowLh', 'nozzleAngleDeg']);

/**
 * Only what the visit does not say itself yet.
 *
 * @param last as it reads now, with corrections
 * @param nozzleNote stands beside the nozzle: from which visit it is
 */
export function carryOver(visit: Visit, last: Visit, nozzleNote: string): CarriedOver {
  const changes: CarriedOver['changes'] = [];
  const parts = new Set<CarriedPart>();
  const carry = (part: CarriedPart | undefined, key: keyof Visit, after: unknown): void => {
    if (after === undefined) return;
    changes.push({ path: [key], after });
    if (part !== undefined) parts.add(part);
  };
  if (visit.fuelId === undefined) carry('fuel', 'fuelId', last.fuelId);
  if (visit.instrumentId === undefined) carry('instrument', 'instrumentId', last.instrumentId);
  const technician = last.people.find(({ role }) => role === 'technician');
  if (visit.people.length === 0 && technician !== undefined) carry('technician', 'people', [technician]);
  if (visit.draftHabit === 'unknown' && last.draftHabit !== 'unknown') carry(undefined, 'draftHabit', last.draftHabit);
  if (visit.smokeRule !== last.smokeRule && visit.trials.length === 0) carry(undefined, 'smokeRule', last.smokeRule);
  if (last.pressurised && !visit.pressurised) carry(undefined, 'pressurised', true);
  if (visit.runs.length === 0 && visit.settingFound === undefined && JSON.stringify(visit.adjusters) !== JSON.stringify(last.adjusters))
    carry('adjusters', 'adjusters', last.adjusters);
  if (visit.stages.length === 1 && last.stages.length > 1 && visit.trials.length === 0)
    carry(undefined, 'stages', [...visit.stages, ...last.stages.slice(1).map(({ name }) => ({ name }))]);
  if (visit.targetCard === undefined && visit.withoutCard !== true) carry('card', 'targetCard', last.targetCard);
  if (visit.control === undefined) carry('control', 'control', last.control);
  if (visit.flame === undefined) carry(undefined, 'flame', last.flame);
  if (visit.annualFuelGal === undefined) carry(undefined, 'annualFuelGal', last.annualFuelGal);

  const rows: Record<string, SetUpRow> = { ...visit.setUp.rows };
  for (const item of setUpItemNames) {
    const [mine, theirs] = [visit.setUp.rows[item], last.setUp.rows[item]];
    const maker = mine?.maker ?? theirs?.maker;
    const stamp = stamped.has(item) && mine?.asFound === undefined ? presentValue(last.setUp, item) : undefined;
    if (stamp === undefined && (maker === undefined || mine?.maker !== undefined)) continue;
    rows[item] = {
      ...mine,
      ...(maker !== undefined && { maker }),
      ...(stamp !== undefined && { asFound: stamp, note: mine?.note ?? nozzleNote }),
    };
    parts.add(stamp === undefined ? 'makers-figures' : 'nozzle');
  }
  const pattern = last.setUp.nozzlePattern?.asLeft ?? last.setUp.nozzlePattern?.asFound;
  const setUp = {
    ...visit.setUp,
    rows,
    ...(visit.setUp.nozzlePattern === undefined && pattern !== undefined && { nozzlePattern: { asFound: pattern } }),
    ...(visit.setUp.ratedPressurePa === undefined &&
      last.setUp.ratedPressurePa !== undefined && { ratedPressurePa: last.setUp.ratedPressurePa }),
  };
  if (JSON.stringify(setUp) !== JSON.stringify(visit.setUp)) changes.push({ path: ['setUp'], after: setUp });
  return { changes, parts: carriedParts.filter((part) => parts.has(part)) };
}
