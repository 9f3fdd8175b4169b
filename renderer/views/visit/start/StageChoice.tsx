import { visitWords as words } from '../../../../shared/words/visit/visit-thread.ts';
import { Choice } from '../../../components/Field.tsx';
import { useApp } from '../../../app-parts.ts';
import { optionsOf } from '../../../fields/KeptField.tsx';
import { useVisit } from '../use-visit.ts';
import './start.css';

/** One stage or two; each has its own as-found, air curve and as-left. */
export function StageChoice() {
  const { visit, may, put } = useVisit();
  const stageChosen = useApp((state) => state.stageChosen);
  const isTwo = visit.stages.length > 1;
  const isUsed = visit.trials.some(({ setting }) => setting.stage !== visit.stages[0]?.name);
  const change = (count: 'one' | 'two'): void => {
    if ((count === 'two') === isTwo || (count === 'one' && isUsed)) return;
    const isTaken = put({ path: ['stages'], after: count === 'two' ? [...visit.stages, { name: '2' }] : visit.stages.slice(0, 1) });
    if (isTaken) stageChosen(visit.stages[0]?.name ?? '1');
  };
  return (
    <div className="form-row">
      <Choice
        label={words.stages}
        value={isTwo ? 'two' : 'one'}
        width={334}
        disabled={!may}
        change={change}
        options={optionsOf(words.stageCounts)}
      />
      {isTwo && isUsed && <p className="form-note">{words.stageHasTrials}</p>}
    </div>
  );
}
