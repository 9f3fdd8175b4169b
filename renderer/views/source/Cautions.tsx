import { source } from '../../../shared/words/source.ts';
import { useApp } from '../../app-parts.ts';
import { Key } from '../../components/Key.tsx';
import { NoticeSign } from '../../components/Signs.tsx';
import { useKey } from '../../keys/use-key.ts';
import { selectMayAct } from '../../state/selectors.ts';
import { CautionTexts } from './CautionTexts.tsx';
import { useReadCautions } from './use-read-cautions.ts';
import { cautionsAreRead } from './cautions-read.ts';

/** Shown before firing; acknowledged once per session. */
export function Cautions() {
  const mayAct = useApp(selectMayAct);
  const isRead = useApp(cautionsAreRead);
  const read = useReadCautions();
  useKey('main', read, mayAct && !isRead);
  return (
    <section className="cautions" aria-label={source.cautionsTitle} data-region="right">
      <div className="row" style={{ gap: 14 }}>
        <NoticeSign />
        <h2>{source.cautionsTitle}</h2>
      </div>
      <div className="caution-texts" style={{ marginTop: 14 }}>
        <CautionTexts />
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
