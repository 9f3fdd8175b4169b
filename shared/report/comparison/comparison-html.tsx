/** Several visits of one burner on one sheet, each as it was left. */
import { formatIsoDay } from '../../format/date.ts';
import { flowText, formatPosition, type UnitSystem } from '../../format/quantity.ts';
import type { Appliance } from '../../tuning/visit/appliance.ts';
import { positionOf } from '../../tuning/trial/setting.ts';
import type { CardQuantity } from '../../tuning/card/target-card.ts';
import type { Visit } from '../../tuning/visit/visit.ts';
import { isWatermarked } from '../../tuning/visit/visit-marks.ts';
import { compareNote } from '../../words/visit/since-last.ts';
import { reportWords } from '../../words/paper/page-one.ts';
import { comparisonWords as words } from '../../words/paper/comparison.ts';
import { quantityWords } from '../../words/visit/target-card.ts';
import { cardFigureText, cardUnit, type FigureText } from '../card-format.ts';
import { compareNotes, visitFigures, type VisitFigures } from './compare-visits.ts';
import { Words } from '../drawings/Drawing.tsx';
import { PageHead } from '../page/FirstPage.tsx';
import { FigureWords } from '../page/FigureWords.tsx';
import { pageFile } from '../page/page-file.ts';
import { Sheet } from '../page/Sheet.tsx';
import { reportStyle, type Paper, type ReportFonts } from '../pages/report-style.ts';
import { timesOf } from '../written.ts';

export type ComparisonInput = {
  /** in any order; corrections are read from their edits */
  readonly visits: readonly Visit[];
  readonly appliance?: Appliance | undefined;
  readonly units: UnitSystem;
};

const shown = [
  'o2Percent',
  'coPpm',
  'coAirFreePpm',
  'netStackK',
  'efficiencyHhvPercent',
  'smokeNumber',
  'overFirePa',
  'breechPa',
] as const satisfies CardQuantity[];

/** More visits than these stand in a second table below. */
const IN_A_ROW = 5;

export function comparisonHtml(input: ComparisonInput, { paper, fonts }: { paper: Paper; fonts: ReportFonts }): string {
  const tape = input.visits.some(isWatermarked) ? words.tape : undefined;
  const foot = { cautions: reportWords.foot, run: '' };
  return pageFile({
    title: words.title,
    style: reportStyle({ paper, fonts, tape, foot, page: { page: reportWords.page, of: reportWords.of } }),
    body: <ComparisonPages input={input} tape={tape} foot={foot} />,
  });
}

type PagesProps = { input: ComparisonInput; tape: string | undefined; foot: { cautions: string; run: string } };

function ComparisonPages({ input: { visits, appliance, units }, tape, foot }: PagesProps) {
  const inOrder = [...visits].sort((one, other) => one.startedWallMs - other.startedWallMs).map(visitFigures);
  const groups = Array.from({ length: Math.ceil(inOrder.length / IN_A_ROW) }, (_, index) =>
    inOrder.slice(index * IN_A_ROW, (index + 1) * IN_A_ROW),
  );
  const due = appliance?.nextDue;
  return (
    <main>
      <Sheet name="record" tape={tape} foot={foot}>
        <PageHead
          title={words.title}
          about={appliance?.name ?? reportWords.noAppliance}
          side={due === undefined ? [] : [words.due(formatIsoDay(due))]}
        />
        {groups.map((group, index) => (
          <VisitTable key={index} visits={group} units={units} />
        ))}
        {inOrder.slice(1).flatMap((visit, index) => {
          const before = inOrder[index]!;
          // who did not sign stands in the head of the column
          return compareNotes(before, visit)
            .filter(({ key }) => key !== 'not-signed')
            .map((note, at) => (
              <p key={`${index} ${at}`} className="block note">
                <Words text={compareNote(note, [before.visit.number, visit.visit.number], (litres) => flowText(litres, units))} />
              </p>
            ));
        })}
        <p className="block note">
          <Words text={words.note} />
        </p>
      </Sheet>
    </main>
  );
}

type Row = { readonly label: string; readonly unit: string; readonly cells: readonly (FigureText | undefined)[] };

function rowsOf(visits: readonly VisitFigures[], units: UnitSystem): Row[] {
  const names = [...new Set(visits.flatMap(({ visit }) => visit.adjusters.map(({ name }) => name)))];
  const settings = names.map((name): Row => ({
    label: name.charAt(0).toUpperCase() + name.slice(1),
    unit: '',
    cells: visits.map(({ leftTrial }) => {
      const value = leftTrial && positionOf(leftTrial.setting, name);
      return value === undefined ? undefined : { value: formatPosition(value) };
    }),
  }));
  const figures = shown.map((quantity): Row => ({
    label: quantityWords[quantity],
    unit: cardUnit(quantity, units),
    cells: visits.map(({ left }) => cardFigureText(quantity, left[quantity], units)),
  }));
  return [...settings, ...figures].filter(({ cells }) => cells.some((cell) => cell !== undefined));
}

function VisitTable({ visits, units }: { visits: readonly VisitFigures[]; units: UnitSystem }) {
  const share = 75 / IN_A_ROW;
  return (
    <table className="block dense comparison">
      <colgroup>
        <col style={{ width: `${100 - share * IN_A_ROW}%` }} />
        {Array.from({ length: IN_A_ROW }, (_, index) => (
          <col key={index} style={{ width: `${share}%` }} />
        ))}
      </colgroup>
      <thead>
        <tr>
          <th scope="col">{words.asLeft}</th>
          {visits.map(({ visit }) => (
            <th key={visit.id} scope="col" className="r">
              <span className="figure">{timesOf(visit).day(visit.startedWallMs)}</span>
              <br />
              {reportWords.visit(visit.number)}
              {visit.signature === undefined && (
                <>
                  <br />
                  {isWatermarked(visit) ? words.training : words.unsigned}
                </>
              )}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rowsOf(visits, units).map(({ label, unit, cells }) => (
          <tr key={label}>
            <th scope="row">
              <b>
                <Words text={label} />
              </b>{' '}
              {unit}
            </th>
            {cells.map((cell, index) => (
              <td key={index} className="r">
                {cell === undefined ? '–' : <FigureWords figure={cell} />}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
