import { useEffect, useRef, useState } from 'react';
import { lastRound, nextStepIndex, type BenchTest } from '../../../shared/bench/bench-test.ts';
import type { BenchColumn } from '../../../shared/ipc/bench-commands.ts';
import { keepsGas, type GasSlot, type PlanStep } from '../../../shared/bench/plan.ts';
import { channelsOf, gasOf, targetOf } from '../../../shared/bench/references.ts';
import { bench } from '../../../shared/words/bench.ts';
import { common } from '../../../shared/words/common.ts';
import { formatDuration } from '../../../shared/format/duration.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { Choice, Field } from '../../components/Field.tsx';
import { Dialog } from '../../components/Dialog.tsx';
import { NoticeSign } from '../../components/Signs.tsx';
import { isSilent } from '../../state/channels.ts';
import { sourceLabel } from '../../state/source-state.ts';
import { StepSign } from '../visit/VisitSigns.tsx';
import { certified, unitOf } from '../../../shared/words/bench-format.ts';
import { sessionOf } from './bench-screen.ts';
import { BenchFrame, type MainDeed } from './BenchFrame.tsx';
import { ResponsePicture } from './ResultPictures.tsx';
import { HoldLane } from './HoldLane.tsx';
import { isLost, runDeed, runSays, waitingOf, type ColumnFacts } from './run-says.ts';
import { useBench, useBenchScreen, useMayAct } from './use-bench.ts';
import { formatNumber, DASH } from '../../../shared/format/quantity.ts';

const words = bench.run;

/** The plan as it runs: one column per instrument, one sentence, one main button. */
export function RunView({ testId }: { testId: string }) {
  const { actions } = useParts();
  const screen = useBenchScreen();
  const may = useMayAct();
  const session = useBench((state) => sessionOf(state, testId));
  const loaded = useBench((state) => state.loaded);
  const docs = useBench((state) => state.lists['bench-test']);
  const runs = useApp((state) => state.runs);
  const panelOpened = useApp((state) => state.panelOpened);
  const [asks, setAsks] = useState<'leave-out' | 'stop'>();
  const [why, setWhy] = useState('');
  const isOver = loaded && session === undefined;
  useEffect(() => {
    // the host does not lead it any more: it is in the list, to be gone on with
    if (isOver) screen.show({ kind: 'home' });
  }, [isOver, screen]);
  if (session === undefined) return null;
  const tests = session.testIds.flatMap((id) => {
    const doc = docs.find((one) => one.id === id);
    return doc === undefined ? [] : [doc];
  });
  const first = tests[0]?.body;
  if (first === undefined) return null;
  const steps = first.plan.steps;
  const step = steps[session.stepIndex];
  const gasName = (slot: GasSlot): string => (slot === 'air' ? bench.slots.air : (gasOf(first.gases, slot)?.name ?? bench.slots[slot]));
  const columns = tests.map(({ id, body }) => ({
    id,
    test: body,
    record: runs[body.runId],
    state: session.columns.find((one) => one.testId === id),
  }));
  const simulated = columns.some(({ record }) => record?.info.source.kind === 'simulated');
  const facts = { columns, step, stepIndex: session.stepIndex, gasName, same: keepsGas(steps, session.stepIndex) };
  const waits = waitingOf(facts);
  const deed = runDeed(facts);
  const main: MainDeed = {
    text: deed.text,
    ...(deed.does === 'press' && step !== undefined
      ? {
          run: () => void actions.ask('bench.press', { testIds: session.testIds, stepId: step.id }),
          blocked: !may || deed.off,
          key: 'mark' as const,
        }
      : { run: () => (deed.does === 'source' ? panelOpened('source') : screen.show({ kind: 'result', testId: tests[0]?.id ?? '' })) }),
  };
  const close = (): void => {
    setAsks(undefined);
    setWhy('');
  };
  return (
    <BenchFrame
      title={tests.length === 1 ? first.instrument.name : words.instruments}
      about={
        <>
          {first.plan.name} · {lastRound(first).kind === 'as-left' ? words.asLeft : words.asFound}
          {step !== undefined && ` · ${words.step(session.stepIndex + 1, steps.length)}`}
        </>
      }
      back={() => screen.show({ kind: 'home' })}
      isMeasured={step !== undefined}
      says={
        <b>
          <ChannelName text={runSays(facts)} />
        </b>
      }
      others={
        step !== undefined && (
          <>
            {simulated && waits.length > 0 && <span className="second small bench-inlet">{words.simulatedInlet}</span>}
            <button type="button" className="button tall-row" disabled={!may} onClick={() => setAsks('leave-out')}>
              {words.leaveOut}
            </button>
            <button type="button" className="button tall-row" disabled={!may} onClick={() => setAsks('stop')}>
              {words.stop}
            </button>
          </>
        )
      }
      main={main}
      right={
        <section aria-label={words.steps}>
          <h3>{words.steps}</h3>
          <ol className="bench-steps">
            {steps.map((one, index) => (
              <StepLine
                key={one.id}
                step={one}
                index={index}
                now={session.stepIndex}
                tests={tests.map(({ body }) => body)}
                gasName={gasName}
              />
            ))}
          </ol>
        </section>
      }
    >
      <div className={`bench-columns of-${columns.length}`}>
        {columns.map(({ id, test, record, state }) => (
          <InstrumentColumn
            key={id}
            id={id}
            test={test}
            record={record}
            state={state}
            step={step}
            stepIndex={session.stepIndex}
            gasName={gasName}
          />
        ))}
      </div>
      {asks !== undefined && (
        <Dialog
          title={asks === 'stop' ? words.stop : words.leaveOut}
          close={close}
          submit={() => {
            if (why.trim() === '') return;
            if (step === undefined) return close();
            const how = asks === 'stop' ? 'rest' : 'left-out';
            void actions
              .ask('bench.skip', { testIds: session.testIds, stepId: step.id, how, why: why.trim() })
              .then((done) => done !== undefined && close());
          }}
          foot={
            <>
              <span className="grow" />
              <button type="submit" className="button main" disabled={why.trim() === ''}>
                {asks === 'stop' ? words.stop : words.leaveOut} <kbd aria-hidden="true">Enter</kbd>
              </button>
            </>
          }
        >
          <Field label={words.leaveOutWhy} value={why} change={setWhy} numeric={false} first />
        </Dialog>
      )}
    </BenchFrame>
  );
}

function StepLine({
  step,
  index,
  now,
  tests,
  gasName,
}: {
  step: PlanStep;
  index: number;
  now: number;
  tests: readonly BenchTest[];
  gasName: (slot: GasSlot) => string;
}) {
  const ends = tests.flatMap((test) => lastRound(test).steps[index]?.end ?? []);
  const flaw = ends.find((end) => end !== 'reached');
  const state = index < now ? (flaw === undefined ? 'done' : 'stale') : index === now ? 'now' : 'todo';
  const line = useRef<HTMLLIElement>(null);
  useEffect(() => {
    // a long plan: the running step stays in view, with what comes next
    if (index === now) line.current?.scrollIntoView({ block: 'center' });
  }, [index, now]);
  return (
    <li ref={line} className={index === now ? 'bench-step now' : 'bench-step'} aria-current={index === now ? 'step' : undefined}>
      <span className="step-sign">
        <StepSign state={state} />
      </span>
      <span className="grow">
        {bench.purposes[step.purpose]} {step.purpose !== 'fresh-air' && <span className="second">{gasName(step.slot)}</span>}
      </span>
      <span className="second small">
        {index < now
          ? flaw === 'left-out'
            ? words.leftOut
            : flaw === 'not-reached'
              ? words.notReached
              : ''
          : formatDuration(step.holdS * 1000)}
      </span>
    </li>
  );
}

/** The way to the gas as it comes, where the screen has room for it: the channel that has farthest to go. */
function Way({ test, way, step }: { test: BenchTest; way: BenchColumn['way']; step: PlanStep }) {
  return way === undefined ? null : (
    <div className="bench-way">
      <span className="second small">
        <ChannelName text={bench.result.way(bench.channels[way.channel])} />
      </span>
      <ResponsePicture channel={way.channel} points={way.points} response={undefined} target={targetOf(test, step.slot, way.channel)} />
    </div>
  );
}

function InstrumentColumn({
  id,
  test,
  record,
  state,
  step,
  stepIndex,
  gasName,
}: ColumnFacts & { step: PlanStep | undefined; stepIndex: number; gasName: (slot: GasSlot) => string }) {
  const { actions } = useParts();
  const may = useMayAct();
  const runs = useApp((all) => all.runs);
  const panelOpened = useApp((all) => all.panelOpened);
  const closed = nextStepIndex(test) > stepIndex;
  const lost = isLost(record);
  const silent = record !== undefined && !lost && isSilent(record);
  const phase = step === undefined || closed ? 'closed' : lost ? 'lost' : silent ? 'silent' : (state?.phase ?? 'waiting');
  const trouble = ['lost', 'silent', 'no-change', 'other-gas'].includes(phase);
  const others = Object.values(runs).filter(({ info }) => info.phase !== 'ended');
  const ended = record === undefined || record.info.phase === 'ended';
  const held = state === undefined || step === undefined ? 0 : state.heldS / step.holdS;
  return (
    <section className="bench-column" aria-label={test.instrument.name}>
      <h2>{test.instrument.name}</h2>
      <p className="second small">
        {record === undefined ? words.noRun : record.info.source.kind === 'simulated' ? common.simulated : sourceLabel(record.info)}
      </p>
      <ul className="bench-figures">
        {channelsOf(test.instrument.cells).map((channel) => {
          const value = lost || silent ? undefined : state?.latest[channel];
          const target = step === undefined ? undefined : targetOf(test, step.slot, channel);
          return (
            <li key={channel}>
              <span className="bench-label">
                <ChannelName text={bench.channels[channel]} /> <span className="unit">{unitOf(channel)}</span>
              </span>
              <span className={`bench-figure${value === undefined ? ' third' : ''}`}>
                {value === undefined ? DASH : formatNumber(value, unitOf(channel) === '%' ? 1 : 0)}
              </span>
              <span className="second small bench-target">
                {target === undefined ? '' : (step?.slot === 'air' ? words.shouldRead : words.certified)(certified(channel, target))}
              </span>
            </li>
          );
        })}
      </ul>
      <div className="bench-state">
        <HoldLane phase={phase} part={held} />
        <div>
          <div className={`bench-word${trouble ? ' notice-text' : ''}`}>{words.columnWords[phase]}</div>
          {phase === 'holding' && step !== undefined && state !== undefined && (
            <div className="second">{words.held(formatDuration(state.heldS * 1000), formatDuration(step.holdS * 1000))}</div>
          )}
        </div>
      </div>
      {!trouble && step !== undefined && !closed && <Way test={test} way={state?.way} step={step} />}
      {trouble && step !== undefined && (
        <div className="say notice bench-trouble" role="status">
          <NoticeSign />
          <div className="grow">
            <b>
              <ChannelName
                text={
                  phase === 'other-gas'
                    ? state?.looksLike === undefined
                      ? words.unknownGas(test.instrument.name)
                      : words.otherGas(test.instrument.name, gasName(state.looksLike as GasSlot), gasName(step.slot))
                    : phase === 'no-change'
                      ? words.noChange(test.instrument.name, gasName(step.slot))
                      : phase === 'silent'
                        ? words.silentNow(test.instrument.name)
                        : words.lost(test.instrument.name)
                }
              />
            </b>
          </div>
        </div>
      )}
      {trouble && step !== undefined && (
        <div className="form-row">
          {phase === 'other-gas' && (
            <button
              type="button"
              className="button"
              disabled={!may}
              onClick={() => void actions.ask('bench.accept', { testId: id, stepId: step.id })}
            >
              {words.accept}
            </button>
          )}
          <button
            type="button"
            className="button"
            disabled={!may}
            onClick={() => void actions.ask('bench.skip', { testIds: [id], stepId: step.id, how: 'not-reached', why: words.goOnWhy })}
          >
            {words.goOnWithout}
          </button>
          {ended && (
            <button type="button" className="button" disabled={!may} onClick={() => panelOpened('source', 'serial')}>
              {words.connect}
            </button>
          )}
        </div>
      )}
      {ended && step !== undefined && others.length > 0 && (
        <Choice
          label={words.noRun}
          value={test.runId}
          change={(runId) => void actions.ask('bench.move', { testId: id, runId })}
          options={[
            { value: test.runId, text: bench.setUp.chooseRun },
            ...others.map(({ info }) => ({ value: info.runId, text: sourceLabel(info) })),
          ]}
        />
      )}
    </section>
  );
}
