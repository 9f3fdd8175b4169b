import { visitWords as words } from '../../../shared/words/visit/visit-thread.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { selectMayAct, selectRun } from '../../state/selectors.ts';
import './visit.css';

/** Begin a visit, or go on with the newest one that is open. The live view works without either. */
export function VisitOffer({ compact = false }: { compact?: boolean }) {
  const { visits } = useParts();
  const mayAct = useApp(selectMayAct);
  const hasVisit = useApp((state) => state.visit !== undefined);
  const open = useApp((state) => state.openVisits[0]);
  const practice = useApp((state) => {
    const kind = selectRun(state)?.info.source.kind;
    return kind === 'simulated' || kind === 'replay';
  });
  if (hasVisit) return null;
  const begin = (
    <button
      type="button"
      className={compact ? 'button quiet begin-visit' : 'button'}
      disabled={!mayAct}
      onClick={() => void visits.begin(practice ? 'training' : 'service')}
    >
      {practice ? words.beginTraining : words.begin}
    </button>
  );
  const goOn = open !== undefined && (
    <button
      type="button"
      className={compact ? 'button quiet begin-visit' : 'button'}
      disabled={!mayAct}
      onClick={() => void visits.open(open.id)}
    >
      {words.goOn(open.number)}
    </button>
  );
  if (compact)
    return (
      <>
        <span className="only-wide">· {words.withoutVisit.toLowerCase()}</span>
        {goOn}
        {begin}
      </>
    );
  return (
    <div className="say visit-offer">
      <div className="grow">
        {open === undefined ? (
          <span>{words.offerTitle}</span>
        ) : (
          <>
            <b>{words.visit(open.number)}</b>
            <div className="second">{words.goOnAbout(open.applianceName ?? open.technician ?? '', open.trials)}</div>
          </>
        )}
      </div>
      {goOn}
      {begin}
    </div>
  );
}
