/** The certificate's page, for screen and paper, in the look of the report. No script, nothing loaded from elsewhere. */
import type { ReactNode } from 'react';
import type { Verdict } from '../../bench/results/test-result.ts';
import type { CardVerdict } from '../../tuning/card/target-card.ts';
import { bench } from '../../words/bench/bench.ts';
import type { Certificate, CertificateRow } from './bench-certificate.ts';
import { Words } from '../drawings/Drawing.tsx';
import { VerdictScale } from '../drawings/VerdictScale.tsx';
import { VerdictSign } from '../drawings/VerdictSign.tsx';
import { PageHead } from '../page/FirstPage.tsx';
import { pageFile } from '../page/page-file.ts';
import { Sheet } from '../page/Sheet.tsx';
import { reportStyle, type Paper, type ReportFonts } from '../pages/report-style.ts';

const words = bench.certificate;
const shapeOf = (verdict: Verdict): CardVerdict =>
  verdict === 'conditional' ? 'too-close' : verdict === 'not-judged' ? 'not-known' : verdict;

const certificateStyle = (certificate: Certificate, { paper, fonts }: { paper: Paper; fonts: ReportFonts }): string =>
  `${reportStyle({ paper, fonts, tape: certificate.tape, foot: { cautions: words.holds, run: certificate.hash.slice(0, 16) }, page: { page: words.pageWord, of: words.of } })}
main h2{margin:10px 0 4px;padding-top:6px;border-top:1px solid var(--edge)}main .verdict h3{margin:0}main h3{margin:7px 0 2px}
main table{font-size:9.5pt}main th{font-size:9pt;padding:2px 6px 3px 0}main td{padding:1px 6px 1px 0;vertical-align:middle;height:21px}
.vd{display:flex;gap:6px;align-items:center;line-height:1.1}.vd>svg{flex:none}.ids{columns:2;column-gap:8mm;font-size:10pt}.ids div{display:grid;grid-template-columns:31mm minmax(0,1fr);gap:2px 8px;break-inside:avoid;padding:1.5px 0}.ids dt{color:var(--ink-2)}
.notes{font-size:10pt;padding-left:16px}.notes li{margin:2px 0}p.mono{font-size:7.6pt;line-height:1.4}
`;

export const certificateHtml = (certificate: Certificate, options: { paper: Paper; fonts: ReportFonts }): string =>
  pageFile({
    title: certificate.documentTitle,
    style: certificateStyle(certificate, options),
    body: <CertificatePages certificate={certificate} />,
  });

function CertificatePages({ certificate }: { certificate: Certificate }) {
  const { verdict, signature, tape } = certificate;
  return (
    <main>
      <Sheet tape={tape} foot={{ cautions: words.holds, run: certificate.hash.slice(0, 16) }}>
        <PageHead title={certificate.title} about={certificate.instrumentLine} side={certificate.side} />
        <section className="verdict">
          <VerdictSign verdict={shapeOf(verdict.verdict)} size={40} />
          <div>
            <p className="n2">{words.conclusion}</p>
            <h3>
              <Words text={verdict.sentence} />
            </h3>
          </div>
        </section>
        <section>
          <h2>{words.header}</h2>
          <dl className="ids">
            {certificate.facts.map(({ label, value }, index) => (
              <div key={index}>
                <dt>
                  <Words text={label} />
                </dt>
                <dd>
                  <Words text={value} />
                </dd>
              </div>
            ))}
          </dl>
        </section>
        <Gases gases={certificate.gases} />
        {certificate.rounds.map((round, index) => (
          <Round key={index} round={round} index={index} certificate={certificate} />
        ))}
        <section>
          <h2>{words.foot}</h2>
          <Notes lines={certificate.foot} />
          <p className="mono">
            {words.hash}: {inGroups(certificate.hash)}
          </p>
        </section>
        <section className="sign">
          <div>
            <div className="ln">{signature.name}</div>
            {words.facts.person}
          </div>
          <div>
            <div className="ln">{signature.when}</div>
            {words.facts.time}
          </div>
          <div>
            <b>{signature.state}</b>
          </div>
        </section>
      </Sheet>
    </main>
  );
}

const inGroups = (hash: string): string => hash.match(/.{1,4}/g)?.join(' ') ?? '';

function Notes({ lines }: { lines: readonly string[] }) {
  return (
    <ul className="notes">
      {lines.map((line, index) => (
        <li key={index}>
          <Words text={line} />
        </li>
      ))}
    </ul>
  );
}

type Column = { readonly label: string; readonly width: number; readonly figures?: boolean };

function FixedTable({ columns, children }: { columns: readonly Column[]; children: ReactNode }) {
  const total = columns.reduce((sum, { width }) => sum + width, 0);
  return (
    <table>
      <colgroup>
        {columns.map(({ width }, index) => (
          <col key={index} style={{ width: `${((100 * width) / total).toFixed(2)}%` }} />
        ))}
      </colgroup>
      {columns.some(({ label }) => label !== '') && (
        <thead>
          <tr>
            {columns.map(({ label, figures }, index) =>
              label === '' ? (
                <td key={index} />
              ) : (
                <th key={index} scope="col" className={figures === true ? 'r' : undefined}>
                  <Words text={label} />
                </th>
              ),
            )}
          </tr>
        </thead>
      )}
      <tbody>{children}</tbody>
    </table>
  );
}

function Figure({ text, strong = false }: { text: string; strong?: boolean }) {
  return (
    <td className={strong ? 'r b' : 'r'}>
      <span className="figure">
        <Words text={text} />
      </span>
    </td>
  );
}

function VerdictCell({ verdict }: { verdict: Verdict }) {
  return (
    <td>
      <span className="vd">
        <VerdictSign verdict={shapeOf(verdict)} size={20} />
        <span>{bench.result.verdicts[verdict]}</span>
      </span>
    </td>
  );
}

function Gases({ gases }: { gases: Certificate['gases'] }) {
  const columns = words.gasColumns;
  const head: Column[] = [
    { label: columns.gas, width: 110 },
    { label: columns.bottle, width: 130 },
    { label: columns.certificate, width: 130 },
    { label: columns.value, width: 190 },
    { label: columns.expires, width: 112 },
  ];
  return (
    <section>
      <h2>{words.gases}</h2>
      <FixedTable columns={head}>
        {gases.map(({ gas, bottle, certificate, value, expires, note }, index) => (
          <tr key={index}>
            {[gas, bottle, certificate].map((text, at) => (
              <td key={at}>
                <Words text={text} />
              </td>
            ))}
            <td>
              <Words text={value} />
              {note !== undefined && (
                <>
                  <br />
                  <b>
                    <Words text={note} />
                  </b>
                </>
              )}
            </td>
            <td>
              <Words text={expires} />
            </td>
          </tr>
        ))}
      </FixedTable>
    </section>
  );
}

const scaleOf = ({ scale, verdict }: CertificateRow, label: string) =>
  scale && { value: scale.value, expanded: scale.expanded, low: -scale.limit, high: scale.limit, verdict: shapeOf(verdict), label };

function Round({
  round,
  index,
  certificate: { adjustment, rounds },
}: {
  round: Certificate['rounds'][number];
  index: number;
  certificate: Certificate;
}) {
  const columns = words.tableColumns;
  const head: Column[] = [
    { label: columns.channel, width: 62 },
    { label: columns.gas, width: 74 },
    { label: columns.reference, width: 76, figures: true },
    { label: columns.reading, width: 76, figures: true },
    { label: columns.error, width: 66, figures: true },
    { label: columns.limit, width: 66, figures: true },
    { label: columns.u, width: 60, figures: true },
    { label: '', width: 94 },
    { label: columns.verdict, width: 98 },
  ];
  const { furtherColumns } = words;
  return (
    <section>
      <h2>
        <Words text={round.title} />
      </h2>
      <FixedTable columns={head}>
        {round.rows.map((row, at) => {
          const scale = scaleOf(row, `${row.channel} ${row.gas}: ${row.error}, ${bench.result.verdicts[row.verdict]}`);
          return (
            <tr key={at}>
              <td className="b">
                <Words text={row.channel} />
              </td>
              <td>
                <Words text={row.gas} />
              </td>
              <Figure text={row.reference} />
              <Figure text={row.reading} />
              <Figure text={row.error} strong />
              <Figure text={row.limit} />
              <Figure text={row.u} />
              <td>{scale !== undefined && <VerdictScale picture={scale} width={84} />}</td>
              <VerdictCell verdict={row.verdict} />
            </tr>
          );
        })}
      </FixedTable>
      {round.further.length > 0 && (
        <>
          <h3>{words.further}</h3>
          <FixedTable
            columns={[
              { label: furtherColumns.test, width: 240 },
              { label: furtherColumns.result, width: 150, figures: true },
              { label: furtherColumns.limit, width: 150, figures: true },
              { label: furtherColumns.verdict, width: 132 },
            ]}
          >
            {round.further.map(({ channel, name, value, limit, verdict }, at) => (
              <tr key={at}>
                <td>
                  <b>
                    <Words text={channel} />
                  </b>{' '}
                  <Words text={name} />
                </td>
                <Figure text={value} />
                <Figure text={limit} />
                <VerdictCell verdict={verdict} />
              </tr>
            ))}
          </FixedTable>
        </>
      )}
      <h3>{words.budgets}</h3>
      <FixedTable
        columns={[
          { label: '', width: 150 },
          { label: '', width: 440 },
          { label: '', width: 82 },
        ]}
      >
        {round.rows.map(({ channel, gas, u, budget }, at) => (
          <tr key={at}>
            <td>
              <b>
                <Words text={channel} />
              </b>{' '}
              <Words text={gas} />
            </td>
            <td>
              <Words text={budget.map(({ name, u: part }) => `${name} ${part}`).join('; ')} />
            </td>
            <Figure text={u} />
          </tr>
        ))}
      </FixedTable>
      {round.deviations.length > 0 && (
        <>
          <h3>{words.deviations}</h3>
          <Notes lines={round.deviations} />
        </>
      )}
      {(index === 0 || index < rounds.length - 1) && (
        <p className="n2">
          <Words text={adjustment} />
        </p>
      )}
    </section>
  );
}
