import { visitWords } from '../../../shared/words/visit.ts';
import { useApp } from '../../app-parts.ts';

/** Only burners with more than one stage show it. */
export function StagePicker() {
  const stages = useApp((state) => state.visit?.stages);
  const stage = useApp((state) => state.visitStage);
  const stageChosen = useApp((state) => state.stageChosen);
  if (stages === undefined || stages.length < 2) return null;
  return (
    <div className="choice-row">
      {stages.map(({ name }) => (
        <button key={name} type="button" className="button" aria-pressed={name === stage} onClick={() => stageChosen(name)}>
          {visitWords.stage(name)}
        </button>
      ))}
    </div>
  );
}
