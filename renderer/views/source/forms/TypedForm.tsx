import { source } from '../../../../shared/words/source.ts';
import { useParts } from '../../../app-parts.ts';
import { useKey } from '../../../keys/use-key.ts';
import { StartButton } from './StartButton.tsx';

export function TypedForm({ mayAct }: { mayAct: boolean }) {
  const { actions } = useParts();
  const start = (): void => void actions.startRun({ source: { kind: 'typed' } });
  useKey('main', start, mayAct);
  return (
    <>
      <p className="second">{source.kinds.typed.about}</p>
      <StartButton text={source.startTyped} run={start} disabled={!mayAct} />
    </>
  );
}
