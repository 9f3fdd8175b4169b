import { useState } from 'react';
import { derive } from '../../../../shared/combustion/figures/derive.ts';
import { combustionInput } from '../../../../shared/tuning/visit/before-after.ts';
import { conditionsOf } from '../../../../shared/tuning/visit/conditions.ts';
import type { ProbeGate } from '../../../../shared/tuning/trial/probe-gate.ts';
import { probeWords } from '../../../../shared/words/tune/probe.ts';
import { stepWords } from '../../../../shared/words/visit/steps.ts';
import { sinceWords } from '../../../../shared/words/visit/since-last.ts';
import { foundWords as words } from '../../../../shared/words/visit/screens/as-found.ts';
import { visitWords } from '../../../../shared/words/visit/visit-thread.ts';
import { useApp } from '../../../app-parts.ts';
import { Key } from '../../../components/Key.tsx';
import { useKey } from '../../../keys/use-key.ts';
import { selectRun } from '../../../state/selectors.ts';
import { KeptField } from '../../../fields/KeptField.tsx';
import { plainText, typedQuantity } from '../../../fields/typed.ts';
import { foundDeedOf } from './found-deed.ts';
import { MissingList, StepFrame, type MainAct } from './frame/StepFrame.tsx';
import { PapersFields } from '../start/PapersFields.tsx';
import { SinceFinding, SinceTable, useSinceLast } from '../start/SinceLast.tsx';
import { AdjustersFound } from './AdjustersFound.tsx';
import { StagePicker } from '../start/StagePicker.tsx';
import { TrialTable } from '../curve/TrialTable.tsx';
import { numberOf } from '../visit-facts.ts';
import { useProbeGate } from '../use-probe-gate.ts';
import { useEntryKeys, useVisit } from '../use-visit.ts';
import { formatSmoke, formatWithHalf, shownAs } from '../../../../shared/format/quantity.ts';
import './steps.css';

/** Which trial is the burner as it was found; or why there is none. */
export function AsFoundStep() {
  const here = useVisit();
  const { visit, stage, stageIndex, units, may, edit, put } = here;
  const hasRun = useApp((state) => selectRun(state) !== undefined);
  const stepChosen = useApp((state) => state.stepChosen);
  const panelOpened = useApp((state) => state.panelOpened);
  const sideTurned = useApp((state) => state.sideTurned);
  const entryOpened = useApp((state) => state.entryOpened);
  const trials = visit.trials.filter((trial) => trial.setting.stage === stage.name);
  const [picked, setPicked] = useState<string>();
  const candidate = trials.find(({ id }) => id === (picked ?? stage.asFoundTrialId)) ?? trials.find(({ reading }) => reading !== undefined);
  const lastVisit = useApp((state) => state.lastVisit);
  const since = useSinceLast(candidate?.id);
  useKey('curve', sideTurned, hasRun);
  useEntryKeys(hasRun && may);
  const choose = (id: string): void =>
    void put(
      { path: ['stages', stageIndex, 'asFoundTrialId'], after: id },
      { path: ['stages', stageIndex, 'asFoundByHand'], after: true },
      { path: ['stages', stageIndex, 'asFoundSkippedReason'] },
    );
  const takeBack = (): void =>
    void put({ path: ['stages', stageIndex, 'asFoundTrialId'] }, { path: ['stages', stageIndex, 'asFoundByHand'], after: true });
  const gate = useProbeGate();
  const deed = foundDeedOf({
    gate,
    hasRun,
    isSkipped: stage.asFoundSkippedReason !== undefined,
    candidate:
      candidate === undefined ? undefined : { number: numberOf(visit, candidate.id), isChosen: stage.asFoundTrialId === candidate.id },
  });
  const run = (): void => {
    if (deed?.does === 'use' && candidate !== undefined) choose(candidate.id);
    else if (deed?.does === 'spot') entryOpened('probe');
    else if (deed?.does === 'live') stepChosen('as-found', 'live');
    else panelOpened('source');
  };
  const main: MainAct | undefined =
    deed === undefined ? undefined : { text: deed.text, run, blocked: !may && (deed.does === 'use' || deed.does === 'spot') };
  const leaveOut = (dark: Extract<ProbeGate, { state: 'too-dark' | 'oil' }>): void =>
    void put({
      path: ['stages', stageIndex, 'asFoundSkippedReason'],
      after: dark.state === 'oil' ? probeWords.skipOil : probeWords.skipReason(formatSmoke(dark.smoke)),
    });
  return (
    <StepFrame
      step="as-found"
      main={main}
      says={deed === undefined ? undefined : <b>{deed.says}</b>}
      others={
        <>
          {(gate.state === 'too-dark' || gate.state === 'oil') && stage.asFoundSkippedReason === undefined && (
            <button type="button" className="button tall" disabled={!may} onClick={() => leaveOut(gate)}>
              {probeWords.skipFound(gate.state === 'oil' ? probeWords.oil : formatSmoke(gate.smoke))}
            </button>
          )}
          {stage.asFoundTrialId !== undefined && may && (
            <button type="button" className="button tall" onClick={takeBack}>
              {words.takeBackFound(numberOf(visit, stage.asFoundTrialId))}
            </button>
          )}
          {hasRun && (
            <button type="button" className="button tall" onClick={sideTurned}>
              {visitWords.liveSide} <Key action="curve" />
            </button>
          )}
        </>
      }
      right={
        <>
          {typeof since === 'string' ? (
            since !== 'nothing-left' && <p className="second">{sinceWords.none[since]}</p>
          ) : (
            <SinceFinding since={since} />
          )}
          <MissingList step="as-found" />
          <Efficiency trialId={stage.asFoundTrialId ?? candidate?.id} />
          <section aria-label={words.skip}>
            <h2>{words.skip}</h2>
            <KeptField
              name={`skip-${stage.name}`}
              label={words.skipReason}
              numeric={false}
              disabled={!may}
              shown={stage.asFoundSkippedReason ?? ''}
              parse={plainText}
              keep={(reason) => edit({ path: ['stages', stageIndex, 'asFoundSkippedReason'], after: reason })}
            />
          </section>
        </>
      }
    >
      <StagePicker />
      <AdjustersFound here={here} />
      {typeof since !== 'string' && <SinceTable since={since} foundNumber={numberOf(visit, candidate?.id)} />}
      <h2>{words.title}</h2>
      <p className="second">{stepWords['as-found'].about}</p>
      {trials.length === 0 ? (
        <p className="lead empty-line">{hasRun ? words.none : visitWords.noSource}</p>
      ) : (
        <TrialTable follows={false} visit={visit} trials={trials} units={units} nowId={candidate?.id} choose={setPicked} temperatures />
      )}
      {lastVisit === undefined && <PapersFields />}
    </StepFrame>
  );
}

/** The figure that the visit is about, or why it is blank; an air temperature can be typed for it. */
export function Efficiency({ trialId }: { trialId: string | undefined }) {
  const { visit, units, may, edit } = useVisit();
  const trial = visit.trials.find(({ id }) => id === trialId);
  const conditions = conditionsOf(visit);
  if (trial?.reading === undefined || conditions === undefined) return null;
  const input = combustionInput(trial, conditions);
  const derived = input === undefined ? undefined : derive(input);
  const value = derived?.values.efficiencyHhvPercent;
  const half = derived?.expanded.efficiencyHhvPercent;
  const text = value === undefined || half === undefined ? undefined : formatWithHalf('efficiencyHhvPercent', { value, half }, units);
  const lacksAir = trial.reading.channels.airTemperature === undefined;
  return (
    <section aria-label={words.efficiency}>
      <h2>{words.efficiency}</h2>
      {text === undefined ? (
        <p className="second">{lacksAir && visit.airTypedC === undefined ? words.noAir : '–'}</p>
      ) : (
        <p className="figure-line">
          {text.value} <span className="plus-minus">{text.half}</span> <span className="unit">%</span>
        </p>
      )}
      {lacksAir && (
        <KeptField
          name="air-typed"
          label={words.airTyped}
          width={200}
          unit={shownAs('airTemperature', units).unit}
          disabled={!may}
          shown={
            visit.airTypedC === undefined
              ? ''
              : String(Math.round(visit.airTypedC * shownAs('airTemperature', units).factor + shownAs('airTemperature', units).offset))
          }
          parse={(typed) => typedQuantity(typed, 'airTemperature', units)}
          keep={(airC) => edit({ path: ['airTypedC'], after: airC })}
        />
      )}
    </section>
  );
}
