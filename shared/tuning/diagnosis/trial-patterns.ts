import { draftDropPa } from '../trial/draft.ts';
import { coAirFreePpm } from '../trial/gas-basis.ts';
import type { Trial } from '../trial/trial.ts';
import { figureOf, smokeOf } from '../trial/trial-figures.ts';
import { strengthOf, type Hint, type PatternKey } from './patterns.ts';
import { defined } from '../../defined.ts';

/** What earlier visits left at this appliance, newest first; undefined figures were not measured. */
export type EarlierVisit = { netStackK?: number | undefined; draftDropPa?: number | undefined };

export type TrialFacts = {
  /** in order of time */
  trials: readonly Trial[];
  /** the trials that show the burner as it is meant to run: as found, as left. Others may be smoky or lean on purpose. */
  judgedIds: readonly string[];
  earlier: readonly EarlierVisit[];
  /** what the burner maker or the set-up sheet asks for, Pa */
  pumpPressureWantedPa?: number | undefined;
  /** O2 at the onset of smoke, when the curve has one */
  onsetO2?: number | undefined;
};

type View = {
  trial: Trial;
  o2: number;
  airFreePpm: number | undefined;
  netStackK: number | undefined;
  smoke: number | undefined;
  dropPa: number | undefined;
};

/** @source procedure of the trade: O2 over 8 to 9 % high; smoke 2 and more with it poor mixing; under 3 % low. Half a step of smoke is reading error, so 1 counts. */
const PLENTY_O2 = 5;
const SMOKE_WITH_AIR = 1;
/** of the spots, taken again for it: a flame that leans darkens one side of each. Own choice. */
const UNEVEN_SPOTS = 2;
const EXCESS_O2 = 8.5;
const LOW_O2 = 3;
const CHILLED_CO_PPM = 100;
/** @source net stack over 250 degC worth a look, over 280 inspect the exchanger: trade guidance */
const HOT_NET_K = 240;
/** @source NORA, Oilheat Technicians Manual, p 142: drop over 0.05 in w.c. */
const HIGH_DROP_PA = 12.5;
/** with such a drop, already above the usual is hot. @source NORA, Oilheat Technicians Manual, p 153: 450 degF gross at most for 80 %, so 212 K over 20 degC */
const HOT_WITH_DROP_NET_K = 212;
const NO_DROP_PA = 1;
/** how well the difference of two draft readings is known; own choice */
const DROP_READS_PA = 1.5;
/** @source NORA, Oilheat Technicians Manual, p 140: chimney stays dry at 270 degF over ambient */
const COOL_NET_K = 150;
const HOTTER_THAN_BEFORE_K = 30;
const PRESSURE_OFF_SHARE = 0.1;
const LATE_ONSET_O2 = 5.5;

export function trialHints(facts: TrialFacts): Hint[] {
  const views = facts.trials.flatMap((trial) => viewOf(trial) ?? []);
  const judged = views.filter(({ trial }) => facts.judgedIds.includes(trial.id));
  const hints = [
    ...judged.flatMap((view) => judgedHints(view, facts)),
    ...views.flatMap(anyTrialHints),
    ...pressureHints(facts),
    ...onsetHints(facts),
  ];
  // the same pattern in several trials is one hint, at its clearest
  const byPattern = new Map<PatternKey, Hint>();
  for (const hint of hints) {
    const known = byPattern.get(hint.pattern);
    const clearer = !known || hint.strength > known.strength ? hint : known;
    byPattern.set(hint.pattern, { ...clearer, trialIds: [...new Set([...(known?.trialIds ?? []), ...hint.trialIds])] });
  }
  return [...byPattern.values()];
}

function viewOf(trial: Trial): View | undefined {
  const o2 = figureOf(trial, 'o2')?.mean;
  if (o2 === undefined) return undefined;
  const co = figureOf(trial, 'co')?.mean;
  const [stack, air] = [figureOf(trial, 'stackTemperature')?.mean, figureOf(trial, 'airTemperature')?.mean];
  return {
    trial,
    o2,
    airFreePpm: co === undefined ? undefined : coAirFreePpm(co, o2),
    netStackK: stack === undefined || air === undefined ? undefined : stack - air,
    smoke: smokeOf(trial),
    dropPa: trial.draft && draftDropPa(trial.draft),
  };
}

const hintAt = ({ trial }: View, pattern: PatternKey, strength: number, figures: Hint['figures']): Hint => ({
  pattern,
  strength,
  figures,
  trialIds: [trial.id],
  stretch: trial.reading
    ? { fromMs: trial.reading.fromMs, toMs: trial.reading.toMs }
    : { fromMs: trial.fromMs, toMs: trial.toMs ?? trial.fromMs },
});

function anyTrialHints(view: View): Hint[] {
  const hints: Hint[] = [];
  const { o2, smoke, airFreePpm, trial } = view;
  if (smoke !== undefined && smoke >= SMOKE_WITH_AIR && o2 >= PLENTY_O2)
    hints.push(hintAt(view, 'smoke-with-air', strengthOf(smoke * (1 + (o2 - PLENTY_O2) / 2), 1), { o2, smoke }));
  const uneven = trial.smoke?.spots.filter(({ flaw }) => flaw === 'uneven') ?? [];
  const darkest = Math.max(0, ...uneven.map(({ number }) => number));
  if (uneven.length >= UNEVEN_SPOTS && darkest >= SMOKE_WITH_AIR && o2 >= PLENTY_O2)
    hints.push(hintAt(view, 'one-sided-flame', strengthOf(uneven.length + darkest, 1.5), { o2, uneven: uneven.length, smoke: darkest }));
  if (airFreePpm !== undefined && airFreePpm >= CHILLED_CO_PPM && o2 >= PLENTY_O2 && smoke !== undefined) {
    if (smoke >= SMOKE_WITH_AIR)
      hints.push(hintAt(view, 'chilled-and-smoky', strengthOf(airFreePpm / CHILLED_CO_PPM + smoke, 1), { o2, airFreePpm, smoke }));
    else if (smoke < 0.5 && o2 < EXCESS_O2)
      hints.push(hintAt(view, 'co-with-air', strengthOf(airFreePpm, CHILLED_CO_PPM), { o2, airFreePpm }));
  }
  const spots = trial.smoke?.spots.filter((spot) => spot.oilTrace === true).length ?? 0;
  if (spots > 0) hints.push(hintAt(view, 'oily-spot', strengthOf(spots, 1), { spots }));
  return hints;
}

function judgedHints(view: View, { earlier }: TrialFacts): Hint[] {
  const hints: Hint[] = [];
  const { o2, smoke, airFreePpm, netStackK, dropPa } = view;
  const clean = smoke === undefined || smoke < 0.5;
  if (o2 >= EXCESS_O2 && clean && airFreePpm !== undefined && airFreePpm >= CHILLED_CO_PPM)
    hints.push(hintAt(view, 'over-aired', strengthOf(airFreePpm, CHILLED_CO_PPM), { o2, airFreePpm }));
  else if (o2 >= EXCESS_O2 && clean)
    hints.push(hintAt(view, 'plain-excess-air', strengthOf(o2 - EXCESS_O2 + 0.7, 1), { o2, ...defined({ airFreePpm }) }));
  if (o2 < LOW_O2 && ((smoke ?? 0) >= 2 || (airFreePpm ?? 0) >= 200))
    hints.push(
      hintAt(view, 'too-little-air', strengthOf(LOW_O2 - o2 + (smoke ?? 0) / 2, 1), { o2, smoke: smoke ?? 0, airFreePpm: airFreePpm ?? 0 }),
    );
  const last = earlier.find((visit) => visit.netStackK !== undefined)?.netStackK;
  const hotterThanBefore = last !== undefined && netStackK !== undefined && netStackK - last > HOTTER_THAN_BEFORE_K;
  const highDrop = dropPa !== undefined && dropPa > HIGH_DROP_PA;
  const hotFrom = highDrop ? HOT_WITH_DROP_NET_K : HOT_NET_K;
  if (netStackK !== undefined && (netStackK >= hotFrom || hotterThanBefore)) {
    const heat = hotterThanBefore ? (netStackK - last) / HOTTER_THAN_BEFORE_K : (netStackK - hotFrom) / 40 + 1;
    const figures = { netStackK, o2, ...defined({ lastNetStackK: last, dropPa }) };
    const pattern = highDrop ? 'hot-stack-high-drop' : dropPa !== undefined && dropPa < NO_DROP_PA ? 'hot-stack-no-drop' : 'hot-stack';
    hints.push(hintAt(view, pattern, strengthOf(heat + (highDrop ? dropPa / HIGH_DROP_PA - 1 : 0), 1), figures));
  } else if (dropPa !== undefined && dropPa > HIGH_DROP_PA + DROP_READS_PA)
    hints.push(hintAt(view, 'high-draft-drop', strengthOf(dropPa, HIGH_DROP_PA), { dropPa }));
  if (netStackK !== undefined && netStackK < COOL_NET_K && netStackK > 30)
    hints.push(hintAt(view, 'cool-stack', strengthOf(COOL_NET_K - netStackK, 40), { netStackK, o2 }));
  const lastDrop = earlier.find((visit) => visit.draftDropPa !== undefined)?.draftDropPa;
  if (dropPa !== undefined && lastDrop !== undefined && dropPa > lastDrop + 3 && dropPa > 1.4 * lastDrop) {
    hints.push(hintAt(view, 'draft-drop-grown', strengthOf(dropPa / Math.max(1, lastDrop) - 1, 0.4), { dropPa, lastDropPa: lastDrop }));
  }
  return hints;
}

/** The gauge against what the sheet asks for. */
function pressureHints({ trials, pumpPressureWantedPa: wanted }: TrialFacts): Hint[] {
  const last = trials.findLast((trial) => trial.pumpPa !== undefined);
  if (!last || last.pumpPa === undefined || wanted === undefined) return [];
  const off = last.pumpPa / wanted - 1;
  if (Math.abs(off) <= PRESSURE_OFF_SHARE) return [];
  return [
    {
      pattern: 'pressure-off',
      // a gauge against a sheet is the most direct of all: it stands before what follows from it
      strength: strengthOf(off, PRESSURE_OFF_SHARE / 2),
      figures: { pumpPa: last.pumpPa, wantedPa: wanted },
      trialIds: [last.id],
    },
  ];
}

const onsetHints = ({ onsetO2 }: TrialFacts): Hint[] =>
  onsetO2 === undefined || onsetO2 < LATE_ONSET_O2
    ? []
    : [{ pattern: 'late-onset', strength: strengthOf(onsetO2 - LATE_ONSET_O2 + 1, 1), figures: { onsetO2 }, trialIds: [] }];
