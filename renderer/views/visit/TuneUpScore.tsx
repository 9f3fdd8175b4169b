/** For practice: the tune-up looked at afterwards, item by item. */
import { testsOfVisit } from '../../../shared/tuning/safety/safety-plan.ts';
import { scoreTuneUp } from '../../../shared/tuning/training/tune-up-score.ts';
import { scoreWords as words } from '../../../shared/words/tune/tune-up-score.ts';
import { VerdictSign } from '../../../shared/report/drawings/VerdictSign.tsx';
import { useApp } from '../../app-parts.ts';
import { curveFacts, numberOf } from './visit-facts.ts';
import { useVisit } from './use-visit.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import './visit.css';

const sign = { pass: 'pass', miss: 'fail', 'not-judged': 'open' } as const;

export function TuneUpScore() {
  const { visit } = useVisit();
  const appliance = useApp((state) => state.appliance?.appliance);
  const scored = scoreTuneUp(visit, {
    curve: curveFacts(visit, visit.stages[0]?.name ?? '1', undefined)?.curve,
    safetyTests: testsOfVisit(visit, appliance).map(({ id }) => id),
  });
  const judged = scored.filter(({ verdict }) => verdict !== 'not-judged');
  return (
    <section aria-label={words.title} className="missing">
      <h2>
        {words.title}: {words.count(judged.filter(({ verdict }) => verdict === 'pass').length, judged.length)}
      </h2>
      <ul>
        {scored.map(({ item, verdict, trialIds }) => (
          <li key={item}>
            <VerdictSign verdict={sign[verdict]} />
            <span>
              {words.items[item]}
              <span className="hidden-text">: {words.verdicts[verdict]}</span>
              {verdict === 'miss' && (
                <span className="second small">
                  <br />
                  <ChannelName text={words.misses[item]} /> {trialIds.length > 0 && words.trials(trialIds.map((id) => numberOf(visit, id)))}
                </span>
              )}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
