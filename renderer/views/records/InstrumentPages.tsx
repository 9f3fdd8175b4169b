import { useState } from 'react';
import '../../look/bench.css';
import { BenchTest } from '../../../shared/bench/bench-test.ts';
import { cellHistory, type CellHistory } from '../../../shared/bench/earlier-tests.ts';
import { Instrument } from '../../../shared/bench/instrument.ts';
import { channelsOf } from '../../../shared/bench/references.ts';
import { headlineOf, roundResult } from '../../../shared/bench/test-result.ts';
import { formatDay, formatIsoDay } from '../../../shared/format/date.ts';
import { formatClock } from '../../../shared/format/duration.ts';
import { formatNumber } from '../../../shared/format/quantity.ts';
import { VerdictSign } from '../../../shared/report/drawings/VerdictSign.tsx';
import { bench } from '../../../shared/words/bench.ts';
import { certified, signed, unitOf, unitText, withHalf } from '../../../shared/words/bench-format.ts';
import { headlineText } from '../../../shared/words/bench-headline.ts';
import { records as words } from '../../../shared/words/records.ts';
import { recordWords } from '../../../shared/words/report.ts';
import { ApplianceKnowledge } from '../../../shared/measurement/knowledge.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { benchScreenOf } from '../bench/bench-screen.ts';
import { TrendPicture } from '../bench/result/ResultPictures.tsx';
import { signOf } from '../bench/result/verdict-signs.ts';
import { dueWords } from './due.ts';
import { List } from './lists.tsx';
import { useAnswer } from './use-records.ts';
import { Facts } from './Facts.tsx';
import { Sure } from './Sure.tsx';

type Known = { readonly id: string; readonly instrument: Instrument; readonly tests: readonly Tested[] };
type Tested = { readonly id: string; readonly test: BenchTest };

/** Instruments as the bench saves them, each with its tests: read only here. */
export function InstrumentPages() {
  const instruments = useAnswer('document.list', { kind: 'instrument' });
  const stored = useAnswer('document.list', { kind: 'bench-test' });
  const [chosen, setChosen] = useState<string>();
  if (instruments === undefined || stored === undefined)
    return <nav className="records-list" aria-label={words.sections.instruments} aria-busy="true" />;
  const tests = stored.documents
    .flatMap(({ id, body }): Tested[] => {
      const read = BenchTest.safeParse(body);
      return read.success ? [{ id, test: read.data }] : [];
    })
    .sort((a, b) => b.test.startedWallMs - a.test.startedWallMs);
  const known = instruments.documents.flatMap(({ id, body }): Known[] => {
    const read = Instrument.safeParse(body);
    return read.success ? [{ id, instrument: read.data, tests: tests.filter(({ test }) => test.instrumentId === id) }] : [];
  });
  const shown = known.find(({ id }) => id === chosen) ?? known[0];
  return (
    <>
      <List
        title={words.sections.instruments}
        search=""
        shown={known.length}
        total={known.length}
        grow={undefined}
        empty={
          <>
            <b>{words.noInstruments}</b>
            <p className="second">{words.noInstrumentsAbout}</p>
          </>
        }
      >
        {known.map((one) => (
          <InstrumentRow key={one.id} known={one} isChosen={one === shown} choose={() => setChosen(one.id)} />
        ))}
      </List>
      <section className="records-page" data-region="right">
        {shown === undefined ? <h1 className="hidden-text">{words.sections.instruments}</h1> : <OneInstrument key={shown.id} {...shown} />}
      </section>
    </>
  );
}

function InstrumentRow({ known: { instrument, tests }, isChosen, choose }: { known: Known; isChosen: boolean; choose: () => void }) {
  const [openedMs] = useState(() => Date.now());
  const due = dueWords(instrument.certificateUntil, openedMs);
  return (
    <li>
      <button type="button" className="record-row" aria-current={isChosen ? 'true' : undefined} onClick={choose}>
        <span className="grow">
          <b>{instrument.name}</b>
          <span className="second">
            {[instrument.serial, words.instrument.testCount(tests.length), due?.isOver === false ? due.text : undefined]
              .filter(Boolean)
              .join(' · ')}
          </span>
          {due?.isOver === true && <span className="overdue">{due.text}</span>}
        </span>
      </button>
    </li>
  );
}

function OneInstrument({ id, instrument, tests }: Known) {
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

/** The times of its cells, with which the runs of its visits begin. */
function KnownTimes({ instrumentId, zoneMinutes }: { instrumentId: string; zoneMinutes: number }) {
  const { actions } = useParts();
  const mayChange = useApp((state) => state.role !== 'viewer');
  const [asks, setAsks] = useState(false);
  const stored = useAnswer('document.list', { kind: 'knowledge', parentId: instrumentId, limit: 1 })?.documents[0];
  const { learnedWallMs, channels } = ApplianceKnowledge.safeParse(stored?.body).data?.knowledge ?? {};
  if (learnedWallMs === undefined || channels === undefined) return null;
  const times = (['o2', 'co'] as const).flatMap((channel) => {
    const { sensor, dead } = channels[channel] ?? {};
    return sensor === undefined
      ? []
      : [
          words.instrument.times(
            bench.channels[channel],
            withUnit((dead?.mean ?? 0) + Math.LN10 * Math.exp(sensor.mean)),
            dead && withUnit(dead.mean),
          ),
        ];
  });
  const forget = async (): Promise<void> => {
    setAsks(false);
    await actions.ask('document.remove', { kind: 'knowledge', id: instrumentId });
  };
  return (
    <p className="second">
      <ChannelName text={words.instrument.known(formatDay(learnedWallMs, zoneMinutes), times)} />{' '}
      <button type="button" className="button" disabled={!mayChange} onClick={() => setAsks(true)}>
        {words.forgetKnown}
      </button>
      {asks && (
        <Sure
          title={words.forgetKnownTitle}
          about={words.instrument.forgetAbout}
          yes={words.yesForget}
          run={() => void forget()}
          close={() => setAsks(false)}
        />
      )}
    </p>
  );
}
const withUnit = (seconds: number): string => `${formatNumber(seconds, 0)}\u00a0s`;

function TestTable({ tests, open }: { tests: readonly Tested[]; open: (id: string) => void }) {
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
                    <ChannelName text={headline === undefined ? bench.result.nothing : headlineText(headline)} />
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

/** One cell over its tests: as a picture where there are two, and as figures always. */
function Drift({ history, zoneMinutes }: { history: CellHistory; zoneMinutes: number }) {
  const { channel, spanErrors, spanReference, t90 } = history;
  if (spanReference === undefined || spanErrors.length === 0) return null;
  const answered = (wallMs: number): string => {
    const one = t90.find((time) => time.wallMs === wallMs);
    return one === undefined ? '–' : `${formatNumber(one.value, 0)} ±${formatNumber(one.expanded, 0)}`;
  };
  const title = bench.result.trend(bench.channels[channel], certified(channel, spanReference));
  return (
    <section>
      <h3>
        <ChannelName text={title} />
      </h3>
      {spanErrors.length > 1 && <TrendPicture history={history} zoneMinutes={zoneMinutes} />}
      <table className="tight" aria-label={title}>
        <thead>
          <tr>
            <th scope="col">{words.instrument.test.day}</th>
            <th scope="col" className="right">
              {bench.result.columns.error} {unitOf(channel)}
            </th>
            <th scope="col" className="right">
              {words.instrument.test.t90} s
            </th>
          </tr>
        </thead>
        <tbody>
          {spanErrors.map(({ wallMs, value, expanded }) => (
            <tr key={wallMs}>
              <td className="unwrapped">{formatDay(wallMs, zoneMinutes)}</td>
              <td className="right unwrapped">
                {signed(channel, value, expanded)} <span className="small second">{withHalf(channel, expanded)}</span>
              </td>
              <td className="right unwrapped">{answered(wallMs)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
