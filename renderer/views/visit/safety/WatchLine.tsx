import type { SafetyTestId } from '../../../../shared/tuning/safety/safety-plan.ts';
import { safetyScreen as words, safetyTitle } from '../../../../shared/words/visit/screens/safety.ts';
import { useApp } from '../../../app-parts.ts';
import { useStopwatch } from './use-stopwatch.ts';
import { selectMayAct } from '../../../state/selectors.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import '../visit.css';
import './safety.css';

export function WatchLine({ test }: { test: SafetyTestId }) {
  const watch = useStopwatch(test, 100);
  const workspaceChosen = useApp((state) => state.workspaceChosen);
  const panelOpened = useApp((state) => state.panelOpened);
  const stepChosen = useApp((state) => state.stepChosen);
  const safetyTestChosen = useApp((state) => state.safetyTestChosen);
  const far = useApp((state) => state.far);
  const mayAct = useApp(selectMayAct);
  const farTurned = useApp((state) => state.farTurned);
  const goBack = (): void => {
    panelOpened(undefined);
    if (far) farTurned();
    workspaceChosen('tune');
    safetyTestChosen(test);
    stepChosen('safety');
  };
  return (
    <section className="watch-line" aria-label={words.watchOf(safetyTitle(test))}>
      <b className="grow">{words.watchOf(safetyTitle(test))}</b>
      <span className="strip-figure" aria-live="off">
        {formatNumber(watch.seconds, 1)} s
      </span>
      <button type="button" className="button" onClick={goBack}>
        {words.watchBack}
      </button>
      <button
        type="button"
        className="button main"
        disabled={!mayAct}
        onClick={() => {
          void watch.press();
          goBack();
        }}
      >
        {words.stop}
      </button>
    </section>
  );
}
