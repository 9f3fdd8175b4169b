import { gasFlaws } from '../../../shared/bench/instrument.ts';
import { exampleLimits } from '../../../shared/bench/limits.ts';
import { nextStepIndex, type BenchTest } from '../../../shared/bench/bench-test.ts';
import { examplePlans } from '../../../shared/bench/plan.ts';
import { headlineOf, roundResult } from '../../../shared/bench/results/test-result.ts';
import { formatDuration, formatClock, formatDate } from '../../../shared/format/duration.ts';
import { bench as words } from '../../../shared/words/bench/bench.ts';
import { benchResult } from '../../../shared/words/bench/bench-result.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { VerdictSign } from '../../../shared/report/drawings/VerdictSign.tsx';
import { BenchFrame } from './BenchFrame.tsx';
import type { BenchView, Doc } from './bench-screen.ts';
import { headlineText } from '../../../shared/words/bench/bench-headline.ts';
import { signOf } from './result/verdict-signs.ts';
import { useBench, useBenchScreen, useMayAct, useSetUp, useToday } from './use-bench.ts';
import './bench.css';
import './BenchFrame.css';

/** Tests, and what they are made with. */
export function BenchHome() {
  const screen = useBenchScreen();
  const lists = useBench((state) => state.lists);
  const unreadable = useBench((state) => state.unreadable);
  const sessions = useBench((state) => state.sessions);
  const may = useMayAct();
  const today = useToday()();
  const tests = [...lists['bench-test']].sort((a, b) => b.body.startedWallMs - a.body.startedWallMs);
  const going = openGroup(tests);
  const show = (view: BenchView) => () => screen.show(view);
  const setUp = useSetUp();
  const start = (): void => setUp();
  const first = going[0];
  // led by the host already: anybody may look
  const isLed = sessions.some(({ testIds }) => going.every(({ id }) => testIds.includes(id)));
  const goOn = (): void => {
    if (first !== undefined && isLed) screen.show({ kind: 'run', testId: first.id });
    else void screen.resume(going.map(({ id }) => id));
  };
  const nextStep = first === undefined ? undefined : first.body.plan.steps[nextStepIndex(first.body)];
  return (
    <BenchFrame
      title={words.title}
      about={words.home.about}
      says={
        first !== undefined && nextStep !== undefined ? (
          <b>
            {words.home.goOn(
              words.list(going.map(({ body }) => body.instrument.name)),
              `${words.purposes[nextStep.purpose]}, ${words.slots[nextStep.slot]}`,
            )}
          </b>
        ) : (
          <b>{words.home.next}</b>
        )
      }
      others={
        first !== undefined && (
          <button type="button" className="button tall-row" disabled={!may} onClick={start}>
            {words.home.start}
          </button>
        )
      }
      main={
        first === undefined
          ? { text: words.home.start, run: start, blocked: !may }
          : { text: words.home.goOnButton, run: goOn, blocked: !may && !isLed }
      }
      right={
        <>
          <HomeList title={words.home.instruments} empty={words.home.noInstruments} add={show({ kind: 'instrument', id: undefined })}>
            {lists.instrument.map(({ id, body }) => (
              <HomeRow
                key={id}
                name={body.name}
                about={[body.serial, body.cells.map(({ channel }) => words.channels[channel]).join(', ')].filter(Boolean).join(' · ')}
                open={show({ kind: 'instrument', id })}
              />
            ))}
          </HomeList>
          <HomeList title={words.home.gases} empty={words.home.noGases} add={show({ kind: 'gas', id: undefined })}>
            {lists.gas.map(({ id, body }) => {
              const flaws = gasFlaws(body, today);
              return (
                <HomeRow
                  key={id}
                  name={body.name}
                  about={flaws.length > 0 ? flaws.map((flaw) => words.gas.flaws[flaw]).join(', ') : (body.expires ?? '')}
                  notice={flaws.length > 0}
                  open={show({ kind: 'gas', id })}
                />
              );
            })}
          </HomeList>
          <HomeList title={words.home.plans} empty="" add={show({ kind: 'plan', id: undefined })}>
            {[...lists['bench-plan'].map(({ id, body }) => ({ id, body })), ...examplePlans.map((body) => ({ id: undefined, body }))].map(
              ({ id, body }) => (
                <HomeRow
                  key={id ?? body.name}
                  name={body.name}
                  about={`${words.plan.about(body.steps.length, formatDuration(body.steps.reduce((sum, { holdS }) => sum + holdS, 0) * 1000))}${id === undefined ? `, ${words.home.example}` : ''}`}
                  open={show({ kind: 'plan', id, copyOf: body })}
                />
              ),
            )}
          </HomeList>
          <HomeList title={words.home.limits} empty="" add={show({ kind: 'limits', id: undefined })}>
            {[
              ...lists['bench-limits'].map(({ id, body }) => ({ id, body })),
              ...exampleLimits.map((body) => ({ id: undefined, body })),
            ].map(({ id, body }) => (
              <HomeRow
                key={id ?? body.name}
                name={body.name}
                about={id === undefined ? words.home.example : body.date}
                open={show({ kind: 'limits', id, copyOf: body })}
              />
            ))}
          </HomeList>
          {unreadable > 0 && <p className="second">{words.home.unreadable(unreadable)}</p>}
        </>
      }
    >
      <h2>{words.home.tests}</h2>
      {tests.length === 0 ? (
        <p className="empty-line">{words.home.noTests}</p>
      ) : (
        <table className="bench-tests" aria-label={words.home.tests}>
          <tbody>
            {tests.map((doc) => (
              <TestRow key={doc.id} doc={doc} />
            ))}
          </tbody>
        </table>
      )}
    </BenchFrame>
  );
}

/** The newest session that is not at its end. */
function openGroup(tests: readonly Doc<BenchTest>[]): Doc<BenchTest>[] {
  const open = tests.filter(({ body }) => body.status === 'open' && nextStepIndex(body) < body.plan.steps.length);
  const first = open[0];
  return first === undefined
    ? []
    : open
        .filter(({ body }) => body.session === first.body.session && body.rounds.length === first.body.rounds.length)
        .sort((a, b) => a.body.instrument.name.localeCompare(b.body.instrument.name));
}

function TestRow({ doc: { id, body } }: { doc: Doc<BenchTest> }) {
  const screen = useBenchScreen();
  const round = body.rounds[body.rounds.length - 1];
  const result = round === undefined ? undefined : roundResult(body, round);
  const headline = result === undefined ? undefined : headlineOf(result.evaluation, body.limits);
  return (
    <tr>
      <td className="unwrapped second">
        {formatDate(body.startedWallMs, body.zoneMinutes)} {formatClock(body.startedWallMs, body.zoneMinutes, 'minutes')}
      </td>
      <th scope="row" className="bench-test-name">
        {body.instrument.name}
        {body.watermark === 'simulated' && <span className="second"> · simulated</span>}
      </th>
      <td>
        <span className="verdict">
          <VerdictSign verdict={headline === undefined ? 'open' : signOf(headline)} />
          <span>
            <ChannelName text={headline === undefined ? benchResult.nothing : headlineText(headline)} />
            {body.status === 'open' && <span className="second"> · {words.home.stillOpen}</span>}
          </span>
        </span>
      </td>
      <td className="right">
        <button
          type="button"
          className="button"
          onClick={() => screen.show({ kind: 'result', testId: id })}
          aria-label={`${words.home.open} ${body.instrument.name}`}
        >
          {words.home.open}
        </button>
      </td>
    </tr>
  );
}

function HomeList({ title, empty, add, children }: { title: string; empty: string; add: () => void; children: React.ReactNode[] }) {
  const may = useMayAct();
  return (
    <section aria-label={title}>
      <div className="home-list-head">
        <h3>{title}</h3>
        <span className="grow" />
        <button type="button" className="button quiet" disabled={!may} onClick={add} aria-label={`${words.home.add}: ${title}`}>
          {words.home.add}
        </button>
      </div>
      {children.length === 0 ? <p className="second small">{empty}</p> : <ul className="home-list-rows">{children}</ul>}
    </section>
  );
}

function HomeRow({ name, about, open, notice = false }: { name: string; about: string; open: () => void; notice?: boolean }) {
  return (
    <li>
      <button type="button" className="found-row" onClick={open}>
        <span className="grow">{name}</span>
        <span className={`small ${notice ? 'notice-text' : 'second'}`}>
          <ChannelName text={about} />
        </span>
      </button>
    </li>
  );
}
