import type { BenchTest } from '../../../../shared/bench/bench-test.ts';
import type { GasSlot } from '../../../../shared/bench/plan.ts';
import type { RoundResult } from '../../../../shared/bench/results/test-result.ts';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { furtherRows } from '../../../../shared/words/bench/bench-further.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchResult, benchPatterns } from '../../../../shared/words/bench/bench-result.ts';
import { certificateWords } from '../../../../shared/words/paper/certificate.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { signOfVerdict } from './verdict-signs.ts';
import './result.css';

const words = benchResult;

/** What was measured besides the errors, the fault patterns it looks like, and what could not be judged. */
export function FurtherTable({ test, result, gasName }: { test: BenchTest; result: RoundResult; gasName: (slot: GasSlot) => string }) {
  const rows = furtherRows(result, gasName);
  // the clearest pattern, and what stands out nearly as much
  const likely = result.faults.filter(({ strength }) => strength >= 0.5 * (result.faults[0]?.strength ?? 0)).slice(0, 3);
  return (
    <section aria-label={words.more}>
      <h3>{words.more}</h3>
      <table aria-label={words.more}>
        <tbody>
          {rows.map(({ key, channel, name, value, limit, verdict }) => (
            <tr key={key}>
              <td className="bold result-channel">
                <ChannelName text={bench.channels[channel]} />
              </td>
              <td className="second">{name}</td>
              <td className="right number">{value}</td>
              <td className="right second unwrapped">{limit}</td>
              <td className="result-gas">
                <span className="verdict">
                  <VerdictSign verdict={signOfVerdict(verdict)} />
                  {words.verdicts[verdict]}
                </span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <ul className="bench-notes">
        {likely.map(({ pattern, channel }) => (
          <li key={`${pattern} ${channel}`}>
            <b>
              <ChannelName text={`${bench.channels[channel]}:`} />
            </b>{' '}
            {benchPatterns[pattern]}
          </li>
        ))}
        {result.linesMissing.map(({ channel, to, stepId }) => (
          <li key={`${channel} ${stepId}`} className="second">
            <ChannelName text={words.linesMissing(bench.channels[channel], gasName(to as GasSlot))} />
          </li>
        ))}
        {result.notJudged.map(({ channel, slot }) => (
          <li key={`${channel} ${slot}`} className="second">
            <ChannelName text={words.notJudgedRange(bench.channels[channel], gasName(slot as GasSlot))} />
          </li>
        ))}
        {test.adjustment !== undefined && <li>{certificateWords.adjusted(test.adjustment)}</li>}
      </ul>
    </section>
  );
}
