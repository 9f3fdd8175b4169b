import { Words } from '../drawings/Drawing.tsx';
import { VerdictSign } from '../drawings/VerdictSign.tsx';
import type { NotSafe } from '../report-model.ts';
import { notSafeWords as words } from '../../words/records/not-safe.ts';
import { FigureWords } from './FigureWords.tsx';

/** CSS pixels of 672, the narrower of the two papers */
const widths = [36, 272, 116, 188, 60] as const;

/** What is known with its times, how the burner was left, what comes before it runs again. */
export function NotSafeParts({ page: { known, left, before } }: { page: NotSafe }) {
  return (
    <>
      <h3>{words.known}</h3>
      <table className="known">
        <colgroup>
          {widths.map((width) => (
            <col key={width} style={{ width: `${((100 * width) / 672).toFixed(2)}%` }} />
          ))}
        </colgroup>
        <thead>
          <tr>
            <td />
            <td />
            <td />
            <th scope="col">{words.limit}</th>
            <th scope="col" className="r">
              {words.when}
            </th>
          </tr>
        </thead>
        <tbody>
          {known.map(({ sign, name, value, unit, limit, when }, index) => (
            <tr key={index}>
              <td>
                <VerdictSign verdict={sign} size={24} />
              </td>
              <th scope="row" className="b" colSpan={value === undefined ? 3 : 1}>
                <Words text={name} />
              </th>
              {value !== undefined && (
                <>
                  <td className="r v">
                    <FigureWords figure={value} /> {unit !== '' && <i>{unit}</i>}
                  </td>
                  <td>
                    <Words text={limit} />
                  </td>
                </>
              )}
              <td className="r n2">{when}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <h3>{words.left}</h3>
      <ul className="left">
        {left.map(({ name, about, when }) => (
          <li key={name}>
            <b>
              <VerdictSign verdict="pass" size={22} /> {name}
            </b>
            <span>
              <Words text={about} />
            </span>
            <span className="n2">{when}</span>
          </li>
        ))}
      </ul>
      <h3>{words.before}</h3>
      <ol className="before">
        {before.map((line) => (
          <li key={line}>
            <Words text={line} />
          </li>
        ))}
      </ol>
    </>
  );
}
