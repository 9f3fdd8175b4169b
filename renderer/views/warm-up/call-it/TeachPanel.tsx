import { warmUp } from '../../../../shared/words/warm-up.ts';
import { Dialog } from '../../../components/Dialog.tsx';
import { BurnerControls } from '../BurnerControls.tsx';

/** What one person may do alone to the simulated burner on screen; an instructor has a window of its own for it. */
export function TeachPanel({ runId, close }: { runId: string; close: () => void }) {
  return (
    <Dialog title={warmUp.teachTitle} close={close} wide>
      <p className="second">{warmUp.teachAbout}</p>
      <BurnerControls runId={runId} />
    </Dialog>
  );
}
