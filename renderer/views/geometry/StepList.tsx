import { stepGroups, type HandStep } from '../../../shared/geometry/steps.ts';
import { groupNames, stepWords } from '../../../shared/words/geometry/geometry-steps.ts';
import { leadWords as words } from '../../../shared/words/geometry/lead.ts';
import { VerdictSign } from '../../../shared/report/drawings/VerdictSign.tsx';
import { Aside } from '../../components/Aside.tsx';
import { StepSign } from '../visit/VisitSigns.tsx';
import type { Lead } from './use-lead.ts';
import './StepList.css';

/** The order of the hands: what is done is folded, the group in front is open. */
export function StepList({ lead }: { lead: Lead }) {
  const { now, step, done, stale, go } = lead;
  const current = stepGroups.indexOf(step.group);
  const groups = stepGroups.map((group, index) => ({ group, index, steps: now.steps.filter((one) => one.group === group) }));
  const isDone = (steps: readonly HandStep[]): boolean => steps.every(({ id }) => done.has(id));
  const before = groups.slice(0, current);
  const folded = before.length > 1 && before.every(({ steps }) => isDone(steps));
  return (
    <nav className="hand-steps" aria-label={words.list}>
      <ol>
        {folded && (
          <li>
            <button type="button" onClick={() => go(before[0]?.steps[0]?.id ?? step.id)}>
              <span className="sign">
                <StepSign state="done" />
              </span>
              <span className="grow">{words.stepsDone(1, before.length)}</span>
              <Aside text={words.done} />
            </button>
          </li>
        )}
        {groups.map(({ group, index, steps }) => {
          if (folded && index < current) return null;
          const first = steps[0];
          if (first === undefined) return null;
          const isNow = index === current;
          return (
            <li key={group}>
              <button type="button" aria-expanded={isNow} onClick={() => go(first.id)}>
                <span className="sign">
                  <StepSign state={isNow ? 'now' : isDone(steps) ? 'done' : 'todo'} />
                </span>
                <span className={isNow ? 'grow bold' : `grow${isDone(steps) ? '' : ' second'}`}>{`${index + 1} ${groupNames[group]}`}</span>
                {!isNow && isDone(steps) && <Aside text={words.done} />}
              </button>
              {isNow && (
                <ol>
                  {steps.map((one) => {
                    const isHere = one.id === step.id;
                    const item = one.item === undefined ? undefined : now.items[one.item];
                    const typed = one.id === 'adjuster-as-found' ? item?.asFound : item?.nowTyped;
                    const isStale = stale.includes(one.id);
                    const verdict = one.id === 'adjuster-as-found' ? undefined : item?.now.verdict;
                    const name = stepWords(one.id, now.card?.adjuster).name;
                    const judged = isStale ? '' : verdict === 'fail' ? words.outside : verdict === 'pass' ? words.inside : '';
                    const beside = isHere ? words.now : isStale ? words.again : (typed ?? '');
                    return (
                      <li key={one.id}>
                        <button type="button" aria-current={isHere ? 'step' : undefined} onClick={() => go(one.id)}>
                          <span className="sign">
                            {isHere ? (
                              <VerdictSign verdict="now" />
                            ) : isStale ? (
                              <StepSign state="stale" />
                            ) : verdict === 'fail' ? (
                              <VerdictSign verdict="fail" />
                            ) : verdict === 'pass' || done.has(one.id) ? (
                              <VerdictSign verdict="pass" />
                            ) : (
                              <VerdictSign verdict="open" />
                            )}
                          </span>
                          <span className={`grow${isHere ? ' bold' : done.has(one.id) ? '' : ' second'}`}>{name}</span>
                          {judged !== '' && <span className="hidden-text">{`, ${judged}`}</span>}
                          <Aside text={beside} />
                        </button>
                      </li>
                    );
                  })}
                </ol>
              )}
            </li>
          );
        })}
      </ol>
    </nav>
  );
}
