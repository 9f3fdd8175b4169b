import type { BenchTest } from '../../../../shared/bench/bench-test.ts';
import type { GasSlot } from '../../../../shared/bench/plan.ts';
import type { GasRow } from '../../../../shared/bench/results/test-result.ts';
import { VerdictScale } from '../../../../shared/report/drawings/VerdictScale.tsx';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { figure, signed, withHalf } from '../../../../shared/words/bench/bench-format.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { signOfVerdict } from './verdict-signs.ts';
import './result.css';

const words = benchResult;

export const rowKeyOf = ({ channel, level }: GasRow): string => `${channel} ${level}`;

/** One row a channel and gas: certified value, reading, error with its uncertainty, and the verdict. */
export function ResultTable({
  rows,
  chosen,
  pick,
  gasName,
  test,
}: {
  rows: readonly GasRow[];
  chosen: GasRow | undefined;
  pick: (key: string) => void;
  gasName: (slot: GasSlot) => string;
  test: BenchTest;
}) {
  const unfair =
    test.limits?.decisionRule === 'simple' && rows.some(({ budget, limit }) => limit !== undefined && budget.expanded > limit / 3);
  return (
    <>
      <table className="bench-result" aria-label={words.table}>
        <thead>
          <tr>
            <th scope="col">{words.columns.channel}</th>
            <th scope="col">{words.columns.gas}</th>
            <th scope="col" className="right">
              {words.columns.certified}
            </th>
            <th scope="col" className="right">
              {words.columns.reading}
            </th>
            <th scope="col" className="right">
              {words.columns.error}
            </th>
            <th scope="col" className="right">
              {words.columns.u}
            </th>
            <th scope="col">
              <span className="limit-head">
                <span>{words.lowLimit}</span>
                <span>{words.highLimit}</span>
              </span>
            </th>
            <th scope="col">{words.columns.verdict}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => {
            const expanded = row.budget.expanded;
            return (
              <tr
                key={rowKeyOf(row)}
                className={chosen !== undefined && rowKeyOf(row) === rowKeyOf(chosen) ? 'now' : ''}
                tabIndex={0}
                aria-selected={chosen !== undefined && rowKeyOf(row) === rowKeyOf(chosen)}
                onClick={() => pick(rowKeyOf(row))}
                onFocus={() => pick(rowKeyOf(row))}
              >
                <td className="bold">
                  <ChannelName text={bench.channels[row.channel]} />
                </td>
                <td className="second">
                  {gasName(row.level as GasSlot)}
                  {row.repeats > 1 && <span className="small"> × {row.repeats}</span>}
                </td>
                <td className="right number">{figure(row.channel, row.reference, row.channel === 'o2' ? undefined : expanded)}</td>
                <td className="right number">{figure(row.channel, row.reading, expanded)}</td>
                <td className="right number bold">{signed(row.channel, row.error, expanded)}</td>
                <td className="right number second">{withHalf(row.channel, expanded)}</td>
                <td>
                  {row.limit !== undefined && (
                    <VerdictScale
                      picture={{
                        value: row.error,
                        expanded,
                        low: -row.limit,
                        high: row.limit,
                        verdict: signOfVerdict(row.verdict),
                        label: '',
                      }}
                    />
                  )}
                </td>
                <td className="unwrapped">
                  <span className="verdict">
                    <VerdictSign verdict={signOfVerdict(row.verdict)} />
                    <b>{words.verdicts[row.verdict]}</b>
                  </span>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
      {unfair && <p className="notice-text">{bench.unfair}</p>}
    </>
  );
}
