import { useState } from 'react';
import { beforeAfter } from '../../../shared/tuning/before-after.ts';
import { cardFigures } from '../../../shared/tuning/card-figures.ts';
import { smokeApproach } from '../../../shared/tuning/air-curve.ts';
import { lockEcho } from '../../../shared/tuning/lock-echo.ts';
import { conditionsOf } from '../../../shared/tuning/conditions.ts';
import { judgeCard, overallVerdict, type LineVerdict } from '../../../shared/tuning/target-card.ts';
import type { Trial } from '../../../shared/tuning/trial.ts';
import type { Visit } from '../../../shared/tuning/visit.ts';
import { L_PER_US_GALLON } from '../../../shared/units/convert.ts';
import {
  approachWords,
  beforeAfterWords,
  decisionRuleWords,
  echoWords,
  quantityWords,
  verdictNote,
  verdictWords,
} from '../../../shared/words/tune.ts';
import { leftScreen as words, visitWords } from '../../../shared/words/visit.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { formatNumber, withUnit, type UnitSystem } from '../../format/quantity.ts';
import { typedPlain } from '../tune/entries/typed-number.ts';
import { settingWords } from '../tune/setting-words.ts';
import { Efficiency } from './AsFoundStep.tsx';
import { CardChooser } from './CardChooser.tsx';
import { CardEditor } from './CardEditor.tsx';
import { basisOf, figureText, limitText } from './card-words.ts';
import { BareChoice, KeptField, fromTyped, plainText } from './fields.tsx';
import { MissingList, StepFrame, type MainAct } from './StepFrame.tsx';
import { StagePicker } from './StagePicker.tsx';
import { VerdictScale } from './VerdictScale.tsx';
import { VerdictSign } from './VisitSigns.tsx';
import { sameSetting } from '../../../shared/tuning/trials.ts';
import { tightenings } from '../../../shared/tuning/tightened.ts';
import type { RunRecord } from '../../state/run-record.ts';
import { useParts } from '../../app-parts.ts';
import { mainDeedOf } from '../tune/main-deed.ts';
import { MainButton } from '../tune/MainButton.tsx';
import { TrialTable } from './TrialTable.tsx';
import { numberOf, type CurveFacts } from './visit-facts.ts';
import { useCurve, useVisit } from './use-visit.ts';

/** The trial that stays, against the card, against as-found, and against itself after tightening. */
export function AsLeftStep({ record }: { record: RunRecord | undefined }) {
  const { actions, sounds } = useParts();
  const { visit, stage, stageIndex, units, may, edit } = useVisit();
  const facts = useCurve();
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
  const stands = record?.info.setting ?? record?.startSetting;
  const canTighten =
    asLeft !== undefined && stands !== undefined && sameSetting(stands, asLeft.setting) && record?.info.phase === 'running';
  const markTight = (): void => {
    if (stands === undefined) return;
    void actions.mark({ kind: 'adjustment', setting: stands }).then((mark) => mark !== undefined && sounds.play('mark'));
  };
  const cardSaid = visit.targetCard !== undefined || visit.withoutCard === true;
  const main: MainAct | undefined =
    asLeft === undefined
      ? suggested === undefined
        ? undefined
        : {
            text: words.use(numberOf(visit, suggested.id)),
            run: () => void edit({ path: ['stages', stageIndex, 'asLeftTrialId'], after: suggested.id }),
            blocked: !may,
          }
      : cardSaid
        ? echo !== undefined || record === undefined
          ? undefined
          : check !== undefined
            ? {
                text: words.compare(numberOf(visit, check.id)),
                run: () => void edit({ path: ['stages', stageIndex, 'echoTrialId'], after: check.id }),
                blocked: !may,
              }
            : canTighten && tightMark === undefined
              ? { text: words.tight, run: markTight, blocked: !may }
              : undefined
        : { text: words.pick, run: () => setWindow('choose'), blocked: !may };
  const waitsForCheck = cardSaid && echo === undefined && check === undefined && tightMark !== undefined;
  return (
    <StepFrame
      step="as-left"
      main={main}
      says={waitsForCheck ? <b>{words.tightWaits}</b> : undefined}
      ownMain={waitsForCheck && record !== undefined ? <MainButton deed={mainDeedOf(record)} blocked={false} /> : undefined}
      right={<AsLeftRight asLeft={asLeft} />}
    >
      <StagePicker />
      <div className="form-row">
        <div>
          <div className="field-label">{words.choose}</div>
          <BareChoice
            label={words.choose}
            value={stage.asLeftTrialId ?? ''}
            width={334}
            disabled={!may}
            change={(id) => edit({ path: ['stages', stageIndex, 'asLeftTrialId'], after: id === '' ? undefined : id })}
            options={trialOptions(words.chooseNone, withReading)}
          />
        </div>
        <div>
          <div className="field-label">{words.echo}</div>
          <BareChoice
            label={words.echo}
            value={stage.echoTrialId ?? ''}
            width={334}
            disabled={!may || asLeft === undefined}
            change={(id) => edit({ path: ['stages', stageIndex, 'echoTrialId'], after: id === '' ? undefined : id })}
            options={trialOptions(echoes.length === 0 ? words.echoNone : words.echoNone, echoes)}
          />
        </div>
      </div>
      {asLeft === undefined && withReading.length > 0 && (
        <TrialTable
          visit={visit}
          trials={withReading}
          units={units}
          nowId={suggested?.id}
          choose={(id) => edit({ path: ['stages', stageIndex, 'asLeftTrialId'], after: id })}
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

function CardHead({ verdicts, open }: { verdicts: readonly LineVerdict[]; open: (window: 'choose' | 'edit') => void }) {
  const { visit, may, edit } = useVisit();
  const card = visit.targetCard;
  const overall = verdicts.length === 0 ? undefined : overallVerdict(verdicts);
  return (
    <div className="card-head">
      <div className="grow">
        <h2>
          {overall !== undefined && (
            <span className="verdict">
              <VerdictSign verdict={overall} /> {verdictWords[overall]}
            </span>
          )}
          {overall === undefined && words.card}
        </h2>
        <p className="second">
          {card === undefined
            ? visit.withoutCard === true
              ? words.withoutSaid
              : words.noCard
            : `${words.ofCard(card.name, card.date)} · ${words.rule(decisionRuleWords[card.decisionRule].name)}`}
        </p>
      </div>
      {card === undefined && visit.withoutCard !== true && (
        <button type="button" className="button" disabled={!may} onClick={() => edit({ path: ['withoutCard'], after: true })}>
          {words.without}
        </button>
      )}
      {card !== undefined && (
        <button type="button" className="button" disabled={!may} onClick={() => open('edit')}>
          {words.edit}
        </button>
      )}
      <button type="button" className="button" disabled={!may} onClick={() => open('choose')}>
        {visit.withoutCard === true ? words.takeBack : words.pick}
      </button>
    </div>
  );
}

function CardTable({ verdicts, units }: { verdicts: readonly LineVerdict[]; units: UnitSystem }) {
  return (
    <table className="card-table" aria-label={words.card}>
      <thead>
        <tr>
          <th scope="col">{words.columns.line}</th>
          <th scope="col" className="right">
            {words.columns.value}
          </th>
          <th scope="col">{words.columns.limit}</th>
          <th scope="col">{words.columns.scale}</th>
          <th scope="col">{words.columns.verdict}</th>
        </tr>
      </thead>
      <tbody>
        {verdicts.map((verdict, at) => {
          const { line, figure } = verdict;
          const text = figure === undefined ? undefined : figureText(line.quantity, figure, units);
          const note = verdictNote(verdict);
          return (
            <tr key={at}>
              <th scope="row">
                <ChannelName text={quantityWords[line.quantity]} />
                <span className="basis">{basisOf(line.quantity)}</span>
              </th>
              <td className="number right">
                {text === undefined ? (
                  '–'
                ) : (
                  <>
                    {text.value} <span className="plus-minus">{text.half}</span> <span className="unit">{text.unit}</span>
                  </>
                )}
              </td>
              <td>
                {limitText(line, units)}
                <span className="basis">{[line.source, line.appliesTo ?? ''].filter((part) => part !== '').join('; ')}</span>
              </td>
              <td>
                {figure !== undefined && line.quantity !== 'oilTrace' && (
                  <VerdictScale
                    verdict={verdict.verdict}
                    value={figure.value}
                    half={figure.expanded}
                    low={line.low}
                    high={line.high}
                    width={128}
                  />
                )}
              </td>
              <td>
                <span className="verdict">
                  <VerdictSign verdict={verdict.verdict} />
                  <b>{verdictWords[verdict.verdict]}</b>
                </span>
                {note !== undefined && <span className="basis">{note}</span>}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function AsLeftRight({ asLeft }: { asLeft: Trial | undefined }) {
  const { visit, stage, units, formats, may, edit } = useVisit();
  const facts = useCurve();
  const conditions = conditionsOf(visit);
  const asFound = visit.trials.find(({ id }) => id === stage.asFoundTrialId);
  const echoTrial = visit.trials.find(({ id }) => id === stage.echoTrialId);
  const echo = asLeft === undefined || echoTrial === undefined ? undefined : lockEcho(asLeft, echoTrial);
  const result =
    asLeft === undefined || asFound === undefined || conditions === undefined || asFound.id === asLeft.id
      ? undefined
      : beforeAfter(asFound, asLeft, conditions, visit.annualFuelGal);
  const volume = units === 'us' ? { factor: 1, unit: 'gal' } : { factor: L_PER_US_GALLON, unit: 'L' };
  const yearly = typeof result === 'object' && result.clear && result.gainPoints > 0 ? result.yearly : undefined;
  return (
    <>
      <MissingList step="as-left" />
      {result !== undefined && (
        <section aria-label={words.beforeAfter}>
          <h2>{words.beforeAfter}</h2>
          <p>
            <ChannelName text={beforeAfterWords(result, formats)} />
          </p>
          {typeof result === 'object' && (
            <KeptField
              name="annual"
              label={words.annual}
              width={180}
              unit={volume.unit}
              disabled={!may}
              shown={visit.annualFuelGal === undefined ? '' : formatNumber(visit.annualFuelGal * volume.factor, 0).replace('\u2009', '')}
              parse={(text) => fromTyped(typedPlain(text))}
              keep={(value) => edit({ path: ['annualFuelGal'], after: value === undefined ? undefined : value / volume.factor })}
            />
          )}
          {yearly !== undefined && (
            <p>
              <ChannelName
                text={words.yearly(
                  `${formatNumber(yearly.gallons * volume.factor, 0)} ±${formatNumber(yearly.gallonsExpanded * volume.factor, 0)}\u2009${volume.unit}`,
                  yearly.co2Kg === undefined ? '' : withUnit(formatNumber(yearly.co2Kg, 0), 'kg'),
                )}
              />
            </p>
          )}
        </section>
      )}
      {result === undefined && <Efficiency trialId={asLeft?.id} />}
      {asLeft !== undefined && (
        <section aria-label={words.lockEcho}>
          <h2>{words.lockEcho}</h2>
          {echo === undefined ? (
            <p className="second">{words.echoSame}</p>
          ) : (
            <p className="verdict">
              <VerdictSign verdict={echo.held ? 'pass' : 'fail'} />
              <span>
                <ChannelName text={echoWords(echo, formats)} />
              </span>
            </p>
          )}
        </section>
      )}
      {asLeft !== undefined && facts !== undefined && (
        <section aria-label={words.approach}>
          <h2>{words.approach}</h2>
          <p>{approachWords[smokeApproach(facts.curve, asLeft.id)]}</p>
        </section>
      )}
    </>
  );
}
