/** Why each column is what it is, and what was ruled out and why: the evidence that the lines gave. */
import type { ShownColumn } from '../../../../shared/ipc/run-info.ts';
import { evidence as words, placeWord, question } from '../../../../shared/words/lines/learning.ts';
import { takenWords, whyOpen, whyRuledOut, whyTaken } from '../../../../shared/words/lines/column-reasons.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { SurenessSign } from '../questions/ColumnQuestion.tsx';
import '../questions/ColumnQuestion.css';
import '../lines.css';

export function Evidence({ columns }: { columns: readonly ShownColumn[] }) {
  if (columns.length === 0) return null;
  return (
    <details className="recipe-more">
      <summary>{words.title}</summary>
      <div className="recipe-more-body">
        <table className="column-table">
          <caption className="hidden-text">{words.title}</caption>
          <tbody>
            {columns.map((column) => {
              const taken =
                column.taken === undefined ? question.notUsed : column.taken === 'time' ? question.clock : takenWords[column.taken];
              const why = [whyTaken(column), whyOpen(column)].filter((text) => text !== '').join('; ');
              const out = whyRuledOut(column);
              return (
                <tr key={JSON.stringify(column.at)}>
                  <td>
                    <SurenessSign sureness={column.sureness} />
                  </td>
                  <th scope="row">
                    {placeWord(column.at)} {typeof column.at === 'number' ? column.name : ''}
                  </th>
                  <td>
                    <ChannelName text={taken} />
                    {why === '' ? '' : ': '}
                    <ChannelName text={why} />
                    {out !== '' && (
                      <div className="second">
                        {words.ruledOut} <ChannelName text={out} />
                      </div>
                    )}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </details>
  );
}
