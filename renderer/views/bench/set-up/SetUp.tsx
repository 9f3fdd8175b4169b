import { useEffect, useRef, useState } from 'react';
import type { GasUse, Room } from '../../../../shared/bench/bench-test.ts';
import { benchChannels, gasFlaws, type Instrument, type ReferenceGas } from '../../../../shared/bench/instrument.ts';
import { exampleLimits, type BenchLimits } from '../../../../shared/bench/limits.ts';
import { examplePlans, slotsOf, type GasSlot } from '../../../../shared/bench/plan.ts';
import { practiceGases } from '../../../../shared/bench/practice.ts';
import { practiceScenarios } from '../../../../shared/bench/practice-scenarios.ts';
import { freshAirReference, outsideRange } from '../../../../shared/bench/references.ts';
import { MOST_INSTRUMENTS, startFlaw, type StartSeat } from '../../../../shared/bench/start.ts';
import type { Output } from '../../../../shared/ipc/contract.ts';
import { decisionRules } from '../../../../shared/measurement/decision-rule.ts';
import { bench } from '../../../../shared/words/bench.ts';
import { startFlawText } from '../../../../shared/words/bench-start.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Check, Choice, Field } from '../../../components/Field.tsx';
import { NoticeSign } from '../../../components/Signs.tsx';
import { sourceLabel } from '../../../state/source-state.ts';
import { certified } from '../../../../shared/words/bench-format.ts';
import { BenchFrame } from '../BenchFrame.tsx';
import { compact, errorIn, readNumber } from '../forms/draft-fields.ts';
import { emptyDraft, type SetUpDraft } from './set-up-draft.ts';
import { useBench, useBenchScreen, useMayAct, useNowWallMs } from '../use-bench.ts';
import { formatDate } from '../../../../shared/format/duration.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';

const words = bench.setUp;
const MOST = MOST_INSTRUMENTS;
const NEW = 'new';
const channelsIn = (found: readonly string[]): string[] => found.filter((one) => (benchChannels as readonly string[]).includes(one));
type SourceList = Output<'source.list'>;

const practiceInstrument = (number: number): Instrument => ({
  format: 1,
  name: words.practiceName(number),
  cells: [
    { channel: 'o2', rangeLow: 0, rangeHigh: 25, resolution: 0.1 },
    { channel: 'co', rangeLow: 0, rangeHigh: 4000, resolution: 1 },
  ],
});

/** From instruments on the bench to the first step: sources, bottles, room, limits and the rule. */
export function SetUp() {
  const { actions, store } = useParts();
  const screen = useBenchScreen();
  const may = useMayAct();
  const now = useNowWallMs();
  const lists = useBench((state) => state.lists);
  const runs = useApp((state) => state.runs);
  const technician = useApp((state) => state.settings.technician.name);
  const panelOpened = useApp((state) => state.panelOpened);
  const [sources, setSources] = useState<SourceList>();
  const draft = useBench((state) => state.draft) ?? emptyDraft(technician);
  const { which, offBench, bottles, reasons, room, person, place, limitsName, rule, scenario, seed } = draft;
  const set = (part: Partial<SetUpDraft>): void => screen.setDraft((known) => ({ ...known, ...part }));
  useEffect(() => {
    let gone = false;
    void actions.ask('source.list', {}).then((answer) => {
      if (!gone && answer !== undefined) setSources(answer);
    });
    return () => {
      gone = true;
    };
  }, [actions]);

  const open = Object.values(runs).filter(({ info }) => info.phase !== 'ended' && !offBench.includes(info.runId));
  const seats = open.slice(0, MOST);
  const isPractice = seats.length > 0 && seats.every(({ info }) => info.source.kind === 'simulated');
  const dried = draft.dried ?? isPractice;
  const plans = [...lists['bench-plan'].map(({ body }) => body), ...examplePlans];
  const plan = plans.find(({ name }) => name === draft.planName) ?? plans[0];
  const slots = plan === undefined ? [] : slotsOf(plan);
  const today = formatDate(now(), 0);
  const bottleFor = (slot: Exclude<GasSlot, 'air'>): ReferenceGas | undefined => {
    const chosen = bottles[slot];
    if (chosen === undefined) return isPractice ? practiceGases[slot] : undefined;
    return chosen === 'practice' ? practiceGases[slot] : lists.gas.find(({ id }) => id === chosen)?.body;
  };
  const cards: readonly BenchLimits[] = [...lists['bench-limits'].map(({ body }) => body), ...exampleLimits];
  const card = cards.find(({ name }) => name === limitsName);
  const numbers = {
    airC: readNumber(room.airC, { low: -30, high: 60 }),
    humidity: readNumber(room.humidity, { low: 0, high: 100 }),
    pressure: readNumber(room.pressure, { low: 500, high: 1100 }),
  };
  const value = (read: ReturnType<typeof readNumber>): number | undefined => (read.ok ? read.value : undefined);
  const pressure = value(numbers.pressure);
  const theRoom: Room = {
    dried,
    ...compact({
      airC: value(numbers.airC),
      relativeHumidityPercent: value(numbers.humidity),
      pressurePa: pressure === undefined ? undefined : pressure * 100,
      place: room.place.trim(),
    }),
  };
  const instrumentOf = (runId: string, index: number): Instrument | undefined => {
    const chosen = which[runId];
    const known = lists.instrument.find(({ id }) => id === chosen)?.body;
    if (known !== undefined) return known;
    return runs[runId]?.info.source.kind === 'simulated' && (chosen === undefined || chosen === 'practice')
      ? practiceInstrument(index + 1)
      : undefined;
  };
  const idOf = (runId: string, index: number): string => {
    const chosen = which[runId];
    return chosen !== undefined && chosen !== 'practice' ? chosen : `practice-${index + 1}`;
  };

  const uses = slots.flatMap((slot): GasUse[] => {
    const gas = bottleFor(slot);
    const reason = reasons[slot]?.trim() ?? '';
    return gas === undefined ? [] : [{ slot, gas, ...(reason.length >= 3 ? { reason } : {}) }];
  });
  const startSeats = seats.map(({ info, face }, i): StartSeat => ({
    run: {
      runId: info.runId,
      kind: info.source.kind,
      startWallMs: info.startWallMs,
      timeMs: face.timeMs,
      zoneMinutes: info.zoneMinutes,
      isRead: channelsIn(info.channels).length > 0,
    },
    instrumentId: idOf(info.runId, i),
    instrument: instrumentOf(info.runId, i),
  }));
  const limits =
    limitsName === '' || (card !== undefined && rule === '')
      ? undefined
      : card === undefined || rule === ''
        ? ('none' as const)
        : { ...card, decisionRule: rule };
  const flaw = startFlaw({ seats: startSeats, plan, gases: uses, room: theRoom, limits }, today);
  const wrongNumber = Object.values(numbers)
    .map(errorIn)
    .find((error) => error !== undefined);
  const comesAfterNumbers = flaw === undefined || flaw.kind === 'place' || flaw.kind === 'rule';
  const sourceOf = (runId: string): string => {
    const info = runs[runId]?.info;
    return info === undefined ? '' : sourceLabel(info);
  };
  const missing =
    comesAfterNumbers && wrongNumber !== undefined ? wrongNumber : flaw === undefined ? undefined : startFlawText(flaw, sourceOf);
  const warnings = seats.flatMap(({ info }, i) => {
    const instrument = instrumentOf(info.runId, i);
    return instrument === undefined
      ? []
      : uses.flatMap(({ gas }) =>
          outsideRange(instrument.cells, gas).map((channel) => words.warnRange(instrument.name, bench.channels[channel], gas.name)),
        );
  });

  const start = (): void => {
    if (missing !== undefined || plan === undefined || limits === undefined) return;
    void screen.start({
      seats: startSeats.flatMap(({ run, instrumentId, instrument }) =>
        instrument === undefined ? [] : [{ runId: run.runId, instrumentId, instrument }],
      ),
      plan,
      gases: uses,
      room: theRoom,
      ...compact({ bench: place.trim(), person: person.trim() }),
      limits,
    });
  };
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
  /** what is not there yet is typed now, and chosen on the way back */
  const choose = (runId: string, chosen: string): void =>
    chosen === NEW
      ? screen.show({ kind: 'instrument', id: undefined, wantedFor: { runId } })
      : set({ which: { ...which, [runId]: chosen } });
  const pickBottle = (slot: GasSlot, chosen: string): void =>
    chosen === NEW ? screen.show({ kind: 'gas', id: undefined, wantedFor: { slot } }) : set({ bottles: { ...bottles, [slot]: chosen } });
  /** an own card brings the rule that a person chose with it; a published one brings none */
  const pickLimits = (name: string): void =>
    set({ limitsName: name, rule: lists['bench-limits'].find(({ body }) => body.name === name)?.body.decisionRule ?? '' });
  const testedToday = new Set(
    lists['bench-test']
      .filter(({ body }) => formatDate(body.startedWallMs, body.zoneMinutes) === today)
      .map(({ body }) => body.instrumentId),
  );
  // those that still have to be tested stand first
  const instruments = [...lists.instrument].sort(
    (a, b) => Number(testedToday.has(a.id)) - Number(testedToday.has(b.id)) || a.body.name.localeCompare(b.body.name),
  );
  const title = (name: string): string => sources?.scenarios.find((one) => one.name === name)?.title ?? name;
  const air = freshAirReference(theRoom);
  const optionsFor = (slot: Exclude<GasSlot, 'air'>) => [
    { value: '', text: words.chooseBottle },
    ...(isPractice ? [{ value: 'practice', text: words.practiceBottle(practiceGases[slot].name) }] : []),
    ...lists.gas.map(({ id, body }) => ({ value: id, text: body.name })),
    { value: NEW, text: words.newBottle },
  ];
  const onBench = useRef<HTMLElement>(null);
  useEffect(() => {
    // the one thing that changes from test to test is asked first
    const open = [...(onBench.current?.querySelectorAll('select') ?? [])].find(({ value: chosen }) => chosen === '');
    open?.focus();
  }, []);
  return (
    <BenchFrame
      title={words.title}
      back={() => screen.show({ kind: 'home' })}
      says={missing ?? words.ready}
      main={{ text: words.start, run: start, blocked: !may || missing !== undefined }}
      right={
        <>
          <section className="bench-fields" aria-label={words.room}>
            <h3>{words.room}</h3>
            <div className="form-row">
              <Field
                label={words.airC}
                value={room.airC}
                change={(airC) => set({ room: { ...room, airC } })}
                unit="°C"
                width={152}
                error={errorIn(numbers.airC)}
              />
              <Field
                label={words.humidity}
                value={room.humidity}
                change={(humidity) => set({ room: { ...room, humidity } })}
                unit="%"
                width={152}
                error={errorIn(numbers.humidity)}
              />
              <Field
                label={words.pressure}
                value={room.pressure}
                change={(text) => set({ room: { ...room, pressure: text } })}
                unit="hPa"
                width={152}
                error={errorIn(numbers.pressure)}
              />
            </div>
            <Check label={words.dried} checked={dried} change={(next) => set({ dried: next })} />
            <p className="second">
              <ChannelName text={words.airO2(`${formatNumber(air.value, 2)} ±${formatNumber(air.expanded, 2)} %`)} />
            </p>
            <Field
              label={words.place}
              value={room.place}
              change={(text) => set({ room: { ...room, place: text } })}
              numeric={false}
              hint={words.placeHint}
            />
          </section>
          <section className="bench-fields" aria-label={words.limits}>
            <h3>{words.limits}</h3>
            <Choice
              label={words.limits}
              value={limitsName}
              change={pickLimits}
              options={[
                { value: '', text: words.chooseLimits },
                ...cards.map(({ name }) => ({ value: name, text: name })),
                { value: 'none', text: words.noLimits },
              ]}
            />
            {card !== undefined && (
              <>
                <p className="second small">
                  <ChannelName text={card.lines.map(({ channel, source }) => `${bench.channels[channel]}: ${source}`).join('. ')} />
                </p>
                <Choice
                  label={bench.limits.rule}
                  value={rule}
                  change={(next) => set({ rule: next })}
                  options={[
                    { value: '' as const, text: words.chooseLimits },
                    ...decisionRules.map((one) => ({ value: one, text: bench.ruleNames[one] })),
                  ]}
                  hint={rule === '' ? undefined : bench.rules[rule]}
                />
              </>
            )}
          </section>
          <section className="bench-fields" aria-label={words.people}>
            <div className="form-row">
              <Field label={words.people} value={person} change={(person) => set({ person })} numeric={false} width={196} />
              <Field label={words.bench} value={place} change={(place) => set({ place })} numeric={false} width={196} />
            </div>
          </section>
        </>
      }
    >
      <section className="bench-fields" aria-label={words.onBench} ref={onBench}>
        <h2>{words.onBench}</h2>
        <p className="second">{words.onBenchAbout}</p>
        {seats.map(({ info }, index) => (
          <div key={info.runId} className="bench-seat">
            <span className="grow">
              <b>{info.source.kind === 'simulated' ? words.simulatedRun(info.source.title.replace(/^Bench: /, '')) : sourceLabel(info)}</b>
              <span className="second">
                {' '}
                {channelsIn(info.channels).length > 0 ? '' : info.counters.lines > 0 ? words.linesUnread : bench.run.columnWords.waiting}
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
        {seats.length < MOST && (
          <div className="form-row">
            <Choice
              label={words.addSimulated}
              value={scenario}
              change={(scenario) => set({ scenario })}
              width={340}
              options={practiceScenarios.map((name) => ({ value: name, text: title(name) }))}
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
      <section className="bench-fields" aria-label={words.gases}>
        <h2>{words.plan}</h2>
        <Choice
          label={words.plan}
          value={plan?.name ?? ''}
          change={(planName) => set({ planName })}
          width={340}
          options={plans.map(({ name }) => ({ value: name, text: name }))}
        />
        <h2>{words.gases}</h2>
        {slots.map((slot) => {
          const gas = bottleFor(slot);
          const flaws = gas === undefined ? [] : gasFlaws(gas, today);
          return (
            <div key={slot} className="form-row">
              <Choice
                label={words.bottleFor(bench.slots[slot])}
                width={340}
                value={bottles[slot] ?? (isPractice ? 'practice' : '')}
                change={(chosen) => pickBottle(slot, chosen)}
                options={optionsFor(slot)}
              />
              {gas !== undefined && (
                <p className="bench-gas-line second">
                  <ChannelName
                    text={gas.components.map((one) => `${bench.channels[one.channel]} ${certified(one.channel, one.value)}`).join(', ')}
                  />
                  {gas.pressureBar === undefined ? '' : ` · ${bench.gas.left(formatNumber(gas.pressureBar, 0))}`}
                </p>
              )}
              {flaws.length > 0 && (
                <Field
                  label={bench.gas.reason}
                  value={reasons[slot] ?? ''}
                  change={(text) => set({ reasons: { ...reasons, [slot]: text } })}
                  numeric={false}
                  width={420}
                  error={
                    (reasons[slot]?.trim().length ?? 0) < 3
                      ? words.missing.reason(gas?.name ?? '', flaws.map((flaw) => bench.gas.flaws[flaw]).join(', '))
                      : undefined
                  }
                />
              )}
            </div>
          );
        })}
        {warnings.map((text) => (
          <p key={text} className="notice-text">
            <ChannelName text={text} />
          </p>
        ))}
      </section>
      <div className="say notice">
        <NoticeSign />
        <div>
          <b>{words.feed}</b> <span className="second">{words.roomCo}</span>
        </div>
      </div>
    </BenchFrame>
  );
}
