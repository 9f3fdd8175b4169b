import { isoDay, wholeMonths } from '../../../../shared/format/date.ts';
import { useState } from 'react';
import { lastRound, nextStepIndex, type BenchTest } from '../../../../shared/bench/bench-test.ts';
import { cellHistory } from '../../../../shared/bench/results/earlier-tests.ts';
import type { GasSlot } from '../../../../shared/bench/plan.ts';
import { channelsOf, gasOf } from '../../../../shared/bench/references.ts';
import { gasRows, headlineOf, roundResult } from '../../../../shared/bench/results/test-result.ts';
import { formatClock, formatDate } from '../../../../shared/format/duration.ts';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { certified, figure, unitText, withHalf } from '../../../../shared/words/bench/bench-format.ts';
import { headlineText, nextText } from '../../../../shared/words/bench/bench-headline.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchSetUp } from '../../../../shared/words/bench/bench-run.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { certificateWords } from '../../../../shared/words/paper/certificate.ts';
import { useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Key } from '../../../components/Key.tsx';
import { Switch } from '../../../components/Switch.tsx';
import { useKey } from '../../../keys/use-key.ts';
import { BenchFrame } from '../BenchFrame.tsx';
import { InstrumentSwitch } from '../InstrumentSwitch.tsx';
import { useBench, useBenchScreen, useMayAct, useSetUp } from '../use-bench.ts';
import { AdjustDialog } from './AdjustDialog.tsx';
import { BudgetSection } from './BudgetSection.tsx';
import { EarlierDialog } from './EarlierDialog.tsx';
import { FurtherTable } from './FurtherTable.tsx';
import { LimitsDialog } from './LimitsDialog.tsx';
import { NoiseSection } from './NoiseSection.tsx';
import { RepeatDialog } from './RepeatDialog.tsx';
import { ResponseSection } from './ResponseSection.tsx';
import { ResultTable, rowKeyOf } from './ResultTable.tsx';
import { TrendSection } from './TrendSection.tsx';
import { signOf } from './verdict-signs.ts';
import '../BenchFrame.css';
import './result.css';

const words = benchResult;

export function ResultView({ testId }: { testId: string }) {
  const doc = useBench((state) => state.lists['bench-test'].find(({ id }) => id === testId));
  return doc === undefined ? null : <Result testId={testId} test={doc.body} altered={doc.altered === true} />;
}

function Result({ testId, test, altered }: { testId: string; test: BenchTest; altered: boolean }) {
  const { actions } = useParts();
  const screen = useBenchScreen();
  const may = useMayAct();
  const docs = useBench((state) => state.lists['bench-test']);
  const [roundIndex, setRoundIndex] = useState(test.rounds.length - 1);
  const [picked, setPicked] = useState<string>();
  const [dialog, setDialog] = useState<'adjust' | 'repeat' | 'limits' | 'earlier'>();
  const mine = docs
    .filter(({ body }) => body.instrumentId === test.instrumentId && body.startedWallMs <= test.startedWallMs)
    .map(({ body }) => body);
  const histories = channelsOf(test.instrument.cells).map((channel) => cellHistory(mine, channel));
  const firstT90S = Object.fromEntries(
    histories.flatMap(({ channel, t90 }) => (t90.length > 1 && t90[0] !== undefined ? [[channel, t90[0].value]] : [])),
  );
  const round = test.rounds[Math.min(roundIndex, test.rounds.length - 1)] ?? lastRound(test);
  const result = roundResult(test, round, firstT90S);
  const headline = headlineOf(result.evaluation, test.limits);
  const rows = gasRows(result.evaluation, test.limits);
  const gasName = (slot: GasSlot): string => (slot === 'air' ? bench.slots.air : (gasOf(test.gases, slot)?.name ?? bench.slots[slot]));
  const chosen =
    rows.find((row) => rowKeyOf(row) === picked) ??
    rows.find(({ verdict }) => verdict === 'fail') ??
    rows.find(({ verdict, reference }) => verdict === 'conditional' || reference > 0) ??
    rows[0];
  const siblings = docs.filter(({ id, body }) => body.session === test.session && id !== testId);
  const isOpen = nextStepIndex(test) < test.plan.steps.length && test.status === 'open';
  const setUp = useSetUp();
  // what was signed stays as it was signed
  const mayChange = may && test.signature === undefined;
  const fails = headline.kind === 'not-fit';
  const certificate = (): void => {
    if (may && test.status === 'open') void actions.ask('bench.close', { testId });
    screen.show({ kind: 'certificate', testId });
  };
  useKey('trials', () => setDialog('earlier'));
  useKey('values', () => setDialog('repeat'), mayChange);
  useKey('note', () => setUp(test), may && !isOpen);
  useKey('pressure', certificate, fails && test.signature === undefined && !isOpen);
  const use = chosen === undefined ? undefined : test.gases.find(({ slot }) => slot === chosen.level);
  return (
    <BenchFrame
      title={test.instrument.name}
      turn={
        siblings.length === 0 ? undefined : (
          <InstrumentSwitch
            tests={[...siblings, { id: testId, body: test }]}
            at={testId}
            change={(id) => screen.show({ kind: 'result', testId: id })}
          />
        )
      }
      isMeasured={isOpen}
      about={<ChannelName text={aboutOf(test)} />}
      tools={
        <>
          {test.rounds.length > 1 && (
            <Switch
              label={words.whichRound}
              value={`${roundIndex === 0 ? 0 : test.rounds.length - 1}`}
              change={(index) => setRoundIndex(Number(index))}
              options={[0, test.rounds.length - 1].map((index) => ({
                value: `${index}`,
                text: words.foundLeft[test.rounds[index]?.kind ?? 'as-found'],
              }))}
            />
          )}
          <button type="button" className="button" onClick={() => setDialog('earlier')}>
            {words.earlier} <Key action="trials" />
          </button>
          <button type="button" className="button" disabled={!mayChange} onClick={() => setDialog('repeat')}>
            {words.repeat} <Key action="values" />
          </button>
        </>
      }
      back={() => screen.show({ kind: 'home' })}
      says={
        <span className="second">
          <ChannelName
            text={
              use === undefined
                ? chosen === undefined
                  ? ''
                  : words.chosenAir(bench.channels[chosen.channel], certified(chosen.channel, chosen.reference), chosen.repeats)
                : bench.gas.line(
                    use.gas.name,
                    use.gas.components
                      .map(
                        ({ channel, value, expanded }) =>
                          `${bench.channels[channel]} ${unitText(channel, `${figure(channel, value, expanded)} ${withHalf(channel, expanded)}`)}`,
                      )
                      .join(', '),
                    use.gas.expires ?? '',
                    use.gas.pressureBar === undefined ? '' : bench.gas.left(use.gas.pressureBar),
                  )
            }
          />
        </span>
      }
      others={
        <>
          {!isOpen &&
            (fails && test.signature === undefined ? (
              <button type="button" className="button tall-row" onClick={certificate}>
                {words.certificate} <Key action="pressure" />
              </button>
            ) : (
              test.signature === undefined && (
                <button type="button" className="button tall-row" disabled={!mayChange} onClick={() => setDialog('adjust')}>
                  {words.adjust}
                </button>
              )
            ))}
          {!isOpen && (
            <button type="button" className="button tall-row" disabled={!may} onClick={() => setUp(test)}>
              {benchSetUp.nextInstrument} <Key action="note" />
            </button>
          )}
        </>
      }
      main={
        isOpen
          ? {
              text: words.backToPlan,
              run: () =>
                void screen.resume([
                  testId,
                  ...siblings
                    .filter(
                      ({ body }) =>
                        body.rounds.length === test.rounds.length && body.status === 'open' && nextStepIndex(body) < body.plan.steps.length,
                    )
                    .map(({ id }) => id),
                ]),
              blocked: !may,
            }
          : fails && test.signature === undefined
            ? { text: words.adjust, run: () => setDialog('adjust'), blocked: !may }
            : { text: words.certificate, run: certificate }
      }
      right={
        <>
          <ResponseSection test={test} result={result} channel={chosen?.channel} gasName={gasName} />
          {chosen !== undefined && <TrendSection history={histories.find(({ channel }) => channel === chosen.channel)} test={test} />}
          <NoiseSection noise={result.noise.find((one) => one.channel === chosen?.channel)} />
          {chosen !== undefined && <BudgetSection row={chosen} gas={gasName(chosen.level as GasSlot)} />}
        </>
      }
    >
      <div className="bench-verdict">
        <VerdictSign verdict={signOf(headline)} />
        <div>
          <h2>
            <ChannelName text={headlineText(headline)} />
          </h2>
          <p>
            {test.signature === undefined && nextText(headline, result, test.limits, gasName) !== '' && (
              <>
                <b>{words.next}</b> <ChannelName text={nextText(headline, result, test.limits, gasName)} />
              </>
            )}{' '}
            <span className="second">
              {test.watermark !== undefined ? words.simulated : test.signature !== undefined ? words.signedStays : ''}
            </span>
            {altered && (
              <b role="status" className="notice-text">
                {' '}
                {certificateWords.altered}
              </b>
            )}
          </p>
        </div>
      </div>
      <ResultTable rows={rows} chosen={chosen} pick={setPicked} gasName={gasName} test={test} />
      <FurtherTable test={test} result={result} gasName={gasName} />
      <div className="bench-limits">
        <p className="small second grow">
          <ChannelName text={limitsText(test)} />
        </p>
        <button type="button" className="button" disabled={!mayChange} onClick={() => setDialog('limits')}>
          {words.changeLimits}
        </button>
      </div>
      {dialog === 'adjust' && <AdjustDialog close={() => setDialog(undefined)} go={(text) => screen.asLeft(testId, text)} />}
      {dialog === 'repeat' && (
        <RepeatDialog
          steps={test.plan.steps}
          gasName={gasName}
          repeat={(stepId) => void screen.repeatStep([testId], stepId)}
          close={() => setDialog(undefined)}
        />
      )}
      {dialog === 'limits' && <LimitsDialog test={test} testId={testId} close={() => setDialog(undefined)} />}
      {dialog === 'earlier' && (
        <EarlierDialog tests={docs.filter(({ body }) => body.instrumentId === test.instrumentId)} close={() => setDialog(undefined)} />
      )}
    </BenchFrame>
  );
}

function aboutOf(test: BenchTest): string {
  const day = isoDay(test.startedWallMs, test.zoneMinutes);
  const cells = test.instrument.cells.map(({ channel, installed }) => {
    const months = installed === undefined ? undefined : wholeMonths(installed, day);
    return months === undefined ? undefined : bench.instrument.age(bench.channels[channel], months);
  });
  return [
    test.instrument.serial === undefined ? undefined : bench.instrument.serialShown(test.instrument.serial),
    cells.filter((text) => text !== undefined).join(', '),
    `${formatDate(test.startedWallMs, test.zoneMinutes)} ${formatClock(test.startedWallMs, test.zoneMinutes, 'minutes')}`,
  ]
    .filter((part) => part !== undefined && part !== '')
    .join(' · ');
}

function limitsText({ limits }: BenchTest): string {
  if (limits === undefined) return words.measured;
  const sources = [...new Set(limits.lines.map(({ source }) => source))].join('; ');
  return `${words.limitsFrom(limits.name)} ${sources}. ${bench.ruleSentences[limits.decisionRule]}`;
}
