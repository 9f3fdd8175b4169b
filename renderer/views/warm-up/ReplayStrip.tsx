import { warmUp } from '../../../shared/words/warm-up.ts';
import { useApp } from '../../app-parts.ts';
import { selectMayAct, selectRun } from '../../state/selectors.ts';
import { ReplayBar } from './ReplayBar.tsx';
import './warm-up.css';

/** While a run is replayed its controls stand at the foot of every workspace; Warm-up has them in its own bar. */
export function ReplayStrip({ isFar }: { isFar: boolean }) {
  const record = useApp(selectRun);
  const isShown = useApp(
    (state) =>
      state.wire.phase === 'open' &&
      selectMayAct(state) &&
      // Warm-up draws the bar itself, but not under a panel and not during Call it
      (state.workspace !== 'warm-up' || state.panel !== undefined || state.callIt || state.role === 'instructor'),
  );
  if (record?.info.replay === undefined || record.info.phase === 'ended' || !isShown) return null;
  if (isFar) return <ReplayBar record={record} quietly />;
  return (
    <section className="bar replay-strip" aria-label={warmUp.replayLabel}>
      <ReplayBar record={record} />
    </section>
  );
}
