/** Tables of the certificate: gases, and one round of readings with its verdicts. */
import type { ReactNode } from 'react';
import type { Verdict } from '../../bench/results/test-result.ts';
import type { CardVerdict } from '../../tuning/card/target-card.ts';
import { benchResult } from '../../words/bench/bench-result.ts';
import { certificateWords } from '../../words/paper/certificate.ts';
import type { Certificate, CertificateRow } from './bench-certificate.ts';
import { Words } from '../drawings/Drawing.tsx';
import { VerdictScale } from '../drawings/VerdictScale.tsx';
import { VerdictSign } from '../drawings/VerdictSign.tsx';

const words = certificateWords;

export const shapeOf = (verdict: Verdict): CardVerdict =>
  verdict === 'conditional' ? 'too-close' : verdict === 'not-judged' ? 'not-known' : verdict;

export function Notes({ lines }: { lines: readonly string[] }) {
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
        <span>{benchResult.verdicts[verdict]}</span>
      </span>
    </td>
  );
}

export function Gases({ gases }: { gases: Certificate['gases'] }) {
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

export function Round({
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
          const scale = scaleOf(row, `${row.channel} ${row.gas}: ${row.error}, ${benchResult.verdicts[row.verdict]}`);
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
