/** What is the same as at the appliance's last visit and is not typed again: plates, maker's figures, adjusters, card. Never a measurement. */
import type { Setting } from '../../measurement/mark.ts';
import { isSameScale } from '../trial/adjuster.ts';
import { presentValue, setUpItemNames, type SetUpRow } from '../set-up/set-up-sheet.ts';
import type { Visit } from './visit.ts';
import { defined } from '../../defined.ts';

/** Where a visit left the adjusters at a stage; undefined when it did not write that down. */
export function settingLeft(last: Visit | undefined, stage: string, adjusters: Visit['adjusters']): Setting | undefined {
  const left = last?.stages.find(({ name }) => name === stage);
  const setting = last?.trials.find(({ id }) => id === left?.asLeftTrialId)?.setting;
  const positions = adjusters.flatMap((adjuster) => {
    const { name } = adjuster;
    const then = last?.adjusters.find((one) => one.name.toLowerCase() === name.toLowerCase());
    // marks of another scale would be offered as if they were these
    if (then === undefined || !isSameScale(then, adjuster)) return [];
    const value = setting?.positions.find((one) => one.name.toLowerCase() === name.toLowerCase())?.value;
    return value === undefined ? [] : [{ name, value }];
  });
  return positions.length === 0 ? undefined : { stage, positions };
}

export const carriedParts = [
  'fuel',
  'co2-max',
  'instrument',
  'technician',
  'adjusters',
  'makers-figures',
  'nozzle',
  'card',
  'control',
  'not-applicable',
] as const;
export type CarriedPart = (typeof carriedParts)[number];
export type CarriedOver = { changes: { path: (string | number)[]; after: unknown }[]; parts: CarriedPart[] };

/** Stamped on the nozzle, so no measurement; it is looked at again when the nozzle is out. */
const stamped: ReadonlySet<string> = new Set(['nozzleFlowLh', 'nozzleAngleDeg']);

/**
 * Only what the visit does not say itself yet.
 *
 * @param last as it reads now, with corrections
 * @param notes stand beside what is taken over: from which visit it is
 */
export function carryOver(visit: Visit, last: Visit, notes: { nozzle: string; lacks: string }, nowWallMs: number): CarriedOver {
  const changes: CarriedOver['changes'] = [];
  const parts = new Set<CarriedPart>();
  const carry = (part: CarriedPart | undefined, key: keyof Visit, after: unknown): void => {
    if (after === undefined) return;
    changes.push({ path: [key], after });
    if (part !== undefined) parts.add(part);
  };
  if (visit.fuelId === undefined) carry('fuel', 'fuelId', last.fuelId);
  // of that fuel only
  if (visit.co2MaxPercent === undefined && visit.trials.length === 0 && (visit.fuelId ?? last.fuelId) === last.fuelId)
    carry('co2-max', 'co2MaxPercent', last.co2MaxPercent);
  if (visit.instrumentName === undefined && visit.instrumentId === undefined) {
    carry('instrument', 'instrumentName', last.instrumentName);
    carry('instrument', 'instrumentId', last.instrumentId);
  }
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
  // what this appliance does not have, it did not get since: no measurement
  const lacks = [...new Map(last.safety.map((result) => [result.test, result])).values()].filter(
    ({ result, test }) => result === 'not-applicable' && !visit.safety.some((mine) => mine.test === test),
  );
  if (lacks.length > 0)
    carry('not-applicable', 'safety', [
      ...visit.safety,
      ...lacks.map(({ test }) => ({ test, result: 'not-applicable', note: notes.lacks, wallMs: nowWallMs })),
    ]);
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
      ...defined({ maker, asFound: stamp, note: stamp !== undefined ? (mine?.note ?? notes.nozzle) : undefined }),
    };
    parts.add(stamp === undefined ? 'makers-figures' : 'nozzle');
  }
  const pattern = last.setUp.nozzlePattern?.asLeft ?? last.setUp.nozzlePattern?.asFound;
  // stamped as well; the pressure of a stage is measured
  const stages = last.setUp.stages?.flatMap(({ pumpPa: _measured, ...nozzle }) => (nozzle.stamp === undefined ? [] : [nozzle]));
  const carriesStages = visit.setUp.stages === undefined && stages !== undefined && stages.length > 0;
  if (carriesStages) parts.add('nozzle');
  const setUp = {
    ...visit.setUp,
    ...(carriesStages && { stages }),
    rows,
    ...defined({ nozzlePattern: visit.setUp.nozzlePattern === undefined && pattern !== undefined ? { asFound: pattern } : undefined }),
    // the pressure belongs to the stamp: never to a flow that this visit typed itself
    ...defined({
      ratedPressurePa:
        visit.setUp.ratedPressurePa === undefined &&
        visit.setUp.rows.nozzleFlowLh?.asFound === undefined &&
        last.setUp.ratedPressurePa !== undefined
          ? last.setUp.ratedPressurePa
          : undefined,
    }),
    ...defined({ oilLine: visit.setUp.oilLine === undefined && last.setUp.oilLine !== undefined ? last.setUp.oilLine : undefined }),
  };
  if (JSON.stringify(setUp) !== JSON.stringify(visit.setUp)) changes.push({ path: ['setUp'], after: setUp });
  return { changes, parts: carriedParts.filter((part) => parts.has(part)) };
}
