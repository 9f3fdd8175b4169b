import { useState } from 'react';
import { useApp } from '../../app-parts.ts';
import { selectRun } from '../../state/selectors.ts';
import type { RunRecord } from '../../state/run-record.ts';
import { DisplayCheck } from '../lines/DisplayCheck.tsx';
import { cautionsAreRead } from '../source/cautions-read.ts';
import { CautionsDialog } from '../source/CautionsDialog.tsx';
import { StartScreen } from '../source/StartScreen.tsx';
import { selectShowsStep, VisitStep } from '../visit/index.tsx';
import { VisitOverLive } from '../visit/LiveSide.tsx';
import { Entries } from './entries/Entries.tsx';
import { FarView } from './FarView.tsx';
import { LiveView } from './LiveView.tsx';
import { usePendingMark } from './use-pending-mark.ts';

/** The main job: start screen without a run, else the live view, near or far. */
export default function TuneWorkspace() {
  const record = useApp(selectRun);
  const showsStep = useApp(selectShowsStep);
  if (record === undefined && showsStep) return <VisitStep record={undefined} deeds={undefined} />;
  return record === undefined ? <StartScreen /> : <Measuring key={record.info.runId} record={record} />;
}

function Measuring({ record }: { record: RunRecord }) {
  const far = useApp((state) => state.far);
  const showsStep = useApp(selectShowsStep);
  const isGeometry = useApp((state) => state.visitStep === 'set-up');
  const deeds = usePendingMark();
  const { display } = record.info;
  const [isLater, setLater] = useState(false);
  const kind = record.info.source.kind;
  const mustRead = useApp((state) => (kind === 'serial' || kind === 'typed') && state.role === 'operator' && !cautionsAreRead(state));
  return (
    <>
      {display !== undefined && !mustRead && !isLater ? (
        <DisplayCheck info={{ ...record.info, display }} later={() => setLater(true)} />
      ) : showsStep && (!far || isGeometry) ? (
        <VisitStep record={record} deeds={deeds} />
      ) : far ? (
        <FarView record={record} deeds={deeds} />
      ) : (
        <LiveView record={record} deeds={deeds} />
      )}
      {!showsStep && !far && !mustRead && <VisitOverLive />}
      {mustRead ? <CautionsDialog /> : <Entries record={record} />}
    </>
  );
}
