import { useEffect, useState } from 'react';
import { useApp } from '../../app-parts.ts';
import { selectInfo } from '../../state/selectors.ts';
import { DisplayCheck } from '../lines/questions/DisplayCheck.tsx';
import { BenchHome } from './BenchHome.tsx';
import { CertificateView } from './certificate/CertificateView.tsx';
import { GasForm } from './forms/GasForm.tsx';
import { InstrumentForm } from './forms/InstrumentForm.tsx';
import { LimitsForm } from './forms/LimitsForm.tsx';
import { PlanForm } from './forms/PlanForm.tsx';
import { ResultView } from './result/ResultView.tsx';
import { RunView } from './run/RunView.tsx';
import { SetUp } from './set-up/SetUp.tsx';
import { useBench, useBenchScreen } from './use-bench.ts';

/** Can this instrument be trusted? From the list of tests to the certificate. */
export default function BenchWorkspace() {
  const screen = useBenchScreen();
  const view = useBench((state) => state.view);
  useEffect(() => void screen.load(), [screen]);
  const info = useApp(selectInfo);
  const [isLater, setLater] = useState(false);
  if (info?.display !== undefined && view.kind === 'run' && !isLater)
    return <DisplayCheck info={{ ...info, display: info.display }} later={() => setLater(true)} />;
  return (
    <>
      {view.kind === 'home' && <BenchHome />}
      {view.kind === 'set-up' && <SetUp />}
      {view.kind === 'instrument' && <InstrumentForm key={view.id ?? ''} id={view.id} />}
      {view.kind === 'gas' && <GasForm key={view.id ?? ''} id={view.id} />}
      {view.kind === 'plan' && <PlanForm key={view.id ?? ''} id={view.id} />}
      {view.kind === 'limits' && <LimitsForm key={view.id ?? ''} id={view.id} />}
      {view.kind === 'run' && <RunView key={view.testId} testId={view.testId} />}
      {view.kind === 'result' && <ResultView key={view.testId} testId={view.testId} />}
      {view.kind === 'certificate' && <CertificateView key={view.testId} testId={view.testId} />}
    </>
  );
}
