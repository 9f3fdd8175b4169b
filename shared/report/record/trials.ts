import { formatPosition, formatSmoke, formatValue, shownAs, formatNumber, type UnitSystem } from '../../format/quantity.ts';
import { co2MaxOfAnalysis } from '../../combustion/co2-max.ts';
import { co2FromO2Percent } from '../../combustion/excess-air.ts';
import type { Fuel } from '../../combustion/fuel.ts';
import { coAirFreePpm } from '../../tuning/trial/gas-basis.ts';
import { positionOf } from '../../tuning/trial/setting.ts';
import { smokeResult } from '../../tuning/trial/smoke.ts';
import type { Trial } from '../../tuning/trial/trial.ts';
import { figureOf, type Figure } from '../../tuning/trial/trial-figures.ts';
import type { Visit } from '../../tuning/visit/visit.ts';
import { recordWords } from '../../words/paper/technical-record.ts';
import { staleWords } from '../../words/visit/steps.ts';
import type { FigureText } from '../card-format.ts';
import type { Block, Cell, Column, Section } from '../report-model.ts';
import { ruleOf, type StageFacts } from '../stage-facts.ts';
import { figureText, timesOf, trialNumber } from '../written.ts';
import type { Parts } from '../pages/page-parts.ts';

export function trialsSection({ visit, units, stages }: Parts): Section | undefined {
  if (visit.trials.length === 0) return undefined;
  const used = visit.adjusters.filter(({ name }) => visit.trials.some(({ setting }) => positionOf(setting, name) !== undefined));
  const { columns } = recordWords;
  const hasStages = visit.stages.length > 1;
  const stackUnit = shownAs('stackTemperature', units).unit;
  const byHand = visit.trials.some(({ reading }) => reading?.settled === false);
  const rows = visit.trials.map((trial) => {
    const facts = stages.find(({ stage }) => stage.name === trial.setting.stage);
    return [
      trialName(visit, trial, facts),
      ...(hasStages ? [trial.setting.stage] : []),
      ...settingCells(trial, used),
      ...gasCells(trial, facts?.conditions, units),
      smokeText(visit, trial),
      draftText(trial.draft?.overFirePa, units),
      draftText(trial.draft?.breechPa, units),
      readingText(visit, trial),
    ];
  });
  const draftUnit = shownAs('draft', units).unit;
  const { head, body } = withSharedHalves(
    [
      { label: columns.trial, width: 70 },
      ...(hasStages ? [{ label: columns.stage, width: 36 }] : []),
      ...(used.length > MOST_OWN_COLUMNS
        ? [{ label: columns.setting, width: 120 }]
        : used.map(({ name }) => ({ label: name, figures: true, width: nameWidth(name) }))),
      { label: columns.o2, figures: true, width: 46 },
      { label: columns.co2, figures: true, width: 46 },
      { label: columns.co, figures: true, width: 58 },
      { label: columns.coAirFree, figures: true, width: 44 },
      { label: columns.stack(stackUnit), figures: true, width: 46 },
      { label: columns.air(stackUnit), figures: true, width: 42 },
      { label: columns.smoke, width: 52 },
      { label: columns.overFire(draftUnit), figures: true, width: 48 },
      { label: columns.breech(draftUnit), figures: true, width: 50 },
      { label: columns.reading, width: byHand ? 98 : 76 },
    ],
    rows,
  );
  const notes = visit.trials.flatMap((trial) => trial.notes.map((note) => `${columns.trial} ${trialNumber(visit, trial.id)}: ${note}`));
  const stale = stages.flatMap((facts) =>
    [...facts.stale].map(([id, reason]) => `${columns.trial} ${trialNumber(visit, id)}: ${staleWords(reason)}`),
  );
  return {
    title: recordWords.trials,
    blocks: [
      { kind: 'table', columns: head, rows: body, dense: true },
      { kind: 'text', text: recordWords.trialsNote(co2MaxOf(stages)), tone: 'note' },
      ...(visit.co2MaxPercent === undefined ? [] : [{ kind: 'text' as const, text: recordWords.co2MaxNote, tone: 'note' as const }]),
      ...(byHand ? [{ kind: 'text', text: recordWords.byHandNote, tone: 'note' } as const] : []),
      ...[...stale, ...notes].map((text): Block => ({ kind: 'text', text, tone: 'note' })),
    ],
  };
}

const co2MaxOf = ([first]: Parts['stages']): string | undefined => first?.conditions && co2MaxText(first.conditions.fuel);

/** With where it came from. */
export const co2MaxText = (fuel: Fuel): string =>
  recordWords.co2MaxFrom(
    formatNumber(fuel.stoichiometry.co2MaxPercent, 1),
    fuel.co2MaxSetPercent === undefined ? undefined : formatNumber(co2MaxOfAnalysis(fuel), 1),
  );

/** wide enough for the name in one piece, up to a point: names are anybody's */
const nameWidth = (name: string): number => Math.min(72, Math.max(40, name.length * 5.6 + 10));

/** more adjusters than these share one column */
const MOST_OWN_COLUMNS = 2;

function settingCells({ setting }: Trial, used: Visit['adjusters']): string[] {
  const positions = used.map(({ name }) => {
    const position = positionOf(setting, name);
    return { name, text: position === undefined ? recordWords.absent : formatPosition(position) };
  });
  return used.length > MOST_OWN_COLUMNS
    ? [positions.map(({ name, text }) => `${name} ${text}`).join(', ')]
    : positions.map(({ text }) => text);
}

/** A ± that is the same for a whole column stands in its head alone. */
export function withSharedHalves(
  columns: readonly Column[],
  rows: readonly (readonly Cell[])[],
): { readonly head: Column[]; readonly body: readonly (readonly Cell[])[] } {
  const halfOf = (cell: Cell | undefined): string | undefined => (typeof cell === 'object' ? cell.half : undefined);
  const isFigure = (cell: Cell | undefined): boolean => cell !== undefined && cell !== recordWords.absent;
  const shared = columns.map((_, index) => {
    const halves = new Set(
      rows
        .map((row) => row[index])
        .filter(isFigure)
        .map(halfOf),
    );
    return halves.size === 1 ? [...halves][0] : undefined;
  });
  return {
    head: columns.map((column, index) => (shared[index] === undefined ? column : { ...column, half: shared[index] })),
    body: rows.map((row) =>
      row.map((cell, index): Cell => (shared[index] === undefined || typeof cell === 'string' ? cell : { ...cell, half: undefined })),
    ),
  };
}

function trialName(visit: Visit, trial: Trial, facts: StageFacts | undefined): Cell {
  const { marks } = recordWords;
  const tags = [
    facts?.asFound?.id === trial.id ? marks.asFound : undefined,
    facts?.asLeft?.id === trial.id ? marks.asLeft : undefined,
    facts?.stale.has(trial.id) === true ? marks.stale : undefined,
    trial.inferred === true ? marks.inferred : undefined,
  ].filter((tag) => tag !== undefined);
  const number = String(trialNumber(visit, trial.id));
  return {
    text: tags.length === 0 ? number : `${number}, ${tags.join(', ').replaceAll(' ', '\u00a0')}`,
    strong: facts?.asLeft?.id === trial.id,
  };
}

function gasCells(trial: Trial, conditions: StageFacts['conditions'], units: UnitSystem): Cell[] {
  const [o2, co] = [figureOf(trial, 'o2'), figureOf(trial, 'co')];
  const shown = (channel: 'o2' | 'co' | 'stackTemperature' | 'airTemperature'): Cell => {
    const figure = figureOf(trial, channel);
    return figure === undefined
      ? recordWords.absent
      : cellOf(figureText(channel, { value: figure.mean, half: 2 * Math.hypot(figure.random, figure.common) }, units));
  };
  const airFree = o2 && co && coAirFreePpm(co.mean, o2.mean);
  return [
    shown('o2'),
    co2Text(o2, conditions, units),
    shown('co'),
    airFree === undefined ? recordWords.absent : formatNumber(airFree, 0),
    shown('stackTemperature'),
    shown('airTemperature'),
  ];
}

/** Of complete combustion of this fuel; its half-width is that of O2, carried along the straight relation. */
function co2Text(o2: Figure | undefined, conditions: StageFacts['conditions'], units: UnitSystem): Cell {
  if (o2 === undefined || conditions === undefined) return recordWords.absent;
  const { stoichiometry } = conditions.fuel;
  const at = (percent: number): number => co2FromO2Percent(stoichiometry, percent);
  const half = 2 * Math.hypot(o2.random, o2.common);
  return cellOf(figureText('co2Percent', { value: at(o2.mean), half: at(o2.mean) - at(o2.mean + half) }, units));
}

const cellOf = ({ value, half }: FigureText): Cell => ({ text: value, half });

/** Every spot stands on paper, the flawed ones with their flaw; the mean behind them when there are several. */
export function smokeText(visit: Visit, { smoke }: Trial): string {
  if (smoke === undefined) return recordWords.absent;
  if (smoke.spots.length === 0) return smoke.notTaken === true ? recordWords.smokeNotTaken : recordWords.absent;
  const spots = smoke.spots.map(({ number, flaw, oilTrace }) =>
    [formatSmoke(number), flaw && recordWords[flaw], oilTrace === true ? recordWords.oil : undefined].filter(Boolean).join(' '),
  );
  const { number, usableSpots } = smokeResult(smoke.spots, ruleOf(visit));
  return usableSpots > 1 && number !== undefined ? `${spots.join(', ')}; by the rule ${formatSmoke(number)}` : spots.join(', ');
}

const draftText = (pa: number | undefined, units: UnitSystem): string =>
  pa === undefined ? recordWords.absent : formatValue('draft', pa, units);

function readingText(visit: Visit, { reading, runId }: Trial): string {
  if (reading === undefined) return recordWords.readings.none;
  const times = timesOf(visit);
  const at = times.ofRun(runId, reading.takenMs);
  const kind = reading.settled ? recordWords.readings[reading.scope] : recordWords.readingByHand;
  return at === undefined ? kind : `${kind} ${times.clock(at)}`.replaceAll(' ', '\u00a0');
}
