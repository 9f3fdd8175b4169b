import { csvRow } from '../../../../shared/format/csv.ts';
import { classOverview, type CallResult } from '../../../../shared/warm-up/call-it.ts';
import { warmUp } from '../../../../shared/words/warm-up.ts';
import { useApp } from '../../../app-parts.ts';
import { saveText } from '../../../backend/save-text.ts';
import { Dialog } from '../../../components/Dialog.tsx';
import { ClassCurve } from './ClassCurve.tsx';
import type { Kept } from '../use-documents.ts';
import { formatDate, formatDuration } from '../../../../shared/format/duration.ts';
import { DASH, formatNumber } from '../../../../shared/format/quantity.ts';
import '../warm-up.css';
import './call-it.css';

const NEWEST = 12;

const timing = (earlyS: number | undefined): string =>
  earlyS === undefined
    ? DASH
    : earlyS > 0
      ? warmUp.meanEarly(formatDuration(earlyS * 1000))
      : warmUp.meanLate(formatDuration(-earlyS * 1000));
const points = (value: number): string => formatNumber(value, 1);

/** Scores per trainee, best first, and the last calls with what they would have cost. */
export function ClassOverview({ calls, close }: { calls: readonly Kept<CallResult>[]; close: () => void }) {
  const style = useApp((state) => state.settings.csv.separator);
  const results = calls.map(({ body }) => body).sort((a, b) => b.wallMs - a.wallMs);
  const words = warmUp.classColumns;
  const last = warmUp.callsColumns;
  const right = (trainee: string): string => {
    const asked = results.filter((one) => one.trainee === trainee && one.patternRight !== undefined);
    return asked.length === 0 ? DASH : `${asked.filter(({ patternRight }) => patternRight).length}/${asked.length}`;
  };
  const save = (): void => {
    const rows = [
      csvRow(
        ['Trainee', 'Exercise', 'Called [s]', 'Ready [s]', 'Too early [s]', 'O2 [%]', 'Stack [K]', 'Efficiency [points]', 'Points'],
        style,
      ),
      ...results.map((one) =>
        csvRow(
          [
            one.trainee,
            one.exercise,
            one.calledMs / 1000,
            one.readyMs === undefined ? undefined : one.readyMs / 1000,
            one.earlyS,
            one.costO2,
            one.costStackK,
            one.costEfficiencyPoints,
            one.points,
          ],
          style,
        ),
      ),
    ];
    saveText('call-it-class.csv', rows.join(''));
  };
  return (
    <Dialog
      title={warmUp.classTitle}
      close={close}
      wide
      foot={
        <>
          <span className="grow" />
          <button type="button" className="button" disabled={results.length === 0} onClick={save}>
            {warmUp.classSave}
          </button>
        </>
      }
    >
      <p className="second">{results.length === 0 ? warmUp.classEmpty : warmUp.classAbout}</p>
      {results.length > 0 && (
        <>
          <table className="class-table">
            <caption className="hidden-text">{warmUp.classTitle}</caption>
            <thead>
              <tr>
                <th scope="col">{words.trainee}</th>
                <th scope="col" className="right">
                  {words.points}
                </th>
                <th scope="col" className="right">
                  {words.calls}
                </th>
                <th scope="col" className="right">
                  {words.early}
                </th>
                <th scope="col" className="right">
                  {words.pattern}
                </th>
                <th scope="col">{words.mean}</th>
              </tr>
            </thead>
            <tbody>
              {classOverview(results).map((row) => (
                <tr key={row.trainee}>
                  <th scope="row">{row.trainee}</th>
                  <td className="right num">{points(row.points)}</td>
                  <td className="right num">{row.calls}</td>
                  <td className="right num">{row.tooEarly}</td>
                  <td className="right num">{right(row.trainee)}</td>
                  <td>{timing(row.meanEarlyS)}</td>
                </tr>
              ))}
            </tbody>
          </table>
          <ClassCurve results={results} timing={timing} />
          <h3>{warmUp.callsTitle}</h3>
          <table className="class-table">
            <caption className="hidden-text">{warmUp.callsTitle}</caption>
            <thead>
              <tr>
                <th scope="col">{last.when}</th>
                <th scope="col">{last.trainee}</th>
                <th scope="col">{last.exercise}</th>
                <th scope="col">{last.call}</th>
                <th scope="col" className="right">
                  {last.error}
                </th>
                <th scope="col" className="right">
                  {last.points}
                </th>
              </tr>
            </thead>
            <tbody>
              {results.slice(0, NEWEST).map((one) => (
                <tr key={`${one.wallMs} ${one.trainee}`}>
                  <td>{formatDate(one.wallMs, 0)}</td>
                  <td>{one.trainee}</td>
                  <td>{one.exercise}</td>
                  <td>{timing(one.earlyS)}</td>
                  <td className="right num">{one.costEfficiencyPoints === undefined ? DASH : formatNumber(one.costEfficiencyPoints, 1)}</td>
                  <td className="right num">{points(one.points)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
    </Dialog>
  );
}
