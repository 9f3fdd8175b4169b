import { live } from '../../../shared/words/tune/live.ts';
import { useApp } from '../../app-parts.ts';
import { BrokenSlot } from '../../components/Signs.tsx';
import { Key } from '../../components/Key.tsx';
import './tune.css';

/** No channel is known yet: what is awaited, and where the raw lines can be seen. */
export function WaitingBlock({ strong, rest }: { strong: string; rest: string }) {
  const panelOpened = useApp((state) => state.panelOpened);
  return (
    <div className="waiting-block">
      <BrokenSlot large />
      <div>
        <h2>{strong === '' ? rest : strong}</h2>
        {strong !== '' && <p className="second waiting-rest">{rest}</p>}
        <button type="button" className="button" onClick={() => panelOpened('lines')}>
          {live.lines} <Key action="lines" />
        </button>
      </div>
    </div>
  );
}
