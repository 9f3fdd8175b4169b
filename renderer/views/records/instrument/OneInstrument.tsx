import { useState } from 'react';
import { cellHistory } from '../../../../shared/bench/results/earlier-tests.ts';
import { channelsOf } from '../../../../shared/bench/references.ts';
import { formatIsoDay } from '../../../../shared/format/date.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import { unitText } from '../../../../shared/words/bench/bench-format.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import { recordWords } from '../../../../shared/words/paper/technical-record.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { benchScreenOf } from '../../bench/bench-screen.ts';
import { Facts } from '../Facts.tsx';
import { dueWords } from '../due.ts';
import { Drift } from './Drift.tsx';
import { KnownTimes } from './KnownTimes.tsx';
import { TestTable } from './TestTable.tsx';
import type { Known } from './tested.ts';
import '../records.css';
import './OneInstrument.css';

/** One instrument: its certificate, its cells, what is known of their times, its tests and their drift. */
export function OneInstrument({ id, instrument, tests }: Known) {
  const parts = useParts();
  const workspaceChosen = useApp((state) => state.workspaceChosen);
  const [openedMs] = useState(() => Date.now());
  const { labels } = recordWords;
  const due = dueWords(instrument.certificateUntil, openedMs);
  const toBench = (view: Parameters<ReturnType<typeof benchScreenOf>['show']>[0]): void => {
    benchScreenOf(parts).show(view);
    workspaceChosen('bench');
  };
  const facts: [string, string | undefined][] = [
    [labels.serial, instrument.serial],
    [labels.firmware, instrument.firmware],
    [labels.recipe, instrument.recipeName],
    [bench.instrument.hose, instrument.hose],
    [labels.filter, instrument.filterChanged && formatIsoDay(instrument.filterChanged)],
    [
      words.instrument.due,
      instrument.certificateUntil === undefined
        ? words.instrument.noDue
        : due?.isOver === true
          ? due.text
          : formatIsoDay(instrument.certificateUntil),
    ],
    [bench.instrument.notes, instrument.notes],
  ];
  const histories = channelsOf(instrument.cells).map((channel) =>
    cellHistory(
      tests.map(({ test }) => test),
      channel,
    ),
  );
  return (
    <>
      <div className="records-title">
        <div className="grow">
          <h1>{instrument.name}</h1>
          <span className="second">{words.instrument.testCount(tests.length)}</span>
        </div>
        <button type="button" className="button" onClick={() => toBench({ kind: 'instrument', id })}>
          {words.instrument.toBench}
        </button>
      </div>
      <Facts rows={facts}>
        {instrument.cells.map(({ channel, rangeLow, rangeHigh, installed, serial }, index) => (
          <div key={`${channel} ${index}`}>
            <dt>
              <ChannelName text={`${bench.instrument.cell} ${bench.channels[channel]}`} />
            </dt>
            <dd>
              {[
                words.instrument.range(formatNumber(rangeLow, 0), unitText(channel, formatNumber(rangeHigh, 0))).replaceAll(' ', '\u00a0'),
                serial,
                installed === undefined ? undefined : words.instrument.since(formatIsoDay(installed)).replaceAll(' ', '\u00a0'),
              ]
                .filter(Boolean)
                .join(' · ')}
            </dd>
          </div>
        ))}
      </Facts>
      <KnownTimes instrumentId={id} zoneMinutes={tests[0]?.test.zoneMinutes ?? 0} />
      <h2>{words.instrument.tests}</h2>
      {tests.length === 0 ? (
        <p className="second">{words.instrument.noTests}</p>
      ) : (
        <TestTable tests={tests} open={(testId) => toBench({ kind: 'result', testId })} />
      )}
      {histories.some(({ spanErrors }) => spanErrors.length > 0) && (
        <>
          <h2>{words.instrument.drift}</h2>
          <div className="records-drift">
            {histories.map((history) => (
              <Drift key={history.channel} history={history} zoneMinutes={tests[0]?.test.zoneMinutes ?? 0} />
            ))}
          </div>
        </>
      )}
    </>
  );
}
