/** The worst-case test: the steady draft with the fans off and on, logged by the host. */
import type { Output } from '../../../../shared/ipc/contract.ts';
import {
  LEAST_PHASE_MS,
  judgeWorstCase,
  usualWorstRule,
  worstVerdict,
  type PhaseFigures,
  type Venting,
  type WorstCase,
} from '../../../../shared/tuning/safety/venting.ts';
import { ventWords as words } from '../../../../shared/words/visit/venting.ts';
import { visitWords } from '../../../../shared/words/visit/visit-thread.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import type { VisitChange } from '../../../backend/visit-edits.ts';
import { selectRun } from '../../../state/selectors.ts';
import { KeptField } from '../../../fields/KeptField.tsx';
import { plainText } from '../../../fields/typed.ts';
import { useAnswer } from '../../../queries/use-answer.ts';
import { StepFrame, type MainAct } from '../steps/frame/StepFrame.tsx';
import { VentTrace } from './VentTrace.tsx';
import { useVisit } from '../use-visit.ts';
import { formatClock, formatDuration } from '../../../../shared/format/duration.ts';
import { RuleFields, TypedFigures, WorstTable } from './WorstCaseFields.tsx';
import { defined } from '../../../../shared/defined.ts';
import { noVenting, savedOf } from './worst-case.ts';
import '../visit.css';
import './safety.css';

type Trace = Output<'visit.ventTrace'>;
/** how far the simulated house's fans pull the room down, Pa, and how long they take */
const SIMULATED_FANS = { pa: 6, overS: 20 } as const;

/** What the host has measured since the test began, asked for as long as it runs. */
const useTrace = (test: WorstCase | undefined): Trace | undefined =>
  useAnswer(
    'visit.ventTrace',
    test && { runId: test.runId, fromMs: test.offFromMs, ...defined({ onFromMs: test.onFromMs, toMs: test.toMs }) },
    { when: 'once', everyMs: test?.toMs === undefined ? 1000 : undefined },
  );

const filled = (measured: PhaseFigures | undefined, typed: PhaseFigures | undefined): PhaseFigures => ({ ...typed, ...measured });

export function WorstCaseTest({ venting, list }: { venting: Venting; list: React.ReactNode }) {
  const { visits, actions, sounds } = useParts();
  const { visit, units, may, edit, put: press } = useVisit();
  const record = useApp(selectRun);
  const panelOpened = useApp((state) => state.panelOpened);
  const at = venting.worstCases.length - 1;
  const newest = venting.worstCases[at];
  const isRunning = newest !== undefined && newest.savedWallMs === undefined;
  const trace = useTrace(newest?.runId === record?.info.runId ? newest : undefined);
  const off = isRunning ? filled(trace?.off, newest.off) : newest?.off;
  const on = isRunning ? (newest.onFromMs === undefined ? undefined : filled(trace?.on, newest.on)) : newest?.on;
  const rule = newest?.rule ?? usualWorstRule;
  const lines = judgeWorstCase({ off, on, rule });
  const verdict = worstVerdict(lines);
  const canMeasure = record?.info.phase === 'running' && record.info.replay === undefined;
  const isLost = isRunning && (record === undefined || newest.runId !== record.info.runId || record.info.phase === 'ended');
  const isSilent = Object.values(record?.face.states ?? {}).some((one) => one.state === 'silent');
  const nowMs = trace?.nowMs ?? record?.face.timeMs ?? 0;
  const phaseMs = newest === undefined ? 0 : nowMs - (newest.onFromMs ?? newest.offFromMs);
  const left = Math.max(0, LEAST_PHASE_MS - phaseMs);

  const changed = (test: WorstCase, index: number): VisitChange =>
    visit.venting === undefined
      ? { path: ['venting'], after: { ...noVenting, worstCases: [test] } }
      : { path: ['venting', 'worstCases', index], after: test };
  const put = (test: WorstCase, index: number): string | undefined => edit(changed(test, index));
  const fans = (areOn: boolean): void => {
    if (record?.info.simulator === undefined) return;
    void actions.ask('simulator.part', {
      runId: record.info.runId,
      part: 'roomDepressionPa',
      value: areOn ? SIMULATED_FANS.pa : 0,
      overS: SIMULATED_FANS.overS,
    });
  };
  const begin = (): void => {
    if (record === undefined) return;
    const begun = changed(
      {
        runId: record.info.runId,
        startWallMs: visits.nowWallMs(),
        offFromMs: Math.round(record.face.timeMs),
        rule: savedOf(venting)?.rule ?? usualWorstRule,
        ...defined({ house: savedOf(venting)?.house }),
      },
      isLost ? at : at + 1,
    );
    // what the visit does not take leaves no mark in the run, no sound and no fan that turns
    if (!press(begun)) return;
    void actions.mark({ kind: 'note', text: words.mark.off });
    sounds.play('mark');
  };
  const fansOn = (): void => {
    if (!isRunning) return;
    if (!press(changed({ ...newest, onFromMs: Math.round(nowMs) }, at))) return;
    void actions.mark({ kind: 'note', text: words.mark.on });
    fans(true);
    sounds.play('mark');
  };
  const save = (): void => {
    if (!isRunning || on === undefined) return;
    if (!press(changed({ ...newest, off, on, toMs: Math.round(nowMs), savedWallMs: visits.nowWallMs() }, at))) return;
    fans(false);
    sounds.play('mark');
  };
  const stop = (): void => {
    if (press({ path: ['venting', 'worstCases'], after: venting.worstCases.slice(0, -1) })) fans(false);
  };
  const main: MainAct =
    !canMeasure && !isRunning
      ? { text: visitWords.connect, run: () => panelOpened('source') }
      : newest === undefined || isLost
        ? { text: words.begin, run: begin, blocked: !may || !canMeasure }
        : !isRunning
          ? { text: words.again, run: begin, blocked: !may }
          : newest.onFromMs === undefined
            ? { text: words.fansOn, run: fansOn, blocked: !may || left > 0 }
            : {
                text: verdict === 'too-close' ? words.saveAnyway : words.save,
                run: save,
                blocked: !may || left > 0,
                plain: verdict === 'too-close',
              };
  const says = isLost
    ? words.says.ended
    : newest === undefined
      ? canMeasure
        ? words.says.none
        : words.says.noRun
      : !isRunning
        ? words.says.saved(words.verdictWords[verdict], formatClock(newest.savedWallMs ?? newest.startWallMs, visit.zoneMinutes, 'minutes'))
        : newest.onFromMs === undefined
          ? left > 0
            ? words.says.off(formatDuration(left))
            : words.says.offReady
          : left > 0
            ? words.says.on(formatDuration(left))
            : words.says[verdict];
  return (
    <StepFrame
      step="safety"
      main={main}
      says={<b>{says}</b>}
      others={
        isRunning && (
          <button type="button" className="button tall" disabled={!may} onClick={stop}>
            {words.stop}
          </button>
        )
      }
    >
      <div className="safety">
        {list}
        <section className="safety-test" aria-labelledby="vent-title">
          <h2 id="vent-title">{words.worst}</h2>
          {newest === undefined && <p className="second">{words.about}</p>}
          {newest !== undefined && trace !== undefined && trace.points.length > 1 && (
            <VentTrace
              points={trace.points}
              lines={lines}
              fromMs={newest.offFromMs}
              onFromMs={newest.onFromMs}
              nowMs={nowMs}
              units={units}
              live={isRunning && canMeasure && !isLost && !isSilent}
            />
          )}
          <WorstTable lines={lines} />
          {isRunning && <TypedFigures test={newest} sent={trace} put={(test) => put(test, at)} />}
          {newest !== undefined && (
            <KeptField
              name="vent-house"
              label={words.house}
              numeric={false}
              width="min(560px, 100%)"
              hint={words.houseHint}
              disabled={!may}
              shown={newest.house ?? ''}
              parse={plainText}
              keep={(house) => {
                const { house: _gone, ...rest } = newest;
                return put(house === undefined ? rest : { ...rest, house: house.slice(0, 300) }, at);
              }}
            />
          )}
          {newest !== undefined && <RuleFields rule={rule} keep={(next) => put({ ...newest, rule: next }, at)} />}
        </section>
      </div>
    </StepFrame>
  );
}
