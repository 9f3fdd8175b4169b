import { warmUp } from '../../../shared/words/warm-up.ts';
import { Dialog } from '../../components/Dialog.tsx';
import { Check } from '../../components/Field.tsx';
import { formatDate } from '../../format/duration.ts';
import type { KeptCurve } from './use-curves.ts';

type Props = {
  curves: readonly KeptCurve[];
  chosen: ReadonlySet<string>;
  turn: (id: string) => void;
  remove: (id: string) => void;
  close: () => void;
};

/** The library: which curves lie over each other. At most twenty. */
export function AddCurves({ curves, chosen, turn, remove, close }: Props) {
  return (
    <Dialog title={warmUp.library} close={close} wide>
      {curves.length === 0 ? (
        <p>
          <b>{warmUp.empty.title}</b> {warmUp.empty.about}
        </p>
      ) : (
        <ul className="pick-list">
          {curves.map(({ id, curve }) => (
            <li key={id} className="row curve-row">
              <Check label={<b>{curve.name}</b>} checked={chosen.has(id)} change={() => turn(id)} />
              <span className="second grow">
                {[
                  formatDate(curve.capturedWallMs, 0),
                  curve.appliance ?? '',
                  warmUp.startStates[curve.startState],
                  ...curve.tags,
                  curve.source === 'simulated' ? 'simulated' : '',
                ]
                  .filter((part) => part !== '')
                  .join(' · ')}
              </span>
              <button type="button" className="button quiet" onClick={() => remove(id)}>
                {warmUp.remove}
              </button>
            </li>
          ))}
        </ul>
      )}
    </Dialog>
  );
}
