import type { FigureText } from '../card-format.ts';
import { Words } from '../drawings/Drawing.tsx';
import { VerdictScale } from '../drawings/VerdictScale.tsx';
import { VerdictSign } from '../drawings/VerdictSign.tsx';
import type { CardRow, CardTable } from '../report-model.ts';
import { reportWords } from '../../words/paper/page-one.ts';
import { FigureWords } from './FigureWords.tsx';

const MANY_ROWS = 7;
/** CSS pixels of 672, the narrower of the two papers */
const widths = { judged: [136, 112, 112, 131, 94, 87], plain: [330, 171, 171] } as const;
/** wide enough for a pin to be told from its limit */
const SCALE = 88;
const { columns } = reportWords;

/** As-found and as-left against the card: what it is, two figures, the limit with its source, the scale, the verdict. */
export function CardTableView({ card: { title, rows, notes, tight, foundOnly = false }, level }: { card: CardTable; level: 2 | 3 }) {
  const Heading = `h${level}` as const;
  const judged = rows.some(({ limit }) => limit !== undefined);
  const shares = (judged ? widths.judged : widths.plain).filter((_, index) => !foundOnly || index !== 2);
  const total = shares.reduce((sum: number, one) => sum + one, 0);
  return (
    <>
      <Heading>
        <Words text={title} />
      </Heading>
      {rows.length > 0 && (
        <table className={`card${tight === true || rows.length > MANY_ROWS ? ' tight' : ''}`}>
          <colgroup>
            {shares.map((width, index) => (
              <col key={index} style={{ width: `${((100 * width) / total).toFixed(2)}%` }} />
            ))}
          </colgroup>
          <thead>
            <tr>
              <td />
              <th scope="col" className="r">
                {columns.found}
              </th>
              {!foundOnly && (
                <th scope="col" className="r">
                  {columns.left}
                </th>
              )}
              {judged && (
                <>
                  <th scope="col" className="limit">
                    {columns.limit}
                  </th>
                  <td />
                  <th scope="col">{columns.verdict}</th>
                </>
              )}
            </tr>
          </thead>
          <tbody>
            {rows.map((row, index) => (
              <Row key={index} row={row} judged={judged} foundOnly={foundOnly} />
            ))}
          </tbody>
        </table>
      )}
      <p className="note">
        <Words text={notes.join(' ')} />
      </p>
    </>
  );
}

function Row({
  row: { label, basis, unit, found, left, limit, verdict },
  judged,
  foundOnly,
}: {
  row: CardRow;
  judged: boolean;
  foundOnly: boolean;
}) {
  const value = (figure: FigureText | undefined) =>
    figure === undefined ? <span className="note">{reportWords.notTaken}</span> : <FigureWords figure={figure} />;
  return (
    <tr>
      <th scope="row">
        <b>
          <Words text={label} />
        </b>
        <span className="basis">
          <Words text={[unit, basis].filter(Boolean).join(' · ')} />
        </span>
      </th>
      <td className="v n2">{value(found)}</td>
      {!foundOnly && <td className="v b">{value(left)}</td>}
      {judged && (
        <>
          <td className="limit">
            {limit !== undefined && (
              <>
                <span className="figure">{limit.text}</span>
                <small>
                  <Words text={limit.source.replace(/\bp (?=\d)/g, 'p\u00a0')} />
                </small>
              </>
            )}
          </td>
          <td>{limit?.scale !== undefined && <VerdictScale picture={limit.scale} width={SCALE} />}</td>
          <td className="verdict-cell">
            {verdict !== undefined && (
              <div>
                <VerdictSign verdict={verdict.shape} size={22} />
                <b>{verdict.word}</b>
              </div>
            )}
          </td>
        </>
      )}
    </tr>
  );
}
