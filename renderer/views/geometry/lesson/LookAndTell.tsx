/** A burner drawn to scale with none to three errors: what is wrong? By keyboard alone: digits tell, Space goes on, arrows move the rule. */
import { useEffect, useMemo, useRef, useState } from 'react';
import { isLength } from '../../../../shared/geometry/items.ts';
import {
  beginLesson,
  burnerOf,
  checkTold,
  isOver,
  nextBurner,
  turnTold,
  withRule,
  type Lesson,
} from '../../../../shared/geometry/lesson.ts';
import { errorKinds, leftOf, typedOn, type ErrorKind, type TaughtBurner } from '../../../../shared/geometry/look-and-tell.ts';
import { trainingCards } from '../../../../shared/geometry/training-cards.ts';
import { seededRandom } from '../../../../shared/tuning/training/random.ts';
import { cardScreen } from '../../../../shared/words/geometry/geometry-cards.ts';
import { cardFigures, kindNames, lookAndTell as words } from '../../../../shared/words/geometry/look-and-tell.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { HostAlert } from '../../../components/alerts/HostAlert.tsx';
import { Key } from '../../../components/Key.tsx';
import { useDigits, useKey } from '../../../keys/use-key.ts';
import { selectMayAct, selectRun } from '../../../state/selectors.ts';
import { ruleMoved, type RulePlace } from './Rule.tsx';
import '../geometry.css';
import './LookAndTell.css';
import { Drawing, hasBrackets } from './LessonDrawing.tsx';
import { lengths, Score, Answer } from './LessonAnswer.tsx';

const digitOf = (index: number): string => String((index + 1) % 10);

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
  const isFiring = useRef(false);
  /** the practice run on screen ends for it; a measurement is left alone */
  const fire = async (): Promise<void> => {
    // pressed again before the host has answered
    if (isFiring.current) return;
    isFiring.current = true;
    try {
      const before = selectRun(store.getState());
      const { workspace } = store.getState();
      if (before !== undefined && before.info.phase !== 'ended' && before.info.source.kind === 'simulated')
        await actions.ask('run.end', { runId: before.info.runId });
      const info = await actions.ask('run.start', {
        source: { kind: 'simulated', scenario: 'four-starts', seed: lesson.seed * 100 + lesson.at, geometry: leftOf(burner) },
      });
      if (info === undefined) return;
      store.getState().runChanged(info);
      store.getState().runChosen(info.runId);
      // who has gone elsewhere meanwhile stays there
      if (store.getState().workspace === workspace) store.getState().workspaceChosen('tune');
    } finally {
      isFiring.current = false;
    }
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
  const answerHelp = setRight
    ? words.rightHelp
    : list.length === 0
      ? words.nothingHelp
      : hasBrackets(burner, list)
        ? words.answerHelp
        : words.numbersHelp;
  return (
    <div className="warm-up look-and-tell">
      <div className="tools">
        <h1 className="title small size-body">{words.title}</h1>
        <span className="second">
          {'· '}
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
                <span className="lead">{told ? answerHelp : hasRule ? words.ruleHelp : words.eyeHelp}</span>
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
                {cardFigures(burner).map(({ item, name, text }) => (
                  <div key={item}>
                    <dt>{name}</dt>
                    <dd>
                      <CardFigure text={text} />
                    </dd>
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

/** The figure strong; "at most" before it and ± with the unit behind it small. */
function CardFigure({ text }: { text: string }) {
  const [, before = '', strong = text, rest = ''] = /^(at \w+ )?([\d/. ]*\d)(.*)$/.exec(text) ?? [];
  return (
    <>
      <span className="look-rest">{before}</span>
      {strong}
      <span className="look-rest">{rest}</span>
    </>
  );
}

/** The tolerance that most lengths of the card have. */
function toleranceOf({ card }: TaughtBurner): string {
  const all = card.figures.flatMap(({ item, figure }) => (isLength(item) && figure.tolerance !== undefined ? [figure.tolerance] : []));
  const [most] = all.toSorted((a, b) => all.filter((one) => one === b).length - all.filter((one) => one === a).length);
  return most === undefined ? '' : `${most}\u2009${card.lengthUnit === 'inch' ? 'in' : 'mm'}`;
}
