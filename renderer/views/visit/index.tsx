import type { StepId } from '../../../shared/tuning/visit/step-names.ts';
import { useApp } from '../../app-parts.ts';
import type { RunRecord } from '../../state/run-record.ts';
import type { PendingDeeds } from '../tune/mark-bar/use-pending-mark.ts';
import { AirCurveStep } from './steps/AirCurveStep.tsx';
import { AsFoundStep } from './steps/AsFoundStep.tsx';
import { AsLeftStep } from './steps/AsLeftStep.tsx';
import { ReportStep } from './steps/ReportStep.tsx';
import { SafetyStep } from './steps/SafetyStep.tsx';
import { SetUpStep } from './steps/set-up/SetUpStep.tsx';
import { StartStep } from './steps/StartStep.tsx';
import { WarmUpStep } from './steps/WarmUpStep.tsx';
import { useReadAhead } from './use-read-ahead.ts';
import { TrialWindow } from './curve/TrialWindow.tsx';

export function VisitStep({ record, deeds }: { record: RunRecord | undefined; deeds: PendingDeeds | undefined }) {
  const step = useApp((state) => state.visitStep);
  useReadAhead(step);
  return (
    <>
      <StepScreen step={step} record={record} deeds={deeds} />
      <TrialWindow />
    </>
  );
}

function StepScreen({ step, record, deeds }: { step: StepId; record: RunRecord | undefined; deeds: PendingDeeds | undefined }) {
  switch (step) {
    case 'start':
      return <StartStep />;
    case 'set-up':
      return <SetUpStep />;
    case 'warm-up':
      return <WarmUpStep />;
    case 'as-found':
      return <AsFoundStep />;
    case 'air-curve':
      return <AirCurveStep record={record} deeds={deeds} />;
    case 'as-left':
      return <AsLeftStep record={record} />;
    case 'safety':
      return <SafetyStep />;
    case 'report':
      return <ReportStep />;
  }
}
