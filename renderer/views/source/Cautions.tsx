import { source } from '../../../shared/words/source.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { Key } from '../../components/Key.tsx';
import { NoticeSign } from '../../components/Signs.tsx';
import { useKey } from '../../keys/use-key.ts';
import { selectMayAct } from '../../state/selectors.ts';
import { cautionsAreRead } from './cautions-read.ts';

/** Shown before firing; acknowledged once per session. */
export function Cautions() {
  const { actions, store } = useParts();
  const mayAct = useApp(selectMayAct);
  const isRead = useApp(cautionsAreRead);
  const read = (): void => {
    store.getState().cautionsRead();
    void actions.changeSettings({ cautionsReadWallMs: Date.now() });
  };
  useKey('main', read, mayAct && !isRead);
  return (
    <section className="cautions" aria-label={source.cautionsTitle} data-region="right">
      <div className="row" style={{ gap: 14 }}>
        <NoticeSign />
        <h2>{source.cautionsTitle}</h2>
      </div>
      <div style={{ marginTop: 14 }}>
        {source.cautions.map((parts, index) => (
          <p key={index}>{parts.map(({ text, strong }, at) => (strong === true ? <b key={at}>{text}</b> : text))}</p>
        ))}
      </div>
      <div className="foot">
        {isRead ? (
          <p className="second">{source.cautionsDone}</p>
        ) : (
          <button type="button" className="button main" disabled={!mayAct} onClick={read}>
            {source.cautionsRead} <Key action="main" />
          </button>
        )}
      </div>
    </section>
  );
}
