import type { Output } from '../../../../shared/ipc/contract.ts';
import { useParts } from '../../../app-parts.ts';
import type { RunRecord } from '../../../state/run-record.ts';

type Props = { record: RunRecord; text: string; fill: (seen: Output<'simulator.look'>) => void };

/** A simulated burner has a gauge and paper of its own: what they show is filled in. */
export function LookButton({ record: { info }, text, fill }: Props) {
  const { actions } = useParts();
  if (info.source.kind !== 'simulated') return null;
  const look = async (): Promise<void> => {
    const seen = await actions.ask('simulator.look', { runId: info.runId });
    if (seen === undefined) return;
    fill(seen);
    // Enter keeps it then, instead of looking again
    document.querySelector<HTMLElement>('dialog [data-first]')?.focus();
  };
  return (
    <button type="button" className="button" onClick={() => void look()}>
      {text}
    </button>
  );
}
