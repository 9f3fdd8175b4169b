import { Suspense, useState } from 'react';
import { useApp } from '../../app-parts.ts';
import { later, Place } from '../../components/Later.tsx';
import { useKey } from '../../keys/use-key.ts';
import { selectRun } from '../../state/selectors.ts';
import type { RunRecord } from '../../state/run-record.ts';
import { cautionsAreRead } from '../source/cautions/cautions-read.ts';
import { CautionsDialog } from '../source/cautions/CautionsDialog.tsx';
import { selectShowsStep } from '../visit/steps/frame/shows-step.ts';
import { VisitOverLive } from '../visit/curve/OverLive.tsx';
import { LiveView } from './LiveView.tsx';
import { usePendingMark } from './mark-bar/use-pending-mark.ts';

const StartScreen = later(() => import('../source/StartScreen.tsx').then((found) => found.StartScreen));
const DisplayCheck = later(() => import('../lines/questions/DisplayCheck.tsx').then((found) => found.DisplayCheck));
const Entries = later(() => import('./entries/Entries.tsx').then((found) => found.Entries));
const FarView = later(() => import('./FarView.tsx').then((found) => found.FarView));
const VisitStep = later(() => import('../visit/index.tsx').then((found) => found.VisitStep));

/** The main job: start screen without a run, else the live view, near or far. */
export default function TuneWorkspace() {
  const record = useApp(selectRun);
  const showsStep = useApp(selectShowsStep);
  if (record !== undefined) return <Measuring key={record.info.runId} record={record} />;
  return <Place>{showsStep ? <VisitStep record={undefined} deeds={undefined} /> : <StartScreen />}</Place>;
}

function Measuring({ record }: { record: RunRecord }) {
  const far = useApp((state) => state.far);
  const farTurned = useApp((state) => state.farTurned);
  const showsStep = useApp(selectShowsStep);
  const isGeometry = useApp((state) => state.visitStep === 'set-up');
  const isEntering = useApp((state) => state.entry !== undefined);
  const deeds = usePendingMark();
  const { display } = record.info;
  const [isLater, setLater] = useState(false);
  const kind = record.info.source.kind;
  const mustRead = useApp((state) => (kind === 'serial' || kind === 'typed') && state.role === 'operator' && !cautionsAreRead(state));
  const checksDisplay = display !== undefined && !mustRead && !isLater;
  const showsFar = far && !checksDisplay && !(showsStep && isGeometry);
  // here and not in the views themselves: the way into the far view and out of it works while the script of either still comes
  useKey('far', farTurned, !checksDisplay);
  useKey('back', farTurned, showsFar && deeds.pending === undefined);
  return (
    <>
      {checksDisplay ? (
        <Place>
          <DisplayCheck info={{ ...record.info, display }} later={() => setLater(true)} />
        </Place>
      ) : showsFar ? (
        <Place>
          <FarView record={record} deeds={deeds} />
        </Place>
      ) : showsStep ? (
        <Place>
          <VisitStep record={record} deeds={deeds} />
        </Place>
      ) : (
        <LiveView record={record} deeds={deeds} />
      )}
      {!showsStep && !far && !mustRead && <VisitOverLive />}
      {mustRead ? <CautionsDialog /> : <Suspense>{isEntering && <Entries record={record} />}</Suspense>}
    </>
  );
}
