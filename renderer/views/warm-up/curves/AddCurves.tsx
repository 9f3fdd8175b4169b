import { useEffect, useState } from 'react';
import type { RunSummary } from '../../../../shared/ipc/run-info.ts';
import type { WarmUpCurve } from '../../../../shared/warm-up/curve.ts';
import { warmUp } from '../../../../shared/words/warm-up.ts';
import { common } from '../../../../shared/words/common.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { selectMayAct } from '../../../state/selectors.ts';
import { Dialog } from '../../../components/Dialog.tsx';
import { Check, Choice } from '../../../components/Field.tsx';
import { summaryLabel, summaryLine } from '../../source/forms/summary-label.ts';
import type { KeptCurve } from '../use-documents.ts';
import { formatClock, formatDate } from '../../../../shared/format/duration.ts';
import { formatWithUnit } from '../../../../shared/format/quantity.ts';
import '../warm-up.css';

type Props = {
  curves: readonly KeptCurve[];
  chosen: ReadonlySet<string>;
  units: 'us' | 'metric';
  turn: (id: string) => void;
  remove: (id: string) => void;
  /** a stored run is to become a curve */
  capture: (run: RunSummary) => void;
  close: () => void;
};

/** The library: which curves lie over each other, and stored runs that can become curves. */
export function AddCurves({ curves, chosen, units, turn, remove, capture, close }: Props) {
  const mayAct = useApp(selectMayAct);
  const [kind, setKind] = useState<'curves' | 'runs'>('curves');
  const [tag, setTag] = useState('');
  const tags = [...new Set(curves.flatMap(({ curve }) => curve.tags))].sort();
  const listed = tag === '' ? curves : curves.filter(({ curve }) => curve.tags.includes(tag));
  return (
    <Dialog title={warmUp.library} close={close} wide>
      <div className="row library-head">
        <div className="row" role="group" aria-label={warmUp.library}>
          {(['curves', 'runs'] as const).map((one) => (
            <button key={one} type="button" className="button" aria-pressed={kind === one} onClick={() => setKind(one)}>
              {warmUp.libraryKinds[one]}
            </button>
          ))}
        </div>
        <span className="grow" />
        {kind === 'curves' && tags.length > 0 && (
          <Choice
            label={warmUp.tags}
            width={260}
            value={tag}
            change={setTag}
            options={[{ value: '', text: warmUp.everyTag }, ...tags.map((value) => ({ value, text: value }))]}
          />
        )}
      </div>
      {!mayAct && <p className="second">{common.viewer.title}</p>}
      {kind === 'runs' ? (
        <StoredRuns capture={capture} mayAct={mayAct} />
      ) : curves.length === 0 ? (
        <p>
          <b>{warmUp.empty.title}</b> {warmUp.empty.about}
        </p>
      ) : (
        <ul className="pick-list">
          {listed.map(({ id, curve }) => (
            <li key={id} className="row curve-row">
              <Check label={<b>{curve.name}</b>} checked={chosen.has(id)} change={() => turn(id)} />
              <span className="second grow">{factsOf(curve, units)}</span>
              <button type="button" className="button quiet" disabled={!mayAct} onClick={() => remove(id)}>
                {warmUp.remove} <span className="hidden-text">{curve.name}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
    </Dialog>
  );
}

const factsOf = (curve: WarmUpCurve, units: 'us' | 'metric'): string =>
  [
    formatDate(curve.capturedWallMs, 0),
    curve.appliance ?? '',
    warmUp.startStates[curve.startState],
    curve.outdoorC === undefined ? '' : warmUp.outdoors(formatWithUnit('airTemperature', curve.outdoorC, units)),
    ...curve.tags,
    curve.source === 'simulated' ? warmUp.simulatedMark : '',
  ]
    .filter((part) => part !== '')
    .join(' · ');

function StoredRuns({ capture, mayAct }: { capture: (run: RunSummary) => void; mayAct: boolean }) {
  const { actions } = useParts();
  const [runs, setRuns] = useState<readonly RunSummary[]>();
  useEffect(() => {
    let isOpen = true;
    void actions.ask('source.list', {}).then((found) => isOpen && setRuns(found?.runs ?? []));
    return () => {
      isOpen = false;
    };
  }, [actions]);
  if (runs?.length === 0) return <p>{warmUp.noRuns}</p>;
  return (
    <>
      <p className="second">{warmUp.runsAbout}</p>
      <ul className="pick-list">
        {(runs ?? []).map((run) => (
          <li key={run.runId} className="row curve-row">
            <span className="unwrapped">
              {`${formatDate(run.header.startWallMs, run.header.zoneMinutes)} ${formatClock(run.header.startWallMs, run.header.zoneMinutes, 'minutes')}`}
            </span>
            <span className="grow">
              <b>{summaryLabel(run)}</b> <span className="second">{summaryLine(run)}</span>
            </span>
            <button type="button" className="button" disabled={!mayAct} onClick={() => capture(run)}>
              {warmUp.makeCurve}
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}
