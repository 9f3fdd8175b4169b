import { source } from '../../../../shared/words/source.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Key } from '../../../components/Key.tsx';
import { NoticeSign } from '../../../components/Signs.tsx';
import { useKey } from '../../../keys/use-key.ts';
import { selectMayAct } from '../../../state/selectors.ts';
import { CautionTexts } from './CautionTexts.tsx';
import { useReadCautions } from './use-read-cautions.ts';
import { cautionsAreRead } from './cautions-read.ts';
import './Cautions.css';
import '../source.css';
import '../SourcePanel.css';

/** The one thing to do next: the port that was found, or practice while there is none. */
function NextButton() {
  const { actions } = useParts();
  const mayAct = useApp(selectMayAct);
  const ports = useApp((state) => state.ports);
  const panelOpened = useApp((state) => state.panelOpened);
  const free = ports.filter(({ inUseByRun }) => inUseByRun === undefined);
  const [only] = free;
  const words = source.next;
  const run = (): void => {
    if (only === undefined) panelOpened('source', 'simulated');
    else if (free.length > 1) panelOpened('source', 'serial');
    else void actions.startRun({ source: { kind: 'serial', path: only.path } });
  };
  useKey('main', run, mayAct);
  return (
    <>
      <p className="second">{source.cautionsDone}</p>
      <button type="button" className={`button ${only === undefined ? '' : 'main'}`} disabled={!mayAct} onClick={run}>
        {only === undefined ? words.practise : free.length > 1 ? words.pick : words.port(only.label)} <Key action="main" />
      </button>
    </>
  );
}

/** Shown before firing; acknowledged once per session. */
export function Cautions() {
  const mayAct = useApp(selectMayAct);
  const isRead = useApp(cautionsAreRead);
  const read = useReadCautions();
  useKey('main', read, mayAct && !isRead);
  return (
    <section className="cautions" aria-label={source.cautionsTitle} data-region="right">
      <div className="row gap-4">
        <NoticeSign />
        <h2>{source.cautionsTitle}</h2>
      </div>
      <div className="caution-texts above-4">
        <CautionTexts />
      </div>
      <div className="foot">
        {isRead ? (
          <NextButton />
        ) : (
          <button type="button" className="button main" disabled={!mayAct} onClick={read}>
            {source.cautionsRead} <Key action="main" />
          </button>
        )}
      </div>
    </section>
  );
}
