/** What was changed on this visit that moves everything else: one press each, with before and after where there is a figure. */
import { changeKinds, staleReason, type Change, type ChangeKind } from '../../../shared/tuning/visit/staleness.ts';
import { changedWords as words } from '../../../shared/words/tune/trade.ts';
import { useParts } from '../../app-parts.ts';
import { KeptField } from '../../fields/KeptField.tsx';
import { plainText } from '../../fields/typed.ts';
import { useVisit } from './use-visit.ts';
import { formatClock } from '../../../shared/format/duration.ts';
import './work.css';

/** These have a figure before and after. */
const withFigure: ReadonlySet<ChangeKind> = new Set(['nozzle', 'pressure', 'head', 'draft']);
const order: readonly ChangeKind[] = ['nozzle', 'pressure', 'head', 'electrodes', 'cleaning', 'sealing', 'draft', 'house'];

export function ChangedList() {
  const { visits } = useParts();
  const { visit, may, put } = useVisit();
  const stale = visit.trials.flatMap((trial, at) => (staleReason(trial, visit) === undefined ? [] : [at + 1]));
  const add = (kind: ChangeKind): void =>
    void put({ path: ['changes', visit.changes.length], after: { wallMs: visits.nowWallMs(), kind } });
  return (
    <section aria-label={words.title} className="changed-list">
      <h2>{words.title}</h2>
      {visit.changes.length === 0 && <p className="second">{words.none}</p>}
      <ul>
        {visit.changes.map((change, at) => (
          <ChangeRow key={`${change.wallMs}-${at}`} change={change} at={at} />
        ))}
      </ul>
      {stale.length > 0 && <p className="changed-stale">{words.stale(stale)}</p>}
      <p className="second">{words.ask}</p>
      <div className="press-grid">
        {order
          .filter((kind) => changeKinds.includes(kind))
          .map((kind) => (
            <button key={kind} type="button" className="button" disabled={!may} onClick={() => add(kind)}>
              {words.kinds[kind]}
            </button>
          ))}
      </div>
    </section>
  );
}

function ChangeRow({ change, at }: { change: Change; at: number }) {
  const { visit, may, edit, put } = useVisit();
  const what = words.kinds[change.kind];
  const keep = (key: 'before' | 'after') => (text: string | undefined) => {
    const { [key]: _gone, ...rest } = change;
    return edit({ path: ['changes', at], after: text === undefined ? rest : { ...rest, [key]: text.slice(0, 60) } });
  };
  return (
    <li>
      <div className="row">
        <span className="number second">{formatClock(change.wallMs, visit.zoneMinutes, 'minutes')}</span> <b>{what}</b>
        <span className="second grow">{change.note ?? ''}</span>
        <button
          type="button"
          className="button small"
          aria-label={`${words.remove}: ${what}`}
          disabled={!may}
          onClick={() => put({ path: ['changes'], after: visit.changes.filter((_, index) => index !== at) })}
        >
          {words.remove}
        </button>
      </div>
      {withFigure.has(change.kind) && (
        <div className="form-row">
          {(['before', 'after'] as const).map((key) => (
            <KeptField
              key={key}
              name={`change-${at}-${key}`}
              label={words[key](what)}
              numeric={false}
              width={150}
              disabled={!may}
              shown={change[key] ?? ''}
              parse={plainText}
              keep={keep(key)}
            />
          ))}
        </div>
      )}
    </li>
  );
}
