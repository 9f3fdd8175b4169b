import { nextStepIndex, type BenchTest } from '../../../../shared/bench/bench-test.ts';
import type { GasSlot, PlanStep } from '../../../../shared/bench/plan.ts';
import { channelsOf, targetOf } from '../../../../shared/bench/references.ts';
import { formatDuration } from '../../../../shared/format/duration.ts';
import { DASH, formatNumber } from '../../../../shared/format/quantity.ts';
import type { BenchColumn } from '../../../../shared/ipc/bench-commands.ts';
import { certified, unitOf } from '../../../../shared/words/bench/bench-format.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchRun, benchSetUp } from '../../../../shared/words/bench/bench-run.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { common } from '../../../../shared/words/common.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Choice } from '../../../components/Field.tsx';
import { NoticeSign } from '../../../components/Signs.tsx';
import { isSilent } from '../../../state/channels.ts';
import { sourceLabel } from '../../../state/source-state.ts';
import { ResponsePicture } from '../result/ResultPictures.tsx';
import { useMayAct } from '../use-bench.ts';
import { HoldLane } from './HoldLane.tsx';
import { isLost, type ColumnFacts } from './run-says.ts';
import '../bench.css';
import './run.css';

const words = benchRun;

/** The way to the gas as it comes, where the screen has room for it: the channel that has farthest to go. */
function Way({ test, way, step }: { test: BenchTest; way: BenchColumn['way']; step: PlanStep }) {
  return way === undefined ? null : (
    <div className="bench-way">
      <span className="second small">
        <ChannelName text={benchResult.way(bench.channels[way.channel])} />
      </span>
      <ResponsePicture channel={way.channel} points={way.points} response={undefined} target={targetOf(test, step.slot, way.channel)} />
    </div>
  );
}

/** One instrument while a step runs: its figures, what it waits for, and what to do when it has trouble. */
export function InstrumentColumn({
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
            { value: test.runId, text: benchSetUp.chooseRun },
            ...others.map(({ info }) => ({ value: info.runId, text: sourceLabel(info) })),
          ]}
        />
      )}
    </section>
  );
}
