import { useEffect, useState } from 'react';
import type { History } from '../../../../shared/ipc/run-documents.ts';
import { captureCurve, lightOffIn } from '../../../../shared/warm-up/capture.ts';
import type { WarmUpCurve } from '../../../../shared/warm-up/curve.ts';
import { parseTypedNumber } from '../../../../shared/units/parse-number.ts';
import { celsiusFromFahrenheit } from '../../../../shared/units/convert.ts';
import { common } from '../../../../shared/words/common.ts';
import { warmUp } from '../../../../shared/words/warm-up.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Choice, Field } from '../../../components/Field.tsx';
import { selectUnits } from '../../../state/selectors.ts';
import { columnsOf } from '../run-columns.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import { problems } from '../../../../shared/words/problems.ts';
import { defined } from '../../../../shared/defined.ts';
import './curves.css';

type Props = {
  runId: string;
  source: WarmUpCurve['source'];
  startWallMs: number;
  name: string;
  close: () => void;
  /** run time now */
  endMs: number;
  kept: (id: string) => void;
};

/** The most that the wire takes; a curve keeps fewer points than that. */
const BUCKETS = 4000;

const BEFORE_MS = 120_000;
const LONGEST_MS = 2 * 3_600_000;

/** Keeps a run as a curve of the library: what it was, how it began, and everything that follows from its lines. */
export function SaveCurve({ runId, source, startWallMs, name: proposed, endMs, close, kept }: Props) {
  const { actions, store } = useParts();
  const units = useApp(selectUnits);
  const [name, setName] = useState(proposed);
  const [appliance, setAppliance] = useState('');
  const [outdoor, setOutdoor] = useState('');
  const [tags, setTags] = useState('');
  const [startState, setStartState] = useState<WarmUpCurve['startState']>('cold');
  const [error, setError] = useState<string>();
  const typed = outdoor.trim() === '' ? undefined : parseTypedNumber(outdoor);
  const outdoorError = typed !== undefined && !typed.ok ? problems[typed.error.code].title : undefined;

  const [seen, setSeen] = useState<History>();
  useEffect(() => {
    let isOpen = true;
    // a stored run is read whole; what is kept is taken anew, a run under way has gone on by then
    void actions
      .ask('run.history', { runId, fromMs: 0, toMs: endMs, buckets: BUCKETS })
      .then((found) => isOpen && setSeen((before) => before ?? found));
    return () => {
      isOpen = false;
    };
    // the light-off lies in the past: it is not looked for again as the run grows
    // oxlint-disable-next-line react/exhaustive-deps
  }, [actions, runId]);
  const lightOffMs = seen === undefined ? undefined : lightOffIn(columnsOf(seen));

  const keep = async (): Promise<void> => {
    if (outdoorError !== undefined || name.trim() === '') return;
    // a day's run would leave few points for the first minutes, which are what a curve is for
    const fromMs = lightOffMs === undefined ? 0 : Math.max(0, lightOffMs - BEFORE_MS);
    const toMs = Math.min(endMs, fromMs + BEFORE_MS + LONGEST_MS);
    const history = await actions.ask('run.history', { runId, fromMs, toMs, buckets: BUCKETS });
    if (history === undefined) return;
    const outdoorC = typed?.ok === true ? (units === 'us' ? celsiusFromFahrenheit(typed.value) : typed.value) : undefined;
    const curve = captureCurve({
      columns: columnsOf(history),
      readings: history.readings,
      marks: history.marks,
      lightOffMs,
      about: {
        name: name.trim(),
        runId,
        capturedWallMs: startWallMs,
        source,
        startState,
        tags: tags
          .split(',')
          .map((tag) => tag.trim())
          .filter(Boolean)
          .slice(0, 20),
        ...(appliance.trim() === '' ? {} : { appliance: appliance.trim() }),
        ...defined({ outdoorC }),
      },
    });
    if (!Object.values(curve.channels).some((channel) => (channel?.seconds.at(-1) ?? 0) >= 60)) return setError(warmUp.tooShort);
    const saved = await actions.ask('document.save', { kind: 'curve', body: curve as never });
    if (saved === undefined) return;
    store.getState().saidChanged(warmUp.kept);
    kept(saved.id);
    close();
  };
  return (
    <Dialog
      title={warmUp.keepTitle}
      close={close}
      submit={keep}
      foot={<DialogFoot main={common.save} says={<span className="grow field-error">{error}</span>} />}
    >
      <div className="keep-curve">
        {seen !== undefined && (
          <p className="second">
            {lightOffMs === undefined ? warmUp.lightOffNotFound : warmUp.lightOffAt(formatNumber(lightOffMs / 60_000, 1))}
          </p>
        )}
        {endMs - (lightOffMs ?? 0) > LONGEST_MS && <p className="second">{warmUp.longRun}</p>}
        <Field label={warmUp.fields.name} value={name} change={setName} numeric={false} first />
        <Field label={warmUp.fields.appliance} value={appliance} change={setAppliance} numeric={false} />
        <Choice
          label={warmUp.fields.startState}
          value={startState}
          change={setStartState}
          options={(['cold', 'warm', 'hot', 'unknown'] as const).map((value) => ({ value, text: warmUp.startStates[value] }))}
        />
        <Field label={warmUp.fields.outdoor} value={outdoor} change={setOutdoor} unit={units === 'us' ? '°F' : '°C'} error={outdoorError} />
        <Field label={warmUp.fields.tags} value={tags} change={setTags} numeric={false} />
      </div>
    </Dialog>
  );
}
