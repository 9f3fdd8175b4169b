/** A burner drawn to scale with none to three errors: what is wrong? By keyboard alone: digits tell, Space goes on, arrows move the rule. */
import { useEffect, useMemo, useRef, useState } from 'react';
import { frontView, sideView, type Dimension, type DrawnFigures } from '../../../shared/geometry/drawing.ts';
import { limitsOf } from '../../../shared/geometry/figures-card.ts';
import { figuresFor } from '../../../shared/geometry/figures-for.ts';
import { isLength, lengthItems, type GeometryItem } from '../../../shared/geometry/items.ts';
import { beginLesson, burnerOf, checkTold, isOver, nextBurner, turnTold, withRule, type Lesson } from '../../../shared/geometry/lesson.ts';
import { errorKinds, kindItem, leftOf, typedOn, type ErrorKind, type TaughtBurner } from '../../../shared/geometry/look-and-tell.ts';
import { pictureOf } from '../../../shared/geometry/picture.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { GeometryPicture } from '../../../shared/report/drawings/GeometryPicture.tsx';
import { VerdictSign } from '../../../shared/report/drawings/VerdictSign.tsx';
import { seededRandom } from '../../../shared/tuning/training/random.ts';
import { cardScreen } from '../../../shared/words/geometry/geometry-cards.ts';
import { geometryNames } from '../../../shared/words/geometry/geometry.ts';
import { leadWords } from '../../../shared/words/geometry/lead.ts';
import { answerLine, cardFigures, kindNames, lookAndTell as words } from '../../../shared/words/geometry/look-and-tell.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { HostAlert } from '../../components/HostAlert.tsx';
import { Key } from '../../components/Key.tsx';
import { useDigits, useKey } from '../../keys/use-key.ts';
import { selectMayAct, selectRun } from '../../state/selectors.ts';
import { Rule, ruleMoved, type RulePlace } from './Rule.tsx';
import './geometry.css';
import './LookAndTell.css';

/** Drawing units per mm: the whole drawing has one factor. */
const SIZE = 4;
const GAP = 36;
const digitOf = (index: number): string => String((index + 1) % 10);

function drawnOf(burner: TaughtBurner, { withSlots, setRight }: { withSlots: boolean; setRight: boolean }): DrawnFigures {
  const found = figuresFor(burner.card, burner.burner);
  const figures = lengthItems.flatMap((item) => {
    const one = found[item];
    const limits = one.state === 'given' ? limitsOf(item, one.figure, burner.card.lengthUnit) : undefined;
    const value = burner.figures[item];
    if (value === undefined || limits === undefined) return [];
    const isIn = value >= limits.low - 1e-6 && value <= limits.high + 1e-6;
    const nearest = Number.isFinite(limits.low) ? limits.low : 0;
    const mm = setRight && !isIn ? (limits.nominal ?? (value > limits.high ? 0 : nearest)) : value;
    return [[item, { mm, source: 'measured' as const, ...(withSlots ? { slot: limits } : {}) }] as const];
  });
  return { ...Object.fromEntries(figures), porcelainCracked: burner.porcelainCracked && !setRight };
}

export function LookAndTell({ end }: { end: () => void }) {
  const { actions, store } = useParts();
  const lesson = useApp((state) => state.lesson) ?? beginLesson(1);
  const lessonChanged = useApp((state) => state.lessonChanged);
  const mayAct = useApp(selectMayAct);
  const [rule, setRule] = useState<RulePlace>({ x: 210, y: 190, turned: false });
  const [setRight, setSetRight] = useState(false);
  const stage = useRef<HTMLElement>(null);
  const over = isOver(lesson);
  const { seed, at } = lesson;
  const burner = useMemo(() => burnerOf({ seed, at }, trainingCards, seededRandom), [seed, at]);
  const told = lesson.answer !== undefined;
  const hasRule = withRule(lesson) && !told && !over;
  useEffect(() => stage.current?.focus(), [lesson.at, told]);

  const change = (next: Lesson): void => {
    if (next.at !== lesson.at) setSetRight(false);
    lessonChanged(next);
  };
  const turn = (kind: ErrorKind): void => change(turnTold(lesson, kind));
  const main = (): void => {
    if (over) change(beginLesson(lesson.seed + 1, lesson.of));
    else change(told ? nextBurner(lesson) : checkTold(lesson, burner));
  };
  /** the practice run on screen ends for it; a measurement is left alone */
  const fire = async (): Promise<void> => {
    const before = selectRun(store.getState());
    if (before !== undefined && before.info.phase !== 'ended' && before.info.source.kind === 'simulated')
      await actions.ask('run.end', { runId: before.info.runId });
    const info = await actions.ask('run.start', {
      source: { kind: 'simulated', scenario: 'four-starts', seed: lesson.seed * 100 + lesson.at, geometry: leftOf(burner) },
    });
    if (info === undefined) return;
    store.getState().runChanged(info);
    store.getState().runChosen(info.runId);
    store.getState().workspaceChosen('tune');
  };
  useKey('mark', main);
  useKey('main', main);
  useKey('back', end);
  useKey('turn', () => (told ? setSetRight((now) => !now) : setRule((now) => ({ ...now, turned: !now.turned }))), !over);
  useKey('skip', () => change(nextBurner(lesson)), !told && !over);
  useKey('fire', () => void fire(), told && !over && mayAct);
  useDigits((digit) => {
    const kind = errorKinds[(Number(digit) + 9) % 10];
    if (kind !== undefined && /^\d$/.test(digit)) turn(kind);
  }, !told && !over);

  const list = told ? errorKinds.filter((kind) => burner.planted.includes(kind) || lesson.told.includes(kind)) : [];
  return (
    <div className="warm-up look-and-tell">
      <div className="tools">
        <h1 className="title small">{words.title}</h1>
        <span className="second">
          {over
            ? words.over(lesson.of)
            : `${words.place(lesson.at, lesson.of)} · ${withRule(lesson) ? words.withRule(Math.floor(lesson.of / 2) + 1) : words.byEye}`}
        </span>
        <span className="grow" />
        <Score lesson={lesson} />
      </div>
      <div className="look-main">
        <section
          ref={stage}
          className="look-stage"
          tabIndex={-1}
          data-region="main"
          aria-label={words.drawing}
          onKeyDown={(event) => {
            const next = hasRule ? ruleMoved(rule, event.key, event.shiftKey) : undefined;
            if (next === undefined) return;
            event.preventDefault();
            setRule(next);
          }}
        >
          {!over && (
            <>
              <div className="row look-help">
                <span className="lead">
                  {told ? (setRight ? words.rightHelp : words.answerHelp) : hasRule ? words.ruleHelp : words.eyeHelp}
                </span>
                <span className="grow" />
                {hasRule && (
                  <button type="button" className="button" onClick={() => setRule((now) => ({ ...now, turned: !now.turned }))}>
                    {words.turnRule} <Key action="turn" />
                  </button>
                )}
              </div>
              <Drawing
                burner={burner}
                list={list}
                told={told}
                setRight={setRight}
                rule={hasRule ? { place: rule, move: setRule } : undefined}
              />
              <dl className="look-figures" aria-label={words.card}>
                {cardFigures(burner).map(({ item, text }) => (
                  <div key={item}>
                    <dt>{item === 'headSetting' ? words.cardFor(burner.wantedFlow) : geometryNames[item].toLowerCase()}</dt>
                    <dd>{text}</dd>
                  </div>
                ))}
              </dl>
            </>
          )}
          {over && (
            <p className="lead look-over">{[words.overSkipped(lesson.skipped), words.overAbout].filter((part) => part !== '').join(' ')}</p>
          )}
        </section>
        {!over && (
          <aside className="look-side" data-region="right" tabIndex={0} aria-label={told ? words.result(lengths(lesson)) : words.question}>
            {told ? (
              <Answer burner={burner} lesson={lesson} list={list} />
            ) : (
              <>
                <h2>{words.question}</h2>
                <p className="second">{words.questionAbout(toleranceOf(burner))}</p>
                <div className="look-answers" role="group" aria-label={words.answers}>
                  {errorKinds.map((kind, index) => (
                    <button
                      key={kind}
                      type="button"
                      className="button"
                      aria-pressed={lesson.told.includes(kind)}
                      // the focus stays with the drawing, so that Space is always the next thing
                      onMouseDown={(event) => event.preventDefault()}
                      onClick={() => turn(kind)}
                    >
                      <kbd aria-hidden="true">{digitOf(index)}</kbd> {kindNames[kind]}
                    </button>
                  ))}
                </div>
              </>
            )}
            <span className="grow" />
            <dl className="look-stamp">
              <div>
                <dt>{words.stamp}</dt>
                <dd>{setRight ? burner.wantedFlow : burner.stampedFlow}</dd>
              </div>
              {burner.figures.headSetting !== undefined && (
                <div>
                  <dt>{words.headSetTo}</dt>
                  <dd>{typedOn('headSetting', burner.figures.headSetting, burner.card.lengthUnit)}</dd>
                </div>
              )}
              {burner.burner.tubeEnd !== undefined && (
                <div>
                  <dt>{words.tube}</dt>
                  <dd>{cardScreen.tubeEnds[burner.burner.tubeEnd]}</dd>
                </div>
              )}
            </dl>
          </aside>
        )}
      </div>
      <HostAlert />
      <div className="bar" data-region="bar">
        <button type="button" className="button tall" onClick={end}>
          {words.end} <Key action="back" />
        </button>
        {!told && !over && (
          <button type="button" className="button tall" onClick={() => change(nextBurner(lesson))}>
            {words.skip} <Key action="skip" />
          </button>
        )}
        {told && !over && (
          <>
            <button type="button" className="button tall" disabled={!mayAct} onClick={() => void fire()}>
              {words.fire} <Key action="fire" />
            </button>
            <button type="button" className="button tall" aria-pressed={setRight} onClick={() => setSetRight((now) => !now)}>
              {setRight ? words.asItWas : words.setRight} <Key action="turn" />
            </button>
          </>
        )}
        <span className="grow" />
        <b className="says right" role="status">
          {over ? '' : told ? words.fireAbout : words.says(lesson.told.map((kind) => kindNames[kind]))}
        </b>
        <button type="button" className="button main" onClick={main}>
          {over ? words.again : told ? (lesson.at === lesson.of ? words.last : words.next) : words.check} <Key action="mark" />
        </button>
      </div>
    </div>
  );
}

const lengths = ({ answer }: Lesson): { found: number; missed: number; falseAlarms: number } => ({
  found: answer?.found.length ?? 0,
  missed: answer?.missed.length ?? 0,
  falseAlarms: answer?.falseAlarms.length ?? 0,
});

/** The tolerance that most lengths of the card have. */
function toleranceOf({ card }: TaughtBurner): string {
  const all = card.figures.flatMap(({ item, figure }) => (isLength(item) && figure.tolerance !== undefined ? [figure.tolerance] : []));
  const [most] = all.toSorted((a, b) => all.filter((one) => one === b).length - all.filter((one) => one === a).length);
  return most === undefined ? '' : `${most}\u2009${card.lengthUnit === 'inch' ? 'in' : 'mm'}`;
}

function Score({ lesson: { found, missed, falseAlarms } }: { lesson: Lesson }) {
  const parts = [
    { sign: 'pass', count: found, word: words.found },
    { sign: 'open', count: missed, word: words.missed },
    { sign: 'fail', count: falseAlarms, word: words.falseAlarm(falseAlarms) },
  ] as const;
  return (
    <div className="row look-score">
      {parts.map(({ sign, count, word }) => (
        <span key={sign} className="row">
          <VerdictSign verdict={sign} /> <b>{count}</b> <span className="second">{word}</span>
        </span>
      ))}
    </div>
  );
}

function Drawing({
  burner,
  list,
  told,
  setRight,
  rule,
}: {
  burner: TaughtBurner;
  list: readonly ErrorKind[];
  told: boolean;
  setRight: boolean;
  rule: { place: RulePlace; move: (place: RulePlace) => void } | undefined;
}) {
  const figures = drawnOf(burner, { withSlots: told, setRight });
  const side = sideView(figures, { metal: true });
  const front = frontView(figures);
  const numbers = new Map<GeometryItem, number>();
  list.forEach((kind, index) => {
    if (kind !== 'porcelain' && kind !== 'nozzle') numbers.set(kindItem[kind], index + 1);
  });
  const marked = [...numbers.keys()];
  const figure = ({ item }: Dimension): string => {
    const value = figures[item]?.mm;
    return `${numbers.get(item) ?? ''}: ${value === undefined ? '' : typedOn(item, value, burner.card.lengthUnit)}`;
  };
  const options = {
    size: SIZE,
    figure,
    cardWord: leadWords.card,
    marked,
    dimensions: told ? ('strong' as const) : ('none' as const),
    slots: told && marked.length > 0 ? ('strong' as const) : ('none' as const),
    text: { plain: 15, strong: 20 },
  };
  const [left, right] = [pictureOf(side, options), pictureOf(front, options)];
  const height = Math.max(left.height, right.height);
  const width = left.width + GAP + right.width;
  return (
    <svg className="look-drawing" viewBox={`0 -24 ${width} ${height + 24}`} role="img" aria-label={words.drawing}>
      <text x={2} y={-8} className="g-caption">
        {words.side}
      </text>
      <text x={left.width + GAP} y={-8} className="g-caption">
        {words.front}
      </text>
      <GeometryPicture picture={left} />
      <g transform={`translate(${left.width + GAP} ${(front.box.top - side.box.top) * -SIZE + 0})`}>
        <GeometryPicture picture={right} />
      </g>
      {rule !== undefined && <Rule place={rule.place} move={rule.move} size={SIZE} unit={burner.card.lengthUnit} />}
    </svg>
  );
}

function Answer({ burner, lesson, list }: { burner: TaughtBurner; lesson: Lesson; list: readonly ErrorKind[] }) {
  const { answer } = lesson;
  if (answer === undefined) return null;
  return (
    <div role="status">
      <h2>{words.result(lengths(lesson))}</h2>
      {list.length === 0 && (
        <p>
          {words.saidNothing} {words.nothing}
        </p>
      )}
      {list.length > 0 && burner.planted.length === 0 && <p>{words.nothing}</p>}
      <ol className="look-list">
        {list.map((kind, index) => {
          const { figure, flame } = answerLine(burner, kind);
          const [sign, word] = answer.found.includes(kind)
            ? (['pass', words.found] as const)
            : answer.missed.includes(kind)
              ? (['open', words.missed] as const)
              : (['fail', words.falseAlarm(1)] as const);
          return (
            <li key={kind}>
              <b className="number">{index + 1}</b>
              <div>
                <div className="row">
                  <b>{kindNames[kind]}</b>
                  <span className="grow" />
                  <VerdictSign verdict={sign} /> <b>{word}</b>
                </div>
                <p>{figure}</p>
                <p className="second">
                  <ChannelName text={burner.planted.includes(kind) ? `${words.flame}: ${flame}` : flame} />
                </p>
              </div>
            </li>
          );
        })}
      </ol>
    </div>
  );
}
