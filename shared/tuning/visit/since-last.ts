/**
 * What moved since the burner was left the last time: as left then beside as found now, with the uncertainty of the difference, and where
 * to look first. Nothing is compared across another fuel, nozzle or scale that would mean something else; it is said instead.
 */
import { RATING_PRESSURE_PA } from '../../combustion/nozzle.ts';
import { isSameScale, kindOf, type Adjuster } from '../trial/adjuster.ts';
import { positionOf } from '../trial/setting.ts';
import { cardFigures } from '../card/card-figures.ts';
import { conditionsOf } from './conditions.ts';
import { difference } from '../trial/difference.ts';
import { nozzleOf, pumpOf, stampedAt, type NozzleThere } from '../set-up/nozzle-there.ts';
import type { Papers } from './papers.ts';
import type { SmokeRuleName } from '../trial/smoke.ts';
import type { CardFigure, CardFigures, CardQuantity } from '../card/target-card.ts';
import type { Trial } from '../trial/trial.ts';
import { withCorrections, type Visit } from './visit.ts';
import { defined } from '../../defined.ts';

/** In the order in which they are shown: what was turned, then the gas, then the draft. */
export const sinceQuantities = [
  'o2Percent',
  'co2Percent',
  'coPpm',
  'smokeNumber',
  'netStackK',
  'overFirePa',
  'breechPa',
  'draftDropPa',
  'efficiencyHhvPercent',
] as const satisfies readonly CardQuantity[];
export type SinceQuantity = (typeof sinceQuantities)[number];
/** The gas and the stack follow from fuel and nozzle; the draft and the marks do not. */
const followsFuel: ReadonlySet<CardQuantity> = new Set<CardQuantity>([
  'o2Percent',
  'co2Percent',
  'coPpm',
  'smokeNumber',
  'netStackK',
  'efficiencyHhvPercent',
]);
/** What is lost in the boiler goes with the gas that passes it, so with the nozzle. Common practice. */
const followsNozzle: ReadonlySet<CardQuantity> = new Set<CardQuantity>([...followsFuel, 'draftDropPa']);

export type LastLeft = {
  fuelId?: string | undefined;
  nozzle: NozzleThere;
  from:
    | { kind: 'visit'; number: number; wallMs: number; zoneMinutes: number; signed: boolean }
    | { kind: 'papers'; day?: string | undefined };
  figures: CardFigures;
  trial?: Trial | undefined;
  adjusters: readonly Adjuster[];
  pumpPa?: number | undefined;
  unitPreset?: Visit['unitPreset'] | undefined;
};

const ruleOf = (visit: Visit): SmokeRuleName => visit.targetCard?.smokeRule ?? visit.smokeRule;
const trialOf = (visit: Visit, id: string | undefined): Trial | undefined => visit.trials.find((trial) => trial.id === id);

/** What an earlier visit left at this stage. @param rule the present visit's, so that both smoke numbers mean the same */
export function leftBy(earlier: Visit, stageName: string, rule: SmokeRuleName): LastLeft | undefined {
  const visit = withCorrections(earlier);
  const stage = visit.stages.find(({ name }) => name === stageName);
  // the reading after the screws were tightened is what was left
  const trial = trialOf(visit, stage?.echoTrialId) ?? trialOf(visit, stage?.asLeftTrialId);
  if (trial === undefined) return undefined;
  const left = trialOf(visit, stage?.asLeftTrialId);
  const filled: Trial = {
    ...trial,
    ...defined({
      smoke: trial.smoke === undefined && left?.smoke !== undefined ? left.smoke : undefined,
      draft: trial.draft === undefined && left?.draft !== undefined ? left.draft : undefined,
    }),
  };
  const conditions = conditionsOf(visit);
  return {
    from: {
      kind: 'visit',
      number: visit.number,
      wallMs: visit.startedWallMs,
      zoneMinutes: visit.zoneMinutes,
      signed: visit.signature !== undefined,
    },
    figures: conditions === undefined ? {} : cardFigures(filled, { conditions, smokeRule: rule }),
    trial: filled,
    adjusters: visit.adjusters,
    fuelId: visit.fuelId,
    nozzle: nozzleOf(visit, stageName, 'present'),
    pumpPa: filled.pumpPa ?? pumpOf(visit, stageName, 'present'),
    unitPreset: visit.unitPreset,
  };
}

/**
 * Papers give no ±: that of today's figure is taken for both, and the screen says so.
 *
 * @param atPa what today's nozzle is stamped at: a label gives the stamp alone
 */
export function leftByPapers(papers: Papers, now: CardFigures, atPa: number): LastLeft | undefined {
  const { day, fuelId, nozzleFlowLh, ...typed } = papers;
  const figures: CardFigures = {};
  for (const [quantity, value] of Object.entries(typed) as [keyof typeof typed, number][])
    figures[quantity] = { value, expanded: now[quantity]?.expanded };
  if (typed.overFirePa !== undefined && typed.breechPa !== undefined)
    figures.draftDropPa = { value: typed.overFirePa - typed.breechPa, expanded: now.draftDropPa?.expanded };
  if (Object.keys(figures).length === 0) return undefined;
  return { from: { kind: 'papers', day }, figures, adjusters: [], fuelId, nozzle: stampedAt(nozzleFlowLh, atPa) };
}

export type Movement = 'up' | 'down' | 'same' | 'not-known';
export type SinceRow =
  | { kind: 'adjuster'; name: string; unit: string; air: boolean; before: number; now: number; movement: Movement }
  | {
      kind: 'figure';
      quantity: SinceQuantity;
      before: CardFigure;
      now: CardFigure;
      change: { value: number; expanded: number | undefined };
      movement: Movement;
    };

/** What limits the comparison; told beside it. */
export type SinceNote =
  | { key: 'other-fuel'; before: string; now: string }
  | { key: 'other-nozzle'; beforeLh: number | undefined; nowLh: number | undefined }
  | { key: 'not-signed'; number: number }
  | { key: 'other-units'; number: number }
  | { key: 'other-scale'; name: string }
  | { key: 'papers' };

/** The same between what two visits left. */
export type CompareNote = Exclude<SinceNote, { key: 'papers' | 'other-units' }> | { key: 'other-smoke-rule' };

export type SinceCause =
  | 'oil'
  | 'nozzle'
  | 'fuel'
  | 'turned'
  | 'passages'
  | 'chimney'
  | 'stronger-draft'
  | 'pressure'
  | 'less-air'
  | 'more-air'
  | 'less-air-marks-unknown'
  | 'more-air-marks-unknown'
  | 'hotter'
  | 'flame'
  | 'other'
  | 'nothing';
export type SinceLast = {
  last: LastLeft;
  rows: SinceRow[];
  notes: SinceNote[];
  finding: { cause: SinceCause; names: string[]; moved: SinceQuantity[]; same: SinceQuantity[] };
};
export type NoSinceLast = 'nothing-left' | 'nothing-found' | 'nothing-common';

/** A nozzle is another one from here: sizes are further apart, and a stamp read in another unit rounds less. Our choice. */
const OTHER_NOZZLE = 0.03;
const isOtherNozzle = (before: NozzleThere, now: NozzleThere): boolean =>
  differs(before.flowLh, now.flowLh, OTHER_NOZZLE) ||
  (before.angleDeg !== undefined && now.angleDeg !== undefined && before.angleDeg !== now.angleDeg);
/** Pump pressure that moved this much is the cause itself: flow goes with its root. Same share as staleness.ts. */
const PRESSURE_MOVED = 0.03;

const differs = (before: number | undefined, now: number | undefined, share: number): boolean =>
  before !== undefined && now !== undefined && Math.abs(now - before) > share * Math.max(before, now);

/**
 * @param found the trial as found, of this stage
 * @param earlier the newest earlier visit at this appliance; without one the papers count
 */
export function sinceLast(
  visit: Visit,
  { stage, found, earlier }: { stage: string; found: Trial | undefined; earlier?: Visit | undefined },
): SinceLast | NoSinceLast {
  const rule = ruleOf(visit);
  const conditions = conditionsOf(visit);
  const now = found === undefined || conditions === undefined ? {} : cardFigures(found, { conditions, smokeRule: rule });
  const left = earlier === undefined ? undefined : leftBy(earlier, stage, rule);
  const nozzle = nozzleOf(visit, stage, 'asFound');
  const last = left ?? (visit.papers === undefined ? undefined : leftByPapers(visit.papers, now, nozzle.atPa));
  if (last === undefined) return 'nothing-left';
  const notes = notesOf(visit, last, nozzle);
  const positions = found?.setting ?? (visit.settingFound?.stage === stage ? visit.settingFound : undefined);
  if (positions === undefined && found === undefined) return 'nothing-found';
  const rows: SinceRow[] = [
    ...visit.adjusters.flatMap((adjuster): SinceRow[] => {
      const [before, at] = [last.trial && positionOf(last.trial.setting, adjuster.name), positions && positionOf(positions, adjuster.name)];
      if (before === undefined || at === undefined || isOtherScale(last, adjuster)) return [];
      const movement = Math.abs(at - before) < adjuster.step / 2 ? 'same' : at > before ? 'up' : 'down';
      return [{ kind: 'adjuster', name: adjuster.name, unit: adjuster.unit, air: kindOf(adjuster) === 'air', before, now: at, movement }];
    }),
    ...sinceQuantities.flatMap((quantity): SinceRow[] => {
      const [before, after] = [last.figures[quantity], now[quantity]];
      if (before === undefined || after === undefined || !isComparable(quantity, notes)) return [];
      const change = difference(before, after);
      return [{ kind: 'figure', quantity, before, now: after, change, movement: movementOf(change) }];
    }),
  ];
  if (rows.length === 0) return 'nothing-common';
  const pumpNow = found?.pumpPa ?? pumpOf(visit, stage, 'asFound');
  return {
    last,
    rows,
    notes,
    finding: findingOf(rows, {
      oil: (now.oilTrace?.value ?? 0) > 0,
      pressure: differs(last.pumpPa, pumpNow, PRESSURE_MOVED),
      other: notes.find(({ key }) => key === 'other-nozzle')?.key ?? notes.find(({ key }) => key === 'other-fuel')?.key,
    }),
  };
}

const movementOf = ({ value, expanded }: { value: number; expanded: number | undefined }): Movement =>
  expanded === undefined ? 'not-known' : Math.abs(value) <= expanded ? 'same' : value > 0 ? 'up' : 'down';

const isOtherScale = ({ adjusters }: Pick<LastLeft, 'adjusters'>, adjuster: Adjuster): boolean => {
  const before = adjusters.find(({ name }) => name === adjuster.name);
  return before === undefined || !isSameScale(before, adjuster);
};

/** What of two states of a burner cannot be put beside each other. */
export function otherBurner(
  before: Pick<LastLeft, 'fuelId' | 'nozzle'>,
  now: Pick<LastLeft, 'fuelId' | 'nozzle'>,
): Extract<SinceNote, { key: 'other-fuel' | 'other-nozzle' }>[] {
  const notes: ReturnType<typeof otherBurner> = [];
  if (before.fuelId !== undefined && now.fuelId !== undefined && before.fuelId !== now.fuelId)
    notes.push({ key: 'other-fuel', before: before.fuelId, now: now.fuelId });
  if (isOtherNozzle(before.nozzle, now.nozzle)) {
    // both as the present one is stamped
    const shown = ({ flowLh }: NozzleThere): number | undefined => flowLh && flowLh * Math.sqrt(now.nozzle.atPa / RATING_PRESSURE_PA);
    notes.push({ key: 'other-nozzle', beforeLh: shown(before.nozzle), nowLh: shown(now.nozzle) });
  }
  return notes;
}

export const isComparable = (quantity: CardQuantity, notes: readonly Pick<SinceNote, 'key'>[]): boolean =>
  !notes.some(({ key }) => (key === 'other-fuel' && followsFuel.has(quantity)) || (key === 'other-nozzle' && followsNozzle.has(quantity)));

function notesOf(visit: Visit, last: LastLeft, nozzle: NozzleThere): SinceNote[] {
  const notes: SinceNote[] = otherBurner(last, { fuelId: visit.fuelId, nozzle });
  if (last.from.kind === 'papers') notes.push({ key: 'papers' });
  else {
    const { number, signed } = last.from;
    if (!signed) notes.push({ key: 'not-signed', number });
    if (last.unitPreset !== visit.unitPreset) notes.push({ key: 'other-units', number });
  }
  for (const adjuster of visit.adjusters)
    if (last.trial !== undefined && positionOf(last.trial.setting, adjuster.name) !== undefined && isOtherScale(last, adjuster))
      notes.push({ key: 'other-scale', name: adjuster.name });
  return notes;
}

/**
 * Where to look first. What stands still is half of the reason: draft lost in the boiler is told from a weak chimney by the breech.
 *
 * @source NORA Oilheat Technicians Manual p 115 (soot: more drop, less suction over the fire, less air), p 140 and 142 (hot stack: soot,
 * over-firing, baffles), p 91 and 146 (smoke at the same air: nozzle, pressure, head); the order is common practice
 */
function findingOf(
  rows: readonly SinceRow[],
  { oil, pressure, other }: { oil: boolean; pressure: boolean; other: SinceNote['key'] | undefined },
): SinceLast['finding'] {
  const figures = rows.filter((row) => row.kind === 'figure');
  const of = (quantity: SinceQuantity): Movement | undefined => figures.find((row) => row.quantity === quantity)?.movement;
  const moved = figures.filter(({ movement }) => movement === 'up' || movement === 'down').map(({ quantity }) => quantity);
  const same = figures.filter(({ movement }) => movement === 'same').map(({ quantity }) => quantity);
  const turned = rows.flatMap((row) => (row.kind === 'adjuster' && row.movement !== 'same' ? [row.name] : []));
  // papers may give CO2 instead of O2: it goes the other way
  const opposite: Partial<Record<Movement, Movement>> = { up: 'down', down: 'up' };
  const co2 = of('co2Percent');
  const air = of('o2Percent') ?? (co2 === undefined ? undefined : (opposite[co2] ?? co2));
  const dirtier = of('smokeNumber') === 'up' || of('coPpm') === 'up';
  const cause = ((): SinceCause => {
    if (oil) return 'oil';
    // head and air belong to the nozzle: whoever put it in may have turned them, too
    if (other === 'other-nozzle') return 'nozzle';
    if (turned.length > 0) return 'turned';
    if (pressure) return 'pressure';
    // pressure against the room: up is less suction
    if (of('draftDropPa') === 'up' && of('breechPa') !== 'up') return 'passages';
    if (of('breechPa') === 'up') return 'chimney';
    if (of('breechPa') === 'down' || of('overFirePa') === 'down') return 'stronger-draft';
    // papers do not say where the adjusters were left: nobody can say that nothing was turned
    const areMarksKnown = rows.some((row) => row.kind === 'adjuster' && row.air);
    if (air === 'down') return areMarksKnown ? 'less-air' : 'less-air-marks-unknown';
    if (air === 'up') return areMarksKnown ? 'more-air' : 'more-air-marks-unknown';
    // "at the same air" is said only where air was compared
    if (air === 'same' && of('netStackK') === 'up') return 'hotter';
    if (air === 'same' && dirtier) return 'flame';
    if (moved.length > 0) return 'other';
    return other === 'other-fuel' ? 'fuel' : 'nothing';
  })();
  return { cause, names: turned, moved, same };
}
