import { useEffect, useState } from 'react';
import { lastRound } from '../../../../shared/bench/bench-test.ts';
import { keepsGas, type GasSlot } from '../../../../shared/bench/plan.ts';
import { gasOf } from '../../../../shared/bench/references.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchRun } from '../../../../shared/words/bench/bench-run.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Field } from '../../../components/Field.tsx';
import { BenchFrame, type MainDeed } from '../BenchFrame.tsx';
import { sessionOf } from '../bench-screen.ts';
import { useBench, useBenchScreen, useMayAct } from '../use-bench.ts';
import { InstrumentColumn } from './InstrumentColumn.tsx';
import { StepLine } from './StepLine.tsx';
import { runDeed, runSays, waitingOf } from './run-says.ts';
import '../BenchFrame.css';
import './run.css';

const words = benchRun;

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
          submit={async () => {
            if (why.trim() === '') return;
            if (step === undefined) return close();
            const how = asks === 'stop' ? 'rest' : 'left-out';
            const done = await actions.ask('bench.skip', { testIds: session.testIds, stepId: step.id, how, why: why.trim() });
            if (done !== undefined) close();
          }}
          foot={<DialogFoot main={asks === 'stop' ? words.stop : words.leaveOut} off={why.trim() === ''} />}
        >
          <Field label={words.leaveOutWhy} value={why} change={setWhy} numeric={false} first />
        </Dialog>
      )}
    </BenchFrame>
  );
}
