import { useApp } from '../../app-parts.ts';
import { selectRun } from '../../state/selectors.ts';
import type { RunRecord } from '../../state/run-record.ts';
import { cautionsAreRead } from '../source/cautions-read.ts';
import { CautionsDialog } from '../source/CautionsDialog.tsx';
import { StartScreen } from '../source/StartScreen.tsx';
import { Entries } from './entries/Entries.tsx';
import { FarView } from './FarView.tsx';
import { LiveView } from './LiveView.tsx';
import { usePendingMark } from './use-pending-mark.ts';

/** The main job: start screen without a run, else the live view, near or far. */
export default function TuneWorkspace() {
  const record = useApp(selectRun);
  return record === undefined ? <StartScreen /> : <Measuring key={record.info.runId} record={record} />;
}

function Measuring({ record }: { record: RunRecord }) {
  const far = useApp((state) => state.far);
  const deeds = usePendingMark();
  const kind = record.info.source.kind;
  const mustRead = useApp((state) => (kind === 'serial' || kind === 'typed') && state.role === 'operator' && !cautionsAreRead(state));
  return (
    <>
      {far ? <FarView record={record} deeds={deeds} /> : <LiveView record={record} deeds={deeds} />}
      {mustRead ? <CautionsDialog /> : <Entries record={record} />}
    </>
  );
}
