import { formatNumber } from '../../format/quantity.ts';
import { o2PointsFromCo2Points } from '../../tuning/curve/reserve.ts';
import { formatsFor } from '../../words/formats.ts';
import { reportWords } from '../../words/paper/page-one.ts';
import { recordWords } from '../../words/paper/technical-record.ts';
import { beforeAfterWords, echoWords } from '../../words/visit/before-after.ts';
import { approachWords, onsetWords, windowWords } from '../../words/visit/smoke-and-window.ts';
import { cardTable } from '../card-table.ts';
import { curvePicture } from '../curve-picture.ts';
import type { Block, Section } from '../report-model.ts';
import { FIRST_RESERVE_CO2_POINTS, type StageFacts } from '../stage-facts.ts';
import { isNotSafePage } from '../pages/not-safe.ts';
import type { Parts } from '../pages/page-parts.ts';
import { whenDefined } from '../../defined.ts';

/** What the curve says in words; the drawing of the first stage stands on page 1 (of a burner left off: here), those of further stages here, with their own limits. */
export function curveSections(parts: Parts): Section[] {
  const { stages, main } = parts;
  return stages.flatMap((facts) => {
    const words = curveWords(facts, parts);
    const own = facts !== main ? ownPage(facts, parts) : isNotSafePage(parts) ? picture(facts, parts) : [];
    if (words.length + own.length === 0) return [];
    const title = stages.length > 1 ? `${recordWords.stage(facts.stage.name)}: ${recordWords.curve.toLowerCase()}` : recordWords.curve;
    return [{ title, blocks: [...own, ...words] }];
  });
}

const ownPage = (facts: StageFacts, parts: Parts): Block[] => [
  { kind: 'card', card: cardTable(parts.visit, facts, parts.units) },
  ...picture(facts, parts),
];

const picture = (facts: StageFacts, { visit, simulated }: Parts): Block[] =>
  whenDefined(curvePicture(visit, facts, simulated), (picture) => ({ kind: 'air-curve' as const, picture }));

function curveWords({ curve, approach, echo, saving, stage, conditions }: StageFacts, { units }: Parts): Block[] {
  const f = formatsFor(units);
  const lines: string[] = [];
  if (curve && curve.points.length > 0) {
    lines.push(onsetWords(curve.onset, f));
    const reserve = stage.reserveCo2Points ?? FIRST_RESERVE_CO2_POINTS;
    if (conditions)
      lines.push(
        recordWords.reserveChosen(
          formatNumber(reserve, 1),
          formatNumber(o2PointsFromCo2Points(reserve, conditions.fuel.stoichiometry.co2MaxPercent), 1),
        ),
      );
    if (curve.window) lines.push(windowWords(curve.window, f));
    if (approach && approach !== 'not-known') lines.push(approachWords[approach]);
  } else if (curve) lines.push(reportWords.noCurve);
  if (stage.asLeftReason !== undefined) lines.push(stage.asLeftReason);
  if (echo) lines.push(echoWords(echo, f));
  if (saving !== undefined) lines.push(beforeAfterWords(saving, f));
  return lines.length === 0 ? [] : [{ kind: 'text', text: lines.join(' ') }];
}
