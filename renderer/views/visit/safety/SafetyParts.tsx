import { useRef, type KeyboardEvent } from 'react';
import { safetyTests, type SafetyTest, type SafetyTestId } from '../../../../shared/tuning/safety/safety-plan.ts';
import { safetyWords } from '../../../../shared/words/visit/safety-tests.ts';
import { stepWords } from '../../../../shared/words/visit/steps.ts';
import { safetyScreen as words } from '../../../../shared/words/visit/screens/safety.ts';
import { visitWords } from '../../../../shared/words/visit/visit-thread.ts';
import { Aside } from '../../../components/Aside.tsx';
import { Key } from '../../../components/Key.tsx';
import { VerdictSign, type SignName } from '../../../../shared/report/drawings/VerdictSign.tsx';
import type { SafetyResult } from '../../../../shared/tuning/safety/safety-result.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import '../visit.css';
import './safety.css';

const resultSign = { pass: 'pass', fail: 'fail', 'not-applicable': 'not-applicable' } as const;

export function JudgeButton({
  sign,
  text,
  action,
  ready,
  may,
  run,
}: {
  sign: SignName;
  text: string;
  action: 'pass' | 'fail' | 'notApplicable';
  ready: boolean;
  may: boolean;
  run: () => void;
}) {
  const isOpen = ready || sign === 'not-applicable';
  return (
    <button type="button" className={`button judge${ready ? '' : ' waits'}`} disabled={!may || !isOpen} onClick={run}>
      <VerdictSign verdict={sign} />
      {text} <Key action={action} />
    </button>
  );
}

/** The tests in order; arrows walk, what is judged is said beside it. */
export function TestList({
  needed,
  latest,
  now,
  choose,
  turn,
}: {
  needed: readonly SafetyTest[];
  latest: ReadonlyMap<string, SafetyResult>;
  now: SafetyTestId;
  choose: (id: SafetyTestId) => void;
  turn: React.ReactNode;
}) {
  const list = useRef<HTMLUListElement>(null);
  const walk = (event: KeyboardEvent<HTMLButtonElement>): void => {
    const buttons = [...(list.current?.querySelectorAll<HTMLElement>('button') ?? [])];
    const at = buttons.indexOf(event.currentTarget);
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: buttons.length - 1 }[event.key];
    const next = to === undefined ? undefined : buttons[to];
    if (next === undefined) return;
    event.preventDefault();
    next.focus();
  };
  const about = (test: SafetyTest): string => {
    const result = latest.get(test.id);
    if (result !== undefined) {
      const time =
        result.seconds === undefined
          ? ''
          : words.timeOf(formatNumber(result.seconds, 1), result.markedSeconds === undefined ? undefined : String(result.markedSeconds));
      return [words.verdictOf[result.result], time].filter((part) => part !== '').join(' · ');
    }
    if (test.id === now) return words.step(safetyTests.findIndex(({ id }) => id === test.id) + 1, safetyTests.length);
    return needed.some(({ id }) => id === test.id) ? '' : words.notNeeded;
  };
  return (
    <nav className="safety-list" aria-label={words.list}>
      {turn}
      <ul ref={list}>
        {safetyTests.map((test) => {
          const result = latest.get(test.id);
          const isNow = test.id === now;
          return (
            <li key={test.id}>
              <button
                type="button"
                className={`safety-row${isNow ? ' now' : ''}${result === undefined && !isNow ? ' second' : ''}`}
                aria-current={isNow ? 'step' : undefined}
                tabIndex={isNow ? 0 : -1}
                onKeyDown={walk}
                onClick={() => choose(test.id)}
              >
                <VerdictSign verdict={result !== undefined ? resultSign[result.result] : isNow ? 'now' : 'open'} />
                <span className={`safety-name${isNow ? ' bold' : ''}`}>{safetyWords[test.id].title}</span>
                <span className="grow" />
                <Aside text={about(test)} className="unwrapped" />
              </button>
            </li>
          );
        })}
      </ul>
      <p className="hidden-text">{`${stepWords.safety.name}, ${visitWords.thread}`}</p>
    </nav>
  );
}
