import type { Lesson } from '../../../../shared/geometry/lesson.ts';
import type { ErrorKind, TaughtBurner } from '../../../../shared/geometry/look-and-tell.ts';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { answerLine, kindNames, lookAndTell as words } from '../../../../shared/words/geometry/look-and-tell.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import './LookAndTell.css';

export const lengths = ({ answer }: Lesson): { found: number; missed: number; falseAlarms: number } => ({
  found: answer?.found.length ?? 0,
  missed: answer?.missed.length ?? 0,
  falseAlarms: answer?.falseAlarms.length ?? 0,
});

export function Score({ lesson: { found, missed, falseAlarms } }: { lesson: Lesson }) {
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

export function Answer({ burner, lesson, list }: { burner: TaughtBurner; lesson: Lesson; list: readonly ErrorKind[] }) {
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
