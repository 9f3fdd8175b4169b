import { warmUp } from '../../../../shared/words/warm-up.ts';
import { Key } from '../../../components/Key.tsx';
import { BrokenSlot } from '../../../components/Signs.tsx';
import '../warm-up.css';

/** No run and no curve chosen: where the first one can come from. */
export function NothingToCompare({ exercises, add, source }: { exercises: () => void; add: () => void; source: () => void }) {
  return (
    <div className="warm-up-empty">
      <BrokenSlot large />
      <div>
        <h2>{warmUp.empty.title}</h2>
        <p className="second">{warmUp.empty.about}</p>
        <div className="row warm-up-ways">
          <button type="button" className="button" onClick={exercises}>
            {warmUp.exercises} <Key action="exercises" />
          </button>
          <button type="button" className="button" onClick={add}>
            {warmUp.add} <Key action="add" />
          </button>
          <button type="button" className="button" onClick={source}>
            {warmUp.pickSource} <Key action="source" />
          </button>
        </div>
      </div>
    </div>
  );
}
