import { formatDay } from '../../../../shared/format/date.ts';
import {
  compareNotes,
  compareRows,
  compareStory,
  type CompareRow,
  type VisitFigures,
} from '../../../../shared/report/comparison/compare-visits.ts';
import { flowText, type UnitSystem } from '../../../../shared/format/quantity.ts';
import type { FigureText } from '../../../../shared/report/card-format.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import type { CompareNote } from '../../../../shared/tuning/visit/since-last.ts';
import { compareNote } from '../../../../shared/words/visit/since-last.ts';
import { useApp } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import '../records.css';
import './visit.css';

const FigureCell = ({ figure, strong = false }: { figure: FigureText | undefined; strong?: boolean }) => (
  <td className={`right number${strong ? '' : ' second'}`}>
    {figure === undefined ? (
      <span className="third">–</span>
    ) : (
      <>
        {figure.value} {figure.half !== undefined && <span className="plus-minus">{figure.half}</span>}
      </>
    )}
  </td>
);

/** As-left of an earlier visit against this one; a difference inside its uncertainty is a sentence, not a number. */
export function Comparison({
  a,
  b,
  others,
  compareWith,
}: {
  a: VisitFigures | undefined;
  b: VisitFigures;
  others: readonly VisitFigures[];
  compareWith: (id: string) => void;
}) {
  const units = useApp((state) => state.settings.units);
  const rows = compareRows(a, b, units);
  const [bold, plain] = compareStory(a, b);
  const when = ({ visit }: VisitFigures): string =>
    `${words.visit(visit.number).toLowerCase()}, ${formatDay(visit.startedWallMs, visit.zoneMinutes)}`;
  const choices = others.filter(({ visit }) => visit.id !== b.visit.id);
  return (
    <section className="records-compare">
      <table className="tight" aria-label={words.compareTable}>
        <thead>
          <tr>
            <th scope="col">
              <span className="hidden-text">{words.columns.figure}</span>
            </th>
            {a !== undefined && (
              <th scope="col" className="right">
                <b>{words.columns.a}</b>
                <br />
                {choices.length < 2 ? (
                  when(a)
                ) : (
                  <select aria-label={words.columns.a} value={a.visit.id} onChange={(event) => compareWith(event.target.value)}>
                    {choices.map((one) => (
                      <option key={one.visit.id} value={one.visit.id}>
                        {when(one)}
                      </option>
                    ))}
                  </select>
                )}
              </th>
            )}
            <th scope="col" className="right">
              <b>{a === undefined ? words.columns.oneFound : words.columns.found}</b>
              <br />
              {when(b)}
            </th>
            <th scope="col" className="right">
              <b>{a === undefined ? words.columns.oneLeft : words.columns.left}</b>
              <br />
              {when(b)}
            </th>
            {a !== undefined && (
              <th scope="col" className="right">
                {words.columns.difference}
              </th>
            )}
            <th scope="col" className="unit-column">
              {words.columns.unit}
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <Row key={row.label} row={row} compares={a !== undefined} />
          ))}
        </tbody>
      </table>
      <p className="records-story">
        <b>{bold}</b> {plain}
      </p>
      {a !== undefined && <Notes notes={compareNotes(a, b)} numbers={[a.visit.number, b.visit.number]} units={units} />}
    </section>
  );
}

function Notes({ notes, numbers: [a, b], units }: { notes: CompareNote[]; numbers: [number, number]; units: UnitSystem }) {
  if (notes.length === 0) return null;
  return (
    <ul className="since-notes">
      {notes.map((note, at) => (
        <li key={at} className="second">
          {compareNote(note, [a, b], (litres) => flowText(litres, units))}
        </li>
      ))}
    </ul>
  );
}

function Row({ row, compares }: { row: CompareRow; compares: boolean }) {
  return (
    <tr>
      <th scope="row">
        <ChannelName text={row.label} />
      </th>
      {compares && <FigureCell figure={row.a} strong />}
      <FigureCell figure={row.found} />
      <FigureCell figure={row.left} strong />
      {compares && (
        <td className={`right unwrapped${row.difference?.clear === true ? ' bold' : ' second'}`}>{row.difference?.text ?? ''}</td>
      )}
      <td className="second unit-column">{row.unit}</td>
    </tr>
  );
}
