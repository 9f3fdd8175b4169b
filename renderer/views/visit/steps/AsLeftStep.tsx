import { useState } from 'react';
import { cardFigures } from '../../../../shared/tuning/card/card-figures.ts';
import { conditionsOf } from '../../../../shared/tuning/visit/conditions.ts';
import { judgeCard, type LineVerdict } from '../../../../shared/tuning/card/target-card.ts';
import { staleReason } from '../../../../shared/tuning/visit/staleness.ts';
import type { Trial } from '../../../../shared/tuning/trial/trial.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { leftScreen as words } from '../../../../shared/words/visit/screens/as-left.ts';
import { visitWords } from '../../../../shared/words/visit/visit-thread.ts';
import { settingWords } from '../../tune/setting-words.ts';
import { CardChooser } from '../card/CardChooser.tsx';
import { CardEditor } from '../card/CardEditor.tsx';
import { KeptField } from '../../../fields/KeptField.tsx';
import { plainText } from '../../../fields/typed.ts';
import { StepFrame, type MainAct } from './frame/StepFrame.tsx';
import { StagePicker } from '../start/StagePicker.tsx';
import { sameSetting } from '../../../../shared/tuning/trial/trials.ts';
import { tightenings } from '../../../../shared/tuning/trial/tightened.ts';
import type { RunRecord } from '../../../state/run-record.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { runningTrialOf } from '../../../state/selectors.ts';
import { mainDeedOf } from '../../tune/mark-bar/main-deed.ts';
import { MainButton } from '../../tune/mark-bar/MainButton.tsx';
import { TrialTable } from '../curve/TrialTable.tsx';
import { leftDeedOf, type LeftDeed } from './left-deed.ts';
import { numberOf, type CurveFacts } from '../visit-facts.ts';
import { useCurve, useVisit } from '../use-visit.ts';
import { AsLeftRight } from './AsLeftRight.tsx';
import { CardHead, CardTable } from '../card/CardTable.tsx';
import { Choice } from '../../../components/Field.tsx';

/** The trial that stays, against the card, against as-found, and against itself after tightening. */
export function AsLeftStep({ record }: { record: RunRecord | undefined }) {
  const { actions, sounds } = useParts();
  const { visit, stage, stageIndex, units, may, edit, put } = useVisit();
  const facts = useCurve();
  const running = useApp(runningTrialOf);
  const [window, setWindow] = useState<'choose' | 'edit'>();
  const withReading = visit.trials.filter((trial) => trial.setting.stage === stage.name && trial.reading !== undefined);
  const asLeft = withReading.find(({ id }) => id === stage.asLeftTrialId);
  const suggested = withReading.at(-1);
  const verdicts = verdictsOf(visit, asLeft, facts);
  const trialOptions = (none: string, trials: readonly Trial[]) => [
    { value: '', text: none },
    ...trials.map((trial) => ({
      value: trial.id,
      text: [visitWords.trial(numberOf(visit, trial.id)), settingWords(trial.setting)].filter((part) => part !== '').join(' · '),
    })),
  ];
  const echoes = asLeft === undefined ? [] : withReading.filter((trial) => trial.takenWallMs > asLeft.takenWallMs);
  const echo = echoes.find(({ id }) => id === stage.echoTrialId);
  const check = asLeft === undefined ? undefined : echoes.findLast((trial) => sameSetting(trial.setting, asLeft.setting));
  const tightMark = asLeft === undefined || record?.info.runId !== asLeft.runId ? undefined : lastTightening(record, asLeft);
  const stands = record?.info.setting ?? record?.startSetting ?? running?.setting;
  const canTighten =
    asLeft !== undefined && stands !== undefined && sameSetting(stands, asLeft.setting) && record?.info.phase === 'running';
  const markTight = (): void => {
    if (stands === undefined) return;
    void actions.mark({ kind: 'adjustment', setting: stands }).then((mark) => mark !== undefined && sounds.play('mark'));
  };
  const deed = leftDeedOf({
    suggested: suggested && numberOf(visit, suggested.id),
    chosen: asLeft && { isStale: staleReason(asLeft, visit) !== undefined },
    isCardSaid: visit.targetCard !== undefined || visit.withoutCard === true,
    hasRun: record !== undefined,
    // nothing is loosened at a check
    hasEcho: echo !== undefined || visit.job === 'check',
    check: check && numberOf(visit, check.id),
    isTight: tightMark !== undefined,
    canTighten,
  });
  const chosenAs = (key: 'asLeftTrialId' | 'echoTrialId', trial: Trial | undefined): void =>
    void (trial && put({ path: ['stages', stageIndex, key], after: trial.id }));
  const run: Record<LeftDeed['does'], () => void> = {
    use: () => chosenAs('asLeftTrialId', suggested),
    pick: () => setWindow('choose'),
    compare: () => chosenAs('echoTrialId', check),
    tight: markTight,
    read: () => undefined,
  };
  const main: MainAct | undefined = deed && { text: deed.text, run: run[deed.does], blocked: !may };
  return (
    <StepFrame
      step="as-left"
      main={main}
      says={deed && <b>{deed.says}</b>}
      ownMain={
        deed?.does === 'read' && record !== undefined ? (
          <MainButton deed={mainDeedOf(record, undefined, { trial: running })} blocked={false} />
        ) : undefined
      }
      right={<AsLeftRight asLeft={asLeft} />}
    >
      <StagePicker />
      <div className="form-row">
        <div>
          <div className="field-label">{words.choose}</div>
          <Choice
            bare
            label={words.choose}
            value={stage.asLeftTrialId ?? ''}
            width={320}
            disabled={!may}
            change={(id) => put({ path: ['stages', stageIndex, 'asLeftTrialId'], after: id === '' ? undefined : id })}
            options={trialOptions(words.chooseNone, withReading)}
          />
        </div>
        <div>
          <div className="field-label">{words.echo}</div>
          <Choice
            bare
            label={words.echo}
            value={stage.echoTrialId ?? ''}
            width={320}
            disabled={!may || asLeft === undefined}
            change={(id) =>
              put(
                { path: ['stages', stageIndex, 'echoTrialId'], after: id === '' ? undefined : id },
                { path: ['stages', stageIndex, 'echoByHand'], after: true },
              )
            }
            options={trialOptions(words.echoNone, echoes)}
          />
        </div>
      </div>
      {asLeft === undefined && withReading.length > 0 && (
        <TrialTable
          visit={visit}
          trials={withReading}
          units={units}
          nowId={suggested?.id}
          choose={(id) => put({ path: ['stages', stageIndex, 'asLeftTrialId'], after: id })}
          temperatures
        />
      )}
      <CardHead verdicts={verdicts} open={setWindow} />
      {visit.targetCard !== undefined && asLeft !== undefined && <CardTable verdicts={verdicts} units={units} />}
      <KeptField
        name={`left-reason-${stage.name}`}
        label={words.reason}
        numeric={false}
        disabled={!may}
        width={680}
        shown={stage.asLeftReason ?? ''}
        parse={plainText}
        keep={(reason) => edit({ path: ['stages', stageIndex, 'asLeftReason'], after: reason })}
      />
      {window === 'choose' && <CardChooser close={() => setWindow(undefined)} />}
      {window === 'edit' && visit.targetCard !== undefined && <CardEditor card={visit.targetCard} close={() => setWindow(undefined)} />}
    </StepFrame>
  );
}

function verdictsOf(visit: Visit, asLeft: Trial | undefined, facts: CurveFacts | undefined): LineVerdict[] {
  const conditions = conditionsOf(visit);
  if (asLeft === undefined || visit.targetCard === undefined || conditions === undefined) return [];
  const figures = cardFigures(asLeft, {
    conditions,
    smokeRule: visit.targetCard.smokeRule,
    curve: facts?.curve,
    roomCoPpm: visit.roomCo.at(-1)?.ppm,
  });
  return judgeCard(visit.targetCard, figures);
}

/** The screws were tightened at this setting after the trial was read. */
function lastTightening({ marks, startSetting }: RunRecord, asLeft: Trial): number | undefined {
  const tight = tightenings({ marks, edits: [], startSetting: startSetting ?? { stage: '1', positions: [] } });
  return tight.findLast(
    ({ mark }) => mark.timeMs > asLeft.fromMs && mark.body.kind === 'adjustment' && sameSetting(mark.body.setting, asLeft.setting),
  )?.mark.timeMs;
}
