import type { GasSlot, PlanStep } from '../../../../shared/bench/plan.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { Dialog } from '../../../components/Dialog.tsx';
import '../bench.css';

const words = benchResult;

/** Asks which step of the plan is measured once more. */
export function RepeatDialog({
  steps,
  gasName,
  repeat,
  close,
}: {
  steps: readonly PlanStep[];
  gasName: (slot: GasSlot) => string;
  repeat: (stepId: string) => void;
  close: () => void;
}) {
  return (
    <Dialog title={words.repeatTitle} close={close}>
      <p className="second">{words.repeatAbout}</p>
      <ul className="home-list-rows">
        {steps.map((step, i) => (
          <li key={step.id}>
            <button type="button" className="found-row" onClick={() => repeat(step.id)} {...(i === 0 ? { 'data-first': '' } : {})}>
              <span className="grow">{bench.purposes[step.purpose]}</span>
              <span className="second">{gasName(step.slot)}</span>
            </button>
          </li>
        ))}
      </ul>
    </Dialog>
  );
}
