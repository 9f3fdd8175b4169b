import { Key } from '../../../components/Key.tsx';
import '../source.css';
import '../SourcePanel.css';

export function StartButton({ text, run, disabled }: { text: string; run: () => void; disabled: boolean }) {
  return (
    <div className="foot">
      <button type="button" className="button main" disabled={disabled} onClick={run}>
        {text} <Key action="main" />
      </button>
    </div>
  );
}
