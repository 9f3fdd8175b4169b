import { useState } from 'react';
import { lastRound, nextStepIndex, type BenchTest } from '../../../shared/bench/bench-test.ts';
import { T90_GROWTH_NOTICE, cellHistory, type CellHistory } from '../../../shared/bench/earlier-tests.ts';
import type { BenchChannel } from '../../../shared/bench/instrument.ts';
import { exampleLimits } from '../../../shared/bench/limits.ts';
import type { GasSlot } from '../../../shared/bench/plan.ts';
import { channelsOf, gasOf } from '../../../shared/bench/references.ts';
import { gasRows, headlineOf, roundResult, type GasRow, type RoundResult } from '../../../shared/bench/test-result.ts';
import { decisionRules, type DecisionRule } from '../../../shared/measurement/decision-rule.ts';
import { bench } from '../../../shared/words/bench.ts';
import { useParts } from '../../app-parts.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { Choice, Field } from '../../components/Field.tsx';
import { Dialog } from '../../components/Dialog.tsx';
import { Key } from '../../components/Key.tsx';
import { Switch } from '../../components/Switch.tsx';
import { useKey } from '../../keys/use-key.ts';
import { VerdictScale } from '../../../shared/report/drawings/VerdictScale.tsx';
import { VerdictSign } from '../../../shared/report/drawings/VerdictSign.tsx';
import { certified, figure, signed, unitText, withHalf } from '../../../shared/words/bench-format.ts';
import { BenchFrame } from './BenchFrame.tsx';
import { InstrumentSwitch } from './InstrumentSwitch.tsx';
import { furtherRows } from '../../../shared/words/bench-further.ts';
import { headlineText, nextText } from '../../../shared/words/bench-headline.ts';
import { signOf, signOfVerdict } from './verdict-signs.ts';
import { stillFalls } from '../../../shared/bench/noise.ts';
import { NoisePicture } from './NoisePicture.tsx';
import { ResponsePicture, TrendPicture } from './ResultPictures.tsx';
import { useBench, useBenchScreen, useMayAct, useSetUp } from './use-bench.ts';
import { formatClock, formatDate } from '../../../shared/format/duration.ts';
import { formatNumber } from '../../../shared/format/quantity.ts';

const words = bench.result;
const MONTH_MS = 30.44 * 86_400_000;

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
    rows.find((row) => keyOf(row) === picked) ??
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
                    use.gas.pressureBar === undefined ? '' : bench.gas.left(formatNumber(use.gas.pressureBar, 0)),
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
              {bench.setUp.nextInstrument} <Key action="note" />
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
                {bench.certificate.altered}
              </b>
            )}
          </p>
        </div>
      </div>
      <ResultTable rows={rows} chosen={chosen} pick={setPicked} gasName={gasName} test={test} />
      <Further test={test} result={result} gasName={gasName} />
      <div className="bench-limits">
        <p className="small second grow">
          <ChannelName text={limitsText(test)} />
        </p>
        <button type="button" className="button" disabled={!mayChange} onClick={() => setDialog('limits')}>
          {words.changeLimits}
        </button>
      </div>
      {dialog === 'adjust' && <AdjustDialog close={() => setDialog(undefined)} go={(text) => void screen.asLeft(testId, text)} />}
      {dialog === 'repeat' && (
        <Dialog title={words.repeatTitle} close={() => setDialog(undefined)}>
          <p className="second">{words.repeatAbout}</p>
          <ul className="home-list-rows">
            {test.plan.steps.map((step, i) => (
              <li key={step.id}>
                <button
                  type="button"
                  className="found-row"
                  onClick={() => void screen.repeatStep([testId], step.id)}
                  {...(i === 0 ? { 'data-first': '' } : {})}
                >
                  <span className="grow">{bench.purposes[step.purpose]}</span>
                  <span className="second">{gasName(step.slot)}</span>
                </button>
              </li>
            ))}
          </ul>
        </Dialog>
      )}
      {dialog === 'limits' && <LimitsDialog test={test} testId={testId} close={() => setDialog(undefined)} />}
      {dialog === 'earlier' && (
        <EarlierDialog tests={docs.filter(({ body }) => body.instrumentId === test.instrumentId)} close={() => setDialog(undefined)} />
      )}
    </BenchFrame>
  );
}

const keyOf = ({ channel, level }: GasRow): string => `${channel} ${level}`;

function aboutOf(test: BenchTest): string {
  const months = (iso: string): number => Math.floor((test.startedWallMs - Date.parse(`${iso}T00:00:00Z`)) / MONTH_MS);
  const cells = test.instrument.cells.map(({ channel, installed }) =>
    installed === undefined ? undefined : bench.instrument.age(bench.channels[channel], months(installed)),
  );
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

function ResultTable({
  rows,
  chosen,
  pick,
  gasName,
  test,
}: {
  rows: readonly GasRow[];
  chosen: GasRow | undefined;
  pick: (key: string) => void;
  gasName: (slot: GasSlot) => string;
  test: BenchTest;
}) {
  const unfair =
    test.limits?.decisionRule === 'simple' && rows.some(({ budget, limit }) => limit !== undefined && budget.expanded > limit / 3);
  return (
    <>
      <table className="bench-result">
        <thead>
          <tr>
            <th scope="col">{words.columns.channel}</th>
            <th scope="col">{words.columns.gas}</th>
            <th scope="col" className="right">
              {words.columns.certified}
            </th>
            <th scope="col" className="right">
              {words.columns.reading}
            </th>
            <th scope="col" className="right">
              {words.columns.error}
            </th>
            <th scope="col" className="right">
              {words.columns.u}
            </th>
            <th scope="col">
              <span className="limit-head">
                <span>{words.lowLimit}</span>
                <span>{words.highLimit}</span>
              </span>
            </th>
            <th scope="col">{words.columns.verdict}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => {
            const expanded = row.budget.expanded;
            return (
              <tr
                key={keyOf(row)}
                className={chosen !== undefined && keyOf(row) === keyOf(chosen) ? 'now' : ''}
                tabIndex={0}
                aria-selected={chosen !== undefined && keyOf(row) === keyOf(chosen)}
                onClick={() => pick(keyOf(row))}
                onFocus={() => pick(keyOf(row))}
              >
                <td className="bold">
                  <ChannelName text={bench.channels[row.channel]} />
                </td>
                <td className="second">
                  {gasName(row.level as GasSlot)}
                  {row.repeats > 1 && <span className="small"> × {row.repeats}</span>}
                </td>
                <td className="right number">{figure(row.channel, row.reference, row.channel === 'o2' ? undefined : expanded)}</td>
                <td className="right number">{figure(row.channel, row.reading, expanded)}</td>
                <td className="right number bold">{signed(row.channel, row.error, expanded)}</td>
                <td className="right number second">{withHalf(row.channel, expanded)}</td>
                <td>
                  {row.limit !== undefined && (
                    <VerdictScale
                      picture={{
                        value: row.error,
                        expanded,
                        low: -row.limit,
                        high: row.limit,
                        verdict: signOfVerdict(row.verdict),
                        label: '',
                      }}
                    />
                  )}
                </td>
                <td className="unwrapped">
                  <span className="verdict">
                    <VerdictSign verdict={signOfVerdict(row.verdict)} />
                    <b>{words.verdicts[row.verdict]}</b>
                  </span>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
      {unfair && <p className="notice-text">{bench.unfair}</p>}
    </>
  );
}

function Further({ test, result, gasName }: { test: BenchTest; result: RoundResult; gasName: (slot: GasSlot) => string }) {
  const rows = furtherRows(result, gasName);
  // the clearest pattern, and what stands out nearly as much
  const likely = result.faults.filter(({ strength }) => strength >= 0.5 * (result.faults[0]?.strength ?? 0)).slice(0, 3);
  return (
    <section aria-label={words.more}>
      <h3>{words.more}</h3>
      <table>
        <tbody>
          {rows.map(({ key, channel, name, value, limit, verdict }) => (
            <tr key={key}>
              <td className="bold result-channel">
                <ChannelName text={bench.channels[channel]} />
              </td>
              <td className="second">{name}</td>
              <td className="right number">{value}</td>
              <td className="right second unwrapped">{limit}</td>
              <td className="result-gas">
                <span className="verdict">
                  <VerdictSign verdict={signOfVerdict(verdict)} />
                  {words.verdicts[verdict]}
                </span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <ul className="bench-notes">
        {likely.map(({ pattern, channel }) => (
          <li key={`${pattern} ${channel}`}>
            <b>
              <ChannelName text={`${bench.channels[channel]}:`} />
            </b>{' '}
            {bench.patterns[pattern]}
          </li>
        ))}
        {result.linesMissing.map(({ channel, to, stepId }) => (
          <li key={`${channel} ${stepId}`} className="second">
            <ChannelName text={words.linesMissing(bench.channels[channel], gasName(to as GasSlot))} />
          </li>
        ))}
        {result.notJudged.map(({ channel, slot }) => (
          <li key={`${channel} ${slot}`} className="second">
            <ChannelName text={words.notJudgedRange(bench.channels[channel], gasName(slot as GasSlot))} />
          </li>
        ))}
        {test.adjustment !== undefined && <li>{bench.certificate.adjusted(test.adjustment)}</li>}
      </ul>
    </section>
  );
}

function ResponseSection({
  test,
  result,
  channel,
  gasName,
}: {
  test: BenchTest;
  result: RoundResult;
  channel: BenchChannel | undefined;
  gasName: (slot: GasSlot) => string;
}) {
  const responses = result.evaluation.channels.find((one) => one.channel === channel)?.responses ?? [];
  const response = responses[0];
  const curve = result.curves.find((one) => one.channel === channel && one.from === response?.from && one.to === response.to);
  const missing = result.linesMissing.find((one) => one.channel === channel);
  const missingCurve = missing === undefined ? undefined : result.curves.find((one) => one.channel === channel && one.to === missing.to);
  if (channel === undefined || response === undefined || curve === undefined)
    return (
      <section>
        <h3>{bench.purposes.response}</h3>
        <p className="second">
          {missing === undefined || channel === undefined ? (
            words.noResponse
          ) : (
            <ChannelName text={words.linesMissing(bench.channels[channel], gasName(missing.to as GasSlot))} />
          )}
        </p>
        {missingCurve !== undefined && channel !== undefined && (
          <ResponsePicture channel={channel} points={missingCurve.points} response={undefined} target={undefined} />
        )}
      </section>
    );
  const target =
    response.to === 'air' ? undefined : gasOf(test.gases, response.to as GasSlot)?.components.find((one) => one.channel === channel)?.value;
  return (
    <section aria-label={bench.purposes.response}>
      <h3>
        <ChannelName text={words.response(bench.channels[channel], gasName(response.from as GasSlot), gasName(response.to as GasSlot))} />
      </h3>
      <p className="small second">
        {words.dead} <b>{formatNumber(response.deadS, 1)} s</b> · {words.rise} <b>{formatNumber(response.riseS, 0)} s</b> ·{' '}
        {words.repeats(responses.length)}
        {!response.fromMark && ` · ${words.byMovement}`}
      </p>
      <ResponsePicture channel={channel} points={curve.points} response={response} target={target} />
    </section>
  );
}

function TrendSection({ history, test }: { history: CellHistory | undefined; test: BenchTest }) {
  if (history === undefined || history.spanReference === undefined || history.spanErrors.length === 0) return null;
  const { forecast, channel } = history;
  const day = (wallMs: number): string => formatDate(wallMs, test.zoneMinutes);
  const about =
    history.spanErrors.length === 1
      ? words.trendFirst
      : forecast.kind === 'forecast'
        ? words.trendGrowing(
            day(forecast.wallMs),
            day(forecast.earliestMs),
            forecast.latestMs === undefined ? words.never : day(forecast.latestMs),
          )
        : forecast.kind === 'reached'
          ? words.trendReached
          : forecast.kind === 'steady'
            ? words.trendSteady
            : words.trendNotEnough(history.spanErrors.length);
  return (
    <section aria-label={words.earlier}>
      <h3>
        <ChannelName text={words.trend(bench.channels[channel], certified(channel, history.spanReference))} />
      </h3>
      <p className="small second">{about}</p>
      {history.spanErrors.length > 1 && <TrendPicture history={history} zoneMinutes={test.zoneMinutes} />}
      {history.t90Growth !== undefined && history.t90Growth >= T90_GROWTH_NOTICE && (
        <p className="notice-text">
          <ChannelName text={words.t90Growth(bench.channels[channel], `${formatNumber((history.t90Growth - 1) * 100, 0)} %`)} />
        </p>
      )}
    </section>
  );
}

function NoiseSection({ noise }: { noise: RoundResult['noise'][number] | undefined }) {
  if (noise === undefined || noise.points.length < 2) return null;
  const { channel, best, points } = noise;
  const digits = channel === 'o2' || channel === 'co2' ? 3 : 2;
  const about =
    best === undefined || best.deviation === 0
      ? words.noiseHidden
      : (stillFalls(points, best) ? words.noiseFalls : words.noiseAbout)(
          `${formatNumber(best.averagingS, 0)} s`,
          unitText(channel, formatNumber(best.deviation, digits)),
        );
  return (
    <section aria-label={bench.purposes.noise}>
      <h3>
        <ChannelName text={words.noiseTitle(bench.channels[channel])} />
      </h3>
      <p className="small second">{about}</p>
      <NoisePicture noise={noise} />
    </section>
  );
}

function BudgetSection({ row, gas }: { row: GasRow; gas: string }) {
  const { contributions, combined, expanded } = row.budget;
  const text = (u: number): string => unitText(row.channel, formatNumber(u, row.channel === 'o2' || row.channel === 'co2' ? 3 : 2));
  const lines = [
    ...[...contributions].sort((a, b) => b.u - a.u).map(({ key, u }) => ({ name: words.contributions[key], u, total: false })),
    { name: words.combined, u: combined, total: false },
    { name: words.expandedU, u: expanded, total: true },
  ];
  return (
    <section aria-label={words.budget}>
      <h3>
        <ChannelName text={words.budgetOf(bench.channels[row.channel], gas)} />
      </h3>
      <ul className="bench-budget">
        {lines.map(({ name, u, total }) => (
          <li key={name} className={total ? 'total' : ''}>
            <span className="small">{name}</span>
            <svg width="100%" height="12" aria-hidden="true" preserveAspectRatio="none" viewBox="0 0 100 12">
              <rect className={total ? 'fill-accent' : 'fill-second'} width={expanded > 0 ? (100 * u) / expanded : 0} height="12" />
            </svg>
            <span className="small right unwrapped">{text(u)}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function AdjustDialog({ close, go }: { close: () => void; go: (text: string) => void }) {
  const [text, setText] = useState('');
  const ready = text.trim().length >= 3;
  return (
    <Dialog
      title={words.adjustTitle}
      close={close}
      submit={() => ready && go(text.trim())}
      foot={
        <>
          <span className="grow" />
          <button type="submit" className="button main" disabled={!ready}>
            {words.adjustGo} <kbd aria-hidden="true">Enter</kbd>
          </button>
        </>
      }
    >
      <p>{words.adjustAbout}</p>
      <Field label={words.adjustment} value={text} change={setText} numeric={false} first hint={words.adjustNeeded} />
    </Dialog>
  );
}

function LimitsDialog({ test, testId, close }: { test: BenchTest; testId: string; close: () => void }) {
  const screen = useBenchScreen();
  const { actions } = useParts();
  const own = useBench((state) => state.lists['bench-limits']);
  const cards = [...own.map(({ body }) => body), ...exampleLimits];
  const [name, setName] = useState(test.limits?.name ?? '');
  const [rule, setRule] = useState<DecisionRule | ''>(test.limits?.decisionRule ?? '');
  const card = cards.find((one) => one.name === name) ?? (test.limits?.name === name ? test.limits : undefined);
  const ready = card !== undefined && rule !== '';
  return (
    <Dialog
      title={words.changeLimits}
      close={close}
      submit={() => {
        if (!ready) return;
        void actions.ask('bench.limits', { testId, limits: { ...card, decisionRule: rule } }).then((done) => done !== undefined && close());
      }}
      foot={
        <>
          <button
            type="button"
            className="button"
            onClick={() => screen.show({ kind: 'limits', id: own.find(({ body }) => body.name === name)?.id, copyOf: card })}
            disabled={card === undefined}
          >
            {bench.home.edit}
          </button>
          <span className="grow" />
          <button type="submit" className="button main" disabled={!ready}>
            {bench.setUp.limits} <kbd aria-hidden="true">Enter</kbd>
          </button>
        </>
      }
    >
      <Choice
        label={bench.setUp.limits}
        value={name}
        change={setName}
        options={[{ value: '', text: bench.setUp.chooseLimits }, ...cards.map((one) => ({ value: one.name, text: one.name }))]}
      />
      {card !== undefined && (
        <p className="second">
          <ChannelName text={card.lines.map(({ channel, source }) => `${bench.channels[channel]}: ${source}`).join('. ')} />
        </p>
      )}
      <Choice
        label={bench.limits.rule}
        value={rule}
        change={setRule}
        options={[
          { value: '' as const, text: bench.setUp.chooseLimits },
          ...decisionRules.map((value) => ({ value, text: bench.rules[value] })),
        ]}
      />
      {rule === '' && <p className="second">{bench.noRule}</p>}
    </Dialog>
  );
}

function EarlierDialog({ tests, close }: { tests: readonly { id: string; body: BenchTest }[]; close: () => void }) {
  const screen = useBenchScreen();
  return (
    <Dialog title={words.earlier} close={close}>
      <ul className="home-list-rows">
        {tests.map(({ id, body }, i) => {
          const last = body.rounds[body.rounds.length - 1];
          const headline = last === undefined ? undefined : headlineOf(roundResult(body, last).evaluation, body.limits);
          return (
            <li key={id}>
              <button
                type="button"
                className="found-row"
                onClick={() => (close(), screen.show({ kind: 'result', testId: id }))}
                {...(i === 0 ? { 'data-first': '' } : {})}
              >
                <span className="unwrapped second">
                  {formatDate(body.startedWallMs, body.zoneMinutes)} {formatClock(body.startedWallMs, body.zoneMinutes, 'minutes')}
                </span>
                <span className="grow">
                  <ChannelName text={headline === undefined ? words.nothing : headlineText(headline)} />
                </span>
              </button>
            </li>
          );
        })}
      </ul>
    </Dialog>
  );
}
