import { visitWords as words } from '../../../../shared/words/visit/visit-thread.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { selectIsRunning, selectMayAct, selectRun } from '../../../state/selectors.ts';
import { usePresentSetting } from '../use-visit.ts';
import './start.css';

/** Only burners with more than one stage show it. Looking at a stage is one thing, the burner firing at it another: that is a mark. */
export function StagePicker() {
  const { actions, sounds } = useParts();
  const stages = useApp((state) => state.visit?.stages);
  const stage = useApp((state) => state.visitStage);
  const stageChosen = useApp((state) => state.stageChosen);
  const can = useApp((state) => selectMayAct(state) && selectIsRunning(state));
  const present = usePresentSetting();
  const isSimulated = useApp((state) => selectRun(state)?.info.simulator !== undefined);
  if (stages === undefined || stages.length < 2) return null;
  const firing = present?.stage ?? stages[0]?.name ?? '1';
  const mark = (): void =>
    void actions
      .mark({ kind: 'adjustment', setting: { stage, positions: present?.positions ?? [] } }, { setsSimulator: isSimulated })
      .then((made) => made !== undefined && sounds.play('mark'));
  return (
    <div className="stage-picker">
      <div className="choice-row" role="group" aria-label={words.stages}>
        {stages.map(({ name }) => (
          <button key={name} type="button" className="button" aria-pressed={name === stage} onClick={() => stageChosen(name)}>
            {words.stage(name)}
          </button>
        ))}
      </div>
      {can && firing !== stage && (
        <div className="say">
          <span className="grow">{words.stageFiring(firing)}</span>
          <button type="button" className="button" onClick={mark}>
            {words.stageMark(stage)}
          </button>
        </div>
      )}
    </div>
  );
}
