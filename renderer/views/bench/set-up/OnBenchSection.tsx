import { useEffect, useRef } from 'react';
import { practiceScenarios } from '../../../../shared/bench/practice-scenarios.ts';
import { MOST_INSTRUMENTS } from '../../../../shared/bench/session/start.ts';
import { formatDate } from '../../../../shared/format/duration.ts';
import { benchSetUp, benchRun } from '../../../../shared/words/bench/bench-run.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Choice } from '../../../components/Field.tsx';
import { sourceLabel } from '../../../state/source-state.ts';
import { useBench, useBenchScreen, useMayAct } from '../use-bench.ts';
import type { SectionProps } from './section.ts';
import { channelsIn } from './set-up-facts.ts';
import '../bench.css';
import './set-up.css';

const words = benchSetUp;
const NEW = 'new';

/** The runs on the bench, and which instrument each of them is. */
export function OnBenchSection({
  draft: { which, offBench, scenario, seed },
  facts: { records },
  set,
  today,
  titleOf,
}: SectionProps & { today: string; titleOf: (scenario: string) => string }) {
  const { actions, store } = useParts();
  const screen = useBenchScreen();
  const may = useMayAct();
  const lists = useBench((state) => state.lists);
  const panelOpened = useApp((state) => state.panelOpened);
  const section = useRef<HTMLElement>(null);
  useEffect(() => {
    // the one thing that changes from test to test is asked first
    const open = [...(section.current?.querySelectorAll('select') ?? [])].find(({ value }) => value === '');
    open?.focus();
  }, []);
  const addSimulated = (): void => {
    set({ seed: seed + 1 });
    // the burner run of Tune stays; a bench run is its own
    void actions.ask('run.start', { source: { kind: 'simulated', scenario, seed, shape: 'columns', ratePerSecond: 2 } }).then((info) => {
      if (info === undefined) return undefined;
      store.getState().runChanged(info);
      // out of its script: from here on the bench sets the gas
      return actions.ask('simulator.part', { runId: info.runId, part: 'inlet', value: 'air' });
    });
  };
  /** an instrument that is not in the list yet is typed now, and chosen on the way back */
  const choose = (runId: string, chosen: string): void =>
    chosen === NEW
      ? screen.show({ kind: 'instrument', id: undefined, wantedFor: { runId } })
      : set({ which: { ...which, [runId]: chosen } });
  const testedToday = new Set(
    lists['bench-test']
      .filter(({ body }) => formatDate(body.startedWallMs, body.zoneMinutes) === today)
      .map(({ body }) => body.instrumentId),
  );
  // those that still have to be tested stand first
  const instruments = [...lists.instrument].sort(
    (a, b) => Number(testedToday.has(a.id)) - Number(testedToday.has(b.id)) || a.body.name.localeCompare(b.body.name),
  );
  return (
    <section className="bench-fields" aria-label={words.onBench} ref={section}>
      <h2>{words.onBench}</h2>
      <p className="second">{words.onBenchAbout}</p>
      {records.map(({ info }, index) => (
        <div key={info.runId} className="bench-seat">
          <span className="grow">
            <b>{info.source.kind === 'simulated' ? words.simulatedRun(info.source.title.replace(/^Bench: /, '')) : sourceLabel(info)}</b>
            <span className="second">
              {' '}
              {channelsIn(info.channels).length > 0 ? '' : info.counters.lines > 0 ? words.linesUnread : benchRun.columnWords.waiting}
            </span>
          </span>
          <Choice
            label={words.which}
            width={280}
            value={which[info.runId] ?? (info.source.kind === 'simulated' ? 'practice' : '')}
            change={(chosen) => choose(info.runId, chosen)}
            options={[
              ...(info.source.kind === 'simulated'
                ? [{ value: 'practice', text: words.practiceName(index + 1) }]
                : [{ value: '', text: words.whichNone }]),
              ...instruments.map(({ id, body }) => ({
                value: id,
                text: testedToday.has(id) ? words.testedToday(body.name) : body.name,
              })),
              { value: NEW, text: words.newInstrument },
            ]}
          />
          <button
            type="button"
            className="button bench-under"
            onClick={() => set({ offBench: [...offBench, info.runId] })}
            aria-label={`${words.takeOff} ${index + 1}`}
          >
            {words.takeOff}
          </button>
        </div>
      ))}
      {records.length < MOST_INSTRUMENTS && (
        <div className="form-row">
          <Choice
            label={words.addSimulated}
            value={scenario}
            change={(scenario) => set({ scenario })}
            width={340}
            options={practiceScenarios.map((name) => ({ value: name, text: titleOf(name) }))}
          />
          <button type="button" className="button bench-under" disabled={!may} onClick={addSimulated}>
            {words.addSimulated}
          </button>
          <button type="button" className="button bench-under" disabled={!may} onClick={() => panelOpened('source', 'serial')}>
            {words.addPort}
          </button>
        </div>
      )}
    </section>
  );
}
