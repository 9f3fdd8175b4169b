import { explain, type Explanation } from '../../combustion/figures/explain.ts';
import { defaultTolerances } from '../../measurement/limits.ts';
import { formatDifference, formatNumber, formatValue, shownAs, withUnit, type UnitSystem } from '../../format/quantity.ts';
import { combustionInput } from '../../tuning/visit/before-after.ts';
import type { Trial } from '../../tuning/trial/trial.ts';
import { recordWords } from '../../words/paper/technical-record.ts';
import type { Block, Cell, Section } from '../report-model.ts';
import type { StageFacts } from '../stage-facts.ts';
import { figureText } from '../written.ts';
import type { Parts } from '../pages/page-parts.ts';

/** Every figure that was computed from the as-found and the as-left reading, with its basis; a blank one with its reason. */
export function figureSections(parts: Parts): Section[] {
  return parts.stages.flatMap((facts) => {
    const [found, left] = [explained(facts, facts.asFound), explained(facts, facts.asLeft)];
    const sections = [figureTable(found, left, parts), budgetTable(left, parts)].filter((section) => section !== undefined);
    return parts.stages.length === 1
      ? sections
      : sections.map((section) => ({ ...section, title: `${recordWords.stage(facts.stage.name)}: ${section.title.toLowerCase()}` }));
  });
}

const explained = ({ conditions }: StageFacts, trial: Trial | undefined): Explanation[] => {
  const input = trial && conditions && combustionInput(trial, conditions);
  return input === undefined ? [] : explain(input);
};

function figureTable(found: readonly Explanation[], left: readonly Explanation[], { units }: Parts): Section | undefined {
  const { columns } = recordWords;
  const keys = (left.length > 0 ? left : found).map(({ key }) => key);
  if (keys.length === 0) return undefined;
  const rows = keys.flatMap((key): Cell[][] => {
    const [before, after] = [found.find((one) => one.key === key), left.find((one) => one.key === key)];
    const any = after ?? before;
    // what is blank in both stands below, with its reason
    if (any === undefined || (before?.value === undefined && after?.value === undefined)) return [];
    return [[any.label, any.basis, figureCell(before, units), figureCell(after, units), shownAs(key, units).unit]];
  });
  return {
    title: recordWords.figures,
    blocks: [
      {
        kind: 'table',
        dense: true,
        columns: [
          { label: columns.figure, width: 106 },
          { label: columns.basis, width: 42 },
          { label: columns.found, figures: true, width: 66 },
          { label: columns.left, figures: true, width: 66 },
          { label: columns.unit, width: 58 },
        ],
        rows,
        halves: true,
      },
      ...blankNotes({ [columns.found]: found, [columns.left]: left }),
    ],
  };
}

/** Why a figure is a dash; figures and readings that share a reason stand in one sentence. */
function blankNotes(readings: Readonly<Record<string, readonly Explanation[]>>): Block[] {
  const byReason = new Map<string, { labels: Set<string>; which: Set<string> }>();
  for (const [name, all] of Object.entries(readings))
    for (const { blankText, blank, label } of all) {
      if (blankText === undefined || blank === 'no-constants-for-fuel') continue;
      const shared = byReason.get(blankText) ?? { labels: new Set(), which: new Set() };
      byReason.set(blankText, { labels: shared.labels.add(label), which: shared.which.add(name) });
    }
  return [...byReason].map(([reason, { labels, which }]) => ({
    kind: 'text',
    text: `${listed([...labels])} (${[...which].join(' and ')}): ${reason}`,
    tone: 'note',
  }));
}

/** "Acid dew point, stack loss and efficiency": only the first begins a sentence. Names such as CO and O2 stay as they are. */
const listed = (labels: readonly string[]): string =>
  [labels.slice(0, -1), labels.slice(-1)]
    .filter((some) => some.length > 0)
    .map((some, part) =>
      some
        .map((label, at) => (part + at === 0 || /^\S[A-Z\d]/.test(label) ? label : label.charAt(0).toLowerCase() + label.slice(1)))
        .join('; '),
    )
    .join(labels.length > 1 ? ' and ' : '');

function figureCell(one: Explanation | undefined, units: UnitSystem): Cell {
  if (one === undefined) return recordWords.absent;
  if (one.value === undefined) return recordWords.absent;
  if (one.expanded === undefined || one.expanded === 0) return formatValue(one.key, one.value, units);
  const { value, half } = figureText(one.key, { value: one.value, half: one.expanded }, units);
  return { text: value, half };
}

/** The tolerances that this visit was computed with: its own, or those that combustion takes without any. */
function widthsOf({ visit, units }: Parts) {
  const { o2Percent, stackK, airK, fuelPoints, coPpm, coShare } = visit.tolerances ?? defaultTolerances;
  const difference = (kelvin: number): string => formatDifference('stackTemperature', kelvin, units);
  return {
    o2: withUnit(formatPlain(o2Percent), '%'),
    stack: difference(stackK),
    air: difference(airK),
    fuel: formatPlain(fuelPoints),
    co: recordWords.coWidth(formatPlain(coPpm), formatPlain(100 * coShare)),
  };
}
const formatPlain = (value: number): string => String(Number(value.toFixed(2)));

function budgetTable(left: readonly Explanation[], parts: Parts): Section | undefined {
  const efficiency = left.find(({ key }) => key === 'efficiencyHhvPercent');
  if (efficiency?.expanded === undefined || efficiency.budget.length === 0) return undefined;
  return {
    title: recordWords.budget,
    blocks: [
      {
        kind: 'text',
        text: recordWords.contributions(
          efficiency.budget.map(({ name, u, share }) => recordWords.contribution(name, formatNumber(u, 3), formatNumber(share * 100, 0))),
        ),
      },
      { kind: 'text', text: recordWords.method(efficiency.formula, efficiency.source), tone: 'note' },
      { kind: 'text', text: recordWords.budgetNote(formatNumber(efficiency.expanded, 2), widthsOf(parts)), tone: 'note' },
    ],
  };
}
