/** Air for combustion and venting, beside the safety tests: one list, and the worst-case test that is logged. */
import { useEffect, useState } from 'react';
import type { Output } from '../../../../shared/ipc/contract.ts';
import { worstFigure, worstLimit, worstUnit } from '../../../../shared/report/worst-figures.ts';
import { VerdictSign, type SignName } from '../../../../shared/report/drawings/VerdictSign.tsx';
import {
  LEAST_PHASE_MS,
  judgeWorstCase,
  usualWorstRule,
  worstQuantities,
  worstVerdict,
  type PhaseFigures,
  type VentItem,
  type Venting,
  type WorstCase,
  type WorstLine,
  type WorstQuantity,
  type WorstRule,
} from '../../../../shared/tuning/safety/venting.ts';
import { ventWords as words } from '../../../../shared/words/tune/venting.ts';
import { safetyScreen } from '../../../../shared/words/tune/visit.ts';
import { visitWords } from '../../../../shared/words/tune/visit-thread.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { selectRun } from '../../../state/selectors.ts';
import { KeptField } from '../../../fields/KeptField.tsx';
import { plainText, typedPlain, typedQuantity } from '../../../fields/typed.ts';
import { JudgeButton } from './SafetyParts.tsx';
import { StepFrame, type MainAct } from '../steps/StepFrame.tsx';
import { VentTrace } from './VentTrace.tsx';
import { useVisit } from '../use-visit.ts';
import { formatClock, formatDuration } from '../../../../shared/format/duration.ts';
import { defined } from '../../../../shared/defined.ts';
import '../visit.css';
import './safety.css';

type Chosen = VentItem | 'worst-case';
type Trace = Output<'visit.ventTrace'>;
const none: Venting = { checks: [], worstCases: [] };
const rows: readonly Chosen[] = ['openings', 'worst-case', 'regulator', 'pitch', 'joints', 'chimney', 'exchanger'];
/** how far the simulated house's fans pull the room down, Pa, and how long they take */
const SIMULATED_FANS = { pa: 6, overS: 20 } as const;

export function AirAndVenting({ toTests }: { toTests: React.ReactNode }) {
  const [chosen, choose] = useState<Chosen>('openings');
  const { visit } = useVisit();
  const venting = visit.venting ?? none;
  const list = <VentList venting={venting} chosen={chosen} choose={choose} toTests={toTests} />;
  return chosen === 'worst-case' ? (
    <WorstCaseTest venting={venting} list={list} />
  ) : (
    <OneItem key={chosen} item={chosen} venting={venting} list={list} goOn={() => choose(rows[rows.indexOf(chosen) + 1] ?? chosen)} />
  );
}

const savedOf = ({ worstCases }: Venting): WorstCase | undefined => worstCases.findLast(({ savedWallMs }) => savedWallMs !== undefined);
const worstSign = (test: WorstCase | undefined): SignName => {
  if (test === undefined) return 'open';
  const verdict = worstVerdict(judgeWorstCase(test));
  return verdict === 'not-judged' ? 'not-applicable' : verdict === 'too-close' ? 'too-close' : verdict;
};

function VentList({
  venting,
  chosen,
  choose,
  toTests,
}: {
  venting: Venting;
  chosen: Chosen;
  choose: (item: Chosen) => void;
  toTests: React.ReactNode;
}) {
  const latest = new Map(venting.checks.map((check) => [check.item, check]));
  return (
    <nav className="safety-list vent-list" aria-label={words.title}>
      {toTests}
      <ul>
        {rows.map((row) => {
          const isNow = row === chosen;
          const check = row === 'worst-case' ? undefined : latest.get(row);
          const sign = row === 'worst-case' ? worstSign(savedOf(venting)) : (check?.result ?? (isNow ? 'now' : 'open'));
          return (
            <li key={row}>
              <button
                type="button"
                className={`safety-row${isNow ? ' now' : ''}`}
                aria-current={isNow ? 'step' : undefined}
                onClick={() => choose(row)}
              >
                <VerdictSign verdict={sign} />
                <span className={`safety-name${isNow ? ' bold' : ''}`}>{row === 'worst-case' ? words.worst : words.items[row]}</span>
                <span className="grow" />
                <span className="small second unwrapped">{check === undefined ? '' : words.results[check.result]}</span>
              </button>
            </li>
          );
        })}
      </ul>
    </nav>
  );
}

function OneItem({ item, venting, list, goOn }: { item: VentItem; venting: Venting; list: React.ReactNode; goOn: () => void }) {
  const { visits, sounds } = useParts();
  const { visit, may, edit } = useVisit();
  const before = venting.checks.findLast((check) => check.item === item);
  const [note, setNote] = useState(before?.note ?? '');
  const judge = (result: 'pass' | 'fail' | 'not-applicable'): void => {
    const check = { item, result, ...(note.trim() === '' ? {} : { note: note.trim().slice(0, 300) }), wallMs: visits.nowWallMs() };
    edit(
      visit.venting === undefined
        ? { path: ['venting'], after: { ...none, checks: [check] } }
        : { path: ['venting', 'checks', venting.checks.length], after: check },
    );
    sounds.play('mark');
    goOn();
  };
  return (
    <StepFrame
      step="safety"
      bar={
        <div className="judge-row">
          <JudgeButton sign="pass" text={words.pass} action="pass" ready may={may} run={() => judge('pass')} />
          <JudgeButton sign="fail" text={words.fail} action="fail" ready may={may} run={() => judge('fail')} />
          <JudgeButton sign="not-applicable" text={words.na} action="notApplicable" ready may={may} run={() => judge('not-applicable')} />
        </div>
      }
    >
      <div className="safety">
        {list}
        <section className="safety-test" aria-labelledby="vent-title">
          <h2 id="vent-title">{words.items[item]}</h2>
          <p className="todo">{words.todo[item]}</p>
          <p className="second">
            {safetyScreen.passesWhen}: {words.passes[item]}
          </p>
          {before !== undefined && (
            <p>
              <b>{words.results[before.result]}</b> {words.at(formatClock(before.wallMs, visit.zoneMinutes, 'minutes'))}
            </p>
          )}
          <KeptField
            name={`vent-${item}`}
            label={words.note}
            numeric={false}
            width="min(560px, 100%)"
            disabled={!may}
            shown={note}
            parse={plainText}
            keep={(text) => {
              setNote(text ?? '');
              return undefined;
            }}
          />
        </section>
      </div>
    </StepFrame>
  );
}

/** What the host has measured since the test began, asked for as long as it runs. */
function useTrace(test: WorstCase | undefined): Trace | undefined {
  const { actions } = useParts();
  const [trace, setTrace] = useState<Trace>();
  const { runId, offFromMs, onFromMs, toMs } = test ?? {};
  useEffect(() => {
    if (runId === undefined || offFromMs === undefined) return;
    let isOver = false;
    const ask = (): void =>
      void actions
        .ask('visit.ventTrace', {
          runId,
          fromMs: offFromMs,
          ...defined({ onFromMs, toMs }),
        })
        .then((found) => {
          if (!isOver && found !== undefined) setTrace(found);
        });
    ask();
    const timer = toMs === undefined ? setInterval(ask, 1000) : undefined;
    return () => {
      isOver = true;
      clearInterval(timer);
    };
  }, [actions, runId, offFromMs, onFromMs, toMs]);
  return test === undefined ? undefined : trace;
}

const filled = (measured: PhaseFigures | undefined, typed: PhaseFigures | undefined): PhaseFigures => ({ ...typed, ...measured });

function WorstCaseTest({ venting, list }: { venting: Venting; list: React.ReactNode }) {
  const { visits, actions, sounds } = useParts();
  const { visit, units, may, edit } = useVisit();
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
  const nowMs = trace?.nowMs ?? record?.face.timeMs ?? 0;
  const phaseMs = newest === undefined ? 0 : nowMs - (newest.onFromMs ?? newest.offFromMs);
  const left = Math.max(0, LEAST_PHASE_MS - phaseMs);

  const put = (test: WorstCase, index: number): string | undefined =>
    edit(
      visit.venting === undefined
        ? { path: ['venting'], after: { ...none, worstCases: [test] } }
        : { path: ['venting', 'worstCases', index], after: test },
    );
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
    put(
      {
        runId: record.info.runId,
        startWallMs: visits.nowWallMs(),
        offFromMs: Math.round(record.face.timeMs),
        rule: savedOf(venting)?.rule ?? usualWorstRule,
        ...defined({ house: savedOf(venting)?.house }),
      },
      isLost ? at : at + 1,
    );
    void actions.mark({ kind: 'note', text: words.mark.off });
    sounds.play('mark');
  };
  const fansOn = (): void => {
    if (!isRunning) return;
    put({ ...newest, onFromMs: Math.round(nowMs) }, at);
    void actions.mark({ kind: 'note', text: words.mark.on });
    fans(true);
    sounds.play('mark');
  };
  const save = (): void => {
    if (!isRunning || on === undefined) return;
    put({ ...newest, off, on, toMs: Math.round(nowMs), savedWallMs: visits.nowWallMs() }, at);
    fans(false);
    sounds.play('mark');
  };
  const stop = (): void => {
    edit({ path: ['venting', 'worstCases'], after: venting.worstCases.slice(0, -1) });
    fans(false);
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

const sign = { pass: 'pass', fail: 'fail', 'too-close': 'too-close', 'no-limit': 'open', 'not-measured': 'open' } as const satisfies Record<
  WorstLine['verdict'],
  SignName
>;

function WorstTable({ lines }: { lines: readonly WorstLine[] }) {
  const { units } = useVisit();
  return (
    <table className="since-table vent-table" aria-label={words.worst}>
      <thead>
        <tr>
          <td />
          <th scope="col" className="right">
            {words.columns.off}
          </th>
          <th scope="col" className="right">
            {words.columns.on}
          </th>
          <th scope="col" className="right">
            {words.columns.change}
          </th>
          <th scope="col">{words.columns.rule}</th>
          <th scope="col">{words.columns.verdict}</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => {
          const write = (inner: number): string => worstFigure(line.quantity, inner, units);
          const half = line.changeHalf ?? 0;
          return (
            <tr key={line.quantity}>
              <th scope="row">
                <ChannelName text={words.quantities[line.quantity]} />
                <span className="basis">{worstUnit(line.quantity, units)}</span>
              </th>
              <td className="number right second">{line.off === undefined ? words.notSent : write(line.off.mean)}</td>
              <td className="number right bold">{line.on === undefined ? '–' : write(line.on.mean)}</td>
              <td className="number right">
                {line.change === undefined ? (
                  '–'
                ) : Math.abs(line.change) <= half ? (
                  words.within(write(half))
                ) : (
                  <>
                    {write(line.change)} <span className="plus-minus">±{write(half)}</span>
                  </>
                )}
              </td>
              <td>
                {worstLimit(line, units)}
                <span className="basis">{line.source}</span>
              </td>
              <td>
                <span className="verdict">
                  <VerdictSign verdict={sign[line.verdict]} /> {words.verdicts[line.verdict]}
                </span>
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** What the instrument does not send is read from the gauge and typed, for each phase. */
function TypedFigures({ test, sent, put }: { test: WorstCase; sent: Trace | undefined; put: (test: WorstCase) => string | undefined }) {
  const { units, may } = useVisit();
  const phase = test.onFromMs === undefined ? ('off' as const) : ('on' as const);
  const asked = (['draftPa', 'roomCoPpm'] as const).filter((quantity) => sent !== undefined && sent[phase]?.[quantity] === undefined);
  if (asked.length === 0) return null;
  return (
    <div className="form-row">
      {asked.map((quantity) => (
        <KeptField
          key={`${phase}-${quantity}`}
          name={`vent-${phase}-${quantity}`}
          label={`${words.quantities[quantity]}, ${words.typeFields[phase]}`}
          width={250}
          unit={worstUnit(quantity, units)}
          disabled={!may}
          shown={test[phase]?.[quantity] === undefined ? '' : worstFigure(quantity, test[phase][quantity].mean, units).replace('−', '-')}
          parse={(text) => (quantity === 'draftPa' ? typedQuantity(text, 'draft', units) : typedPlain(text))}
          keep={(mean) => {
            const { [quantity]: _gone, ...rest } = test[phase] ?? {};
            return put({
              ...test,
              [phase]: mean === undefined ? rest : { ...rest, [quantity]: { mean, half: 0, seconds: 0, typed: true } },
            });
          }}
        />
      ))}
    </div>
  );
}

const ruleKeys = {
  draftPa: ['draftHighPa', 'draftSource'],
  o2Percent: ['o2DropMost', 'o2Source'],
  roomCoPpm: ['roomCoBelowPpm', 'roomCoSource'],
} as const satisfies Record<WorstQuantity, readonly [keyof WorstRule, keyof WorstRule]>;

/** A limit counts with its source only. */
function RuleFields({ rule, keep }: { rule: WorstRule; keep: (rule: WorstRule) => string | undefined }) {
  const { units, may } = useVisit();
  return (
    <details className="vent-rule">
      <summary>{words.rule}</summary>
      {worstQuantities.map((quantity) => {
        const [limitKey, sourceKey] = ruleKeys[quantity];
        const limit = rule[limitKey];
        const put = (key: keyof WorstRule, value: number | string | undefined): string | undefined => {
          const { [key]: _gone, ...rest } = rule;
          return keep(value === undefined ? rest : { ...rest, [key]: value });
        };
        return (
          <div className="form-row" key={quantity}>
            <KeptField
              name={`vent-${limitKey}`}
              label={words.ruleFields[quantity]}
              width={250}
              unit={worstUnit(quantity, units)}
              disabled={!may}
              shown={limit === undefined ? '' : worstFigure(quantity, limit, units).replace('−', '-')}
              parse={(text) => (quantity === 'draftPa' ? typedQuantity(text, 'draft', units) : typedPlain(text))}
              keep={(value) => put(limitKey, value === undefined ? undefined : quantity === 'draftPa' ? -Math.abs(value) : value)}
            />
            <KeptField
              name={`vent-${sourceKey}`}
              label={words.source(words.quantities[quantity])}
              numeric={false}
              width={320}
              disabled={!may}
              hint={limit !== undefined && (rule[sourceKey] ?? '') === '' ? words.noSource : undefined}
              shown={rule[sourceKey] ?? ''}
              parse={plainText}
              keep={(text) => put(sourceKey, text?.slice(0, 200))}
            />
          </div>
        );
      })}
    </details>
  );
}
