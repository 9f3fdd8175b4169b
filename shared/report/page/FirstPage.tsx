import { AirCurveDrawing } from '../drawings/AirCurveDrawing.tsx';
import { Words } from '../drawings/Drawing.tsx';
import { LossBar } from '../drawings/LossBar.tsx';
import { VerdictSign } from '../drawings/VerdictSign.tsx';
import { MISSING_LETTERS_CLASS } from '../other-scripts.ts';
import type { PageOne } from '../report-model.ts';
import { reportWords } from '../../words/paper/page-one.ts';
import { geometryReport } from '../../words/paper/geometry-sheet.ts';
import { CardTableView } from './CardTableView.tsx';
import { NotSafeParts } from './NotSafeParts.tsx';

/** The tune-up: one sentence, the card, the curve, what was left, what it saves, how it was found, who signed. Of a burner left off: why. */
export function FirstPage({ page }: { page: PageOne }) {
  return (
    <>
      <PageHead title={page.title} about={page.visitLine} side={page.side} />
      <section className={`verdict ${page.verdict.shape}`}>
        <VerdictSign verdict={page.verdict.shape} size={40} />
        <div>
          <h2>
            <Words text={page.verdict.headline} />
          </h2>
          <p>
            <Words text={page.verdict.about} />
          </p>
        </div>
      </section>
      {page.notSafe === undefined ? (
        <TuneUp page={page} />
      ) : (
        <>
          <NotSafeParts page={page.notSafe} />
          <div className="held">
            <CardTableView card={page.card} level={3} />
            <Signed signature={page.signature} />
          </div>
        </>
      )}
    </>
  );
}

function TuneUp({ page }: { page: PageOne }) {
  return (
    <>
      <CardTableView card={page.card} level={3} />
      <div className="pair">
        <div>
          <h3>{page.curveTitle}</h3>
          {page.curve === undefined ? (
            <p className="note">
              <Words text={reportWords.noCurve} />
            </p>
          ) : (
            <AirCurveDrawing picture={page.curve} place="paper" />
          )}
          {page.curveNote !== undefined && (
            <p className="note">
              <Words text={page.curveNote} />
            </p>
          )}
        </div>
        <div>
          <h3>{reportWords.settingTitle}</h3>
          <Settings rows={page.setting} />
          {page.geometry !== undefined && (
            <p className="note">
              <Words text={geometryReport.onPage1(page.geometry)} />
            </p>
          )}
          <Saving saving={page.saving} />
        </div>
      </div>
      {/* a name alone on a page signs nothing */}
      <div className="held">
        <Terms terms={page.terms} note={page.termsNote} />
        <Signed signature={page.signature} />
      </div>
    </>
  );
}

export function PageHead({ title, about, side }: { title: string; about: string; side: readonly string[] }) {
  return (
    <header className="head">
      <div>
        <h1>{title}</h1>
        <p className="n2">{about}</p>
        <p className={MISSING_LETTERS_CLASS} hidden />
      </div>
      <div className="side">
        {side.map((line, index) => (
          <p key={index}>
            <Words text={line} />
          </p>
        ))}
      </div>
    </header>
  );
}

function Settings({ rows }: { rows: PageOne['setting'] }) {
  if (rows.length === 0) return <p className="note">{reportWords.noSetting}</p>;
  return (
    <table className="setting">
      <colgroup>
        {[34, 29, 37].map((width) => (
          <col key={width} style={{ width: `${width}%` }} />
        ))}
      </colgroup>
      <tbody>
        {rows.map(({ name, was, left }, index) => (
          <tr key={index}>
            <th scope="row" className="b">
              {name}
            </th>
            <td className="n2 r">{was}</td>
            <td className="b r">{left}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** The large figure begins the sentence; the sentence itself is whole for who hears it read out. */
function Saving({ saving: { figure, text, more } }: { saving: PageOne['saving'] }) {
  return (
    <div className="saving">
      <h3>{reportWords.savingTitle}</h3>
      <p>
        {figure !== undefined && (
          <b className="figure">
            {[figure.value, figure.half].filter(Boolean).join(' ')}
            {'\u2009%'}
          </b>
        )}
        <Words text={figure === undefined ? text : text.slice(text.indexOf('%') + 1)} />
      </p>
      {more !== undefined && (
        <p>
          <Words text={more.replace(/ (±\S+) (?=gallons|litres|kg)/g, '\u00a0$1\u00a0')} />
        </p>
      )}
    </div>
  );
}

function Terms({ terms, note }: { terms: PageOne['terms']; note: string }) {
  return (
    <section className="terms">
      <h3>{reportWords.termsTitle}</h3>
      {terms !== undefined && (
        <>
          <ul>
            {terms.columns.map(({ label, value }, index) => (
              <li key={index}>
                <b>{value}</b>
                <span>{label}</span>
              </li>
            ))}
          </ul>
          <LossBar picture={terms.bar} />
        </>
      )}
      <p className="note">
        <Words text={note} />
      </p>
    </section>
  );
}

function Signed({ signature: { technician, time, state, hash } }: { signature: PageOne['signature'] }) {
  return (
    <section className="sign">
      <div>
        <div className="ln">{technician}</div>
        {reportWords.signTechnician}
      </div>
      <div>
        <div className="ln">{time}</div>
        {reportWords.signDate}
      </div>
      <div>
        <b>{state}</b>
        {hash !== undefined && <div className="mono">{hash}</div>}
      </div>
    </section>
  );
}
