import { useMemo, useState } from 'react';
import {
  practiceQuestion,
  smokeAnswers,
  timeAnswers,
  type PracticeAnswer,
  type PracticeKind,
} from '../../../../shared/tuning/training/practice.ts';
import { seededRandom } from '../../../../shared/tuning/training/random.ts';
import { PRACTICE_QUESTIONS, answeredWith, beginPractice, isPracticeOver, nextQuestion } from '../../../../shared/warm-up/practice.ts';
import { practiceFacts, practiceWhy, practiceWords as words } from '../../../../shared/words/practice.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';

/** Ten questions, answered one after the other; each answer is explained. @param seed other questions each time */
export function PracticeDialog({ kind, seed, close }: { kind: PracticeKind; seed: number; close: () => void }) {
  const [practice, setPractice] = useState(() => beginPractice<PracticeAnswer>(seed));
  const { at, told, right } = practice;
  const question = useMemo(() => practiceQuestion({ kind, seed: practice.seed, at }, seededRandom), [kind, practice.seed, at]);
  const isOver = isPracticeOver(practice);
  const goOn = (): void => setPractice(isOver ? beginPractice(practice.seed + 1) : nextQuestion(practice));
  const isRight = told === question.right;
  return (
    <Dialog
      title={words.kinds[kind]}
      close={close}
      submit={goOn}
      foot={
        <DialogFoot main={isOver ? words.again : words.next} off={!isOver && told === undefined} withoutKey>
          <span className="second">{words.score(right, at - 1 + (told === undefined ? 0 : 1))}</span>
        </DialogFoot>
      }
    >
      {isOver ? (
        <p className="lead" role="status">
          {words.over(right, PRACTICE_QUESTIONS)}
        </p>
      ) : (
        <>
          <p className="second">{words.place(at, PRACTICE_QUESTIONS)}</p>
          <p className="lead">{words.asks[kind]}</p>
          <ul>
            {(question.kind === 'smoke' ? question.spots.map(words.spot) : practiceFacts(question)).map((line, index) => (
              <li key={`${index} ${line}`}>{line}</li>
            ))}
          </ul>
          <div className="row" role="group" aria-label={words.asks[kind]}>
            {(kind === 'smoke' ? smokeAnswers : timeAnswers).map((answer) => (
              <button
                key={answer}
                type="button"
                className="button tall"
                aria-pressed={told === answer}
                disabled={told !== undefined}
                onClick={() => setPractice(answeredWith(practice, question.right, answer))}
              >
                {words.answers[answer]}
              </button>
            ))}
          </div>
          {told !== undefined && (
            <p role="status">
              <VerdictSign verdict={isRight ? 'pass' : 'fail'} />{' '}
              <b>{isRight ? words.right : words.wrong(words.answers[question.right])}</b> {practiceWhy(question)}
            </p>
          )}
        </>
      )}
    </Dialog>
  );
}
