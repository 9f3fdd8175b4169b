import { headlineOf, roundResult } from '../../../../shared/bench/results/test-result.ts';
import { formatDay } from '../../../../shared/format/date.ts';
import { formatClock } from '../../../../shared/format/duration.ts';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { headlineText } from '../../../../shared/words/bench/bench-headline.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { signOf } from '../../bench/result/verdict-signs.ts';
import type { Tested } from './tested.ts';
import '../records.css';

/** Every test of an instrument, newest first, with its result. */
export function TestTable({ tests, open }: { tests: readonly Tested[]; open: (id: string) => void }) {
  const columns = words.instrument.test;
  return (
    <table className="tight records-runs" aria-label={words.instrument.tests}>
      <thead>
        <tr>
          <th scope="col">{columns.day}</th>
          <th scope="col">{columns.result}</th>
          <th scope="col">{columns.state}</th>
          <th scope="col">
            <span className="hidden-text">{bench.home.open}</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {tests.map(({ id, test }) => {
          const last = test.rounds[test.rounds.length - 1];
          const headline = last === undefined ? undefined : headlineOf(roundResult(test, last).evaluation, test.limits);
          const day = `${formatDay(test.startedWallMs, test.zoneMinutes)} ${formatClock(test.startedWallMs, test.zoneMinutes, 'minutes')}`;
          const state =
            test.watermark !== undefined
              ? 'simulated'
              : test.signature !== undefined
                ? 'signed'
                : test.status === 'open'
                  ? 'open'
                  : 'closed';
          return (
            <tr key={id}>
              <td className="unwrapped">{day}</td>
              <td>
                <span className="verdict">
                  <VerdictSign verdict={headline === undefined ? 'open' : signOf(headline)} />
                  <span>
                    <ChannelName text={headline === undefined ? benchResult.nothing : headlineText(headline)} />
                  </span>
                </span>
              </td>
              <td>{words.instrument.states[state]}</td>
              <td className="right">
                <button type="button" className="button quiet" aria-label={`${bench.home.open}: ${day}`} onClick={() => open(id)}>
                  {bench.home.open}
                </button>
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
