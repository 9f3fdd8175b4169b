/** What a visit adds to the live view: its cautions, the question about an unmarked shift, the way to the other side. */
import { useState } from 'react';
import { positionOf, withPosition } from '../../../../shared/tuning/trial/setting.ts';
import { reserveOf } from '../../../../shared/tuning/curve/air-curve.ts';
import { shiftCauses } from '../../../../shared/words/tune/trade.ts';
import { shiftQuestion, shiftWords as words } from '../../../../shared/words/visit/unmarked-shift.ts';
import { onsetWords } from '../../../../shared/words/visit/smoke-and-window.ts';
import { curveScreen } from '../../../../shared/words/visit/screens/air-curve.ts';
import { visitWords } from '../../../../shared/words/visit/visit-thread.ts';
import { common } from '../../../../shared/words/common.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Field } from '../../../components/Field.tsx';
import { Key } from '../../../components/Key.tsx';
import { NoteSign } from '../../../components/Signs.tsx';
import { adjustersOf, selectMayAct, selectUnits, settingNow } from '../../../state/selectors.ts';
import type { RunRecord } from '../../../state/run-record.ts';
import { errorOf, typedPlain } from '../../../fields/typed.ts';
import { formatsFor } from '../../../../shared/words/formats.ts';
import { HintStrip } from './HintStrip.tsx';
import { StagePicker } from '../start/StagePicker.tsx';
import { numberOf } from '../visit-facts.ts';
import { useCurve } from '../use-visit.ts';
import { formatNumber, formatPosition } from '../../../../shared/format/quantity.ts';
import './curve.css';

/** Asked once for each shift; the mark goes back to when it began. */
export function ShiftAsked({ record }: { record: RunRecord }) {
  const { visits, store } = useParts();
  const question = useApp((state) => state.asked[record.info.runId]);
  const units = useApp(selectUnits);
  const mayAct = useApp(selectMayAct);
  const [turned, setTurned] = useState<string>();
  const [text, setText] = useState('');
  const [tried, setTried] = useState(false);
  const visit = useApp((state) => state.visit);
  if (question === undefined || !mayAct) return null;
  const said = shiftQuestion(question, formatsFor(units));
  const adjusters = adjustersOf(store.getState()).slice(0, 2);
  const chosen = adjusters.find(({ name }) => name === turned);
  const typed = typedPlain(text);
  const low = chosen?.min;
  const high = chosen?.max;
  const outside = typed.kind === 'value' && ((low !== undefined && typed.value < low) || (high !== undefined && typed.value > high));
  const keep = (): void => {
    setTried(true);
    if (chosen === undefined || typed.kind !== 'value' || outside) return;
    const stands = settingNow(store.getState()) ?? {
      stage: '1',
      positions: adjusters.flatMap(({ name, value }) => (value === undefined ? [] : [{ name, value }])),
    };
    visits.answerShift(withPosition(stands, chosen.name, typed.value));
  };
  return (
    <form
      className="say notice shift"
      role="alert"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        keep();
      }}
    >
      <NoteSign />
      <div className="grow shift-words">
        <b>{said.title}</b>{' '}
        <span>
          <ChannelName text={said.about} />
        </span>
      </div>
      {chosen === undefined ? (
        <>
          {adjusters.map(({ name }) => (
            <button
              key={name}
              type="button"
              className="button tall"
              onClick={() => {
                setTurned(name);
                setText('');
              }}
            >
              {words.turned(name.replace(/^./, (first) => first.toUpperCase()))}
            </button>
          ))}
          {visit !== undefined &&
            shiftCauses.map(({ kind, text: cause }) => (
              <button
                key={kind}
                type="button"
                className="button tall"
                onClick={() => {
                  // what moves everything else goes into the list, at the time of the shift
                  const wallMs = Math.round(record.info.startWallMs + question.atMs);
                  const refused = visits.edit([{ path: ['changes', visit.changes.length], after: { wallMs, kind } }]);
                  // not in the list: the question stays, or the shift would count as explained
                  if (refused === undefined) visits.answerShift();
                  else store.getState().commandFailed(refused);
                }}
              >
                {cause}
              </button>
            ))}
          <button type="button" className="button tall" onClick={() => visits.answerShift()}>
            {said.nothing}
          </button>
        </>
      ) : (
        <>
          <Field
            label={words.position(chosen.name.replace(/^./, (first) => first.toUpperCase()))}
            value={text}
            change={setText}
            width={190}
            first
            error={
              errorOf(typed) ??
              (outside
                ? common.fieldErrors.outside(formatPosition(low ?? 0), formatPosition(high ?? 0))
                : tried && typed.kind === 'empty'
                  ? common.fieldErrors.empty
                  : undefined)
            }
            hint={
              record.info.setting === undefined || positionOf(record.info.setting, chosen.name) === undefined
                ? undefined
                : formatPosition(positionOf(record.info.setting, chosen.name) ?? 0)
            }
          />
          <button type="submit" className="button main">
            {words.use}
          </button>
          <button type="button" className="button" onClick={() => setTurned(undefined)}>
            {words.back}
          </button>
        </>
      )}
    </form>
  );
}

/** Under the trials: where smoke starts, what the running trial has in reserve, and the clearest pattern. */
export function TrialsFoot() {
  const visit = useApp((state) => state.visit);
  const units = useApp(selectUnits);
  const sideTurned = useApp((state) => state.sideTurned);
  const step = useApp((state) => state.visitStep);
  const facts = useCurve();
  const formats = formatsFor(units);
  const onset = facts?.curve.onset;
  const last = visit?.trials.at(-1);
  const reserve = last === undefined || onset === undefined ? undefined : reserveOf(last, onset);
  return (
    <div className="trials-foot">
      <StagePicker />
      {visit !== undefined && onset !== undefined && facts !== undefined && facts.curve.points.length > 0 && (
        <p className="second small">
          <ChannelName text={onsetWords(onset, formats)} />
        </p>
      )}
      {visit !== undefined && last !== undefined && reserve !== undefined && (
        <p>
          {curveScreen.hasReserve(visitWords.trial(numberOf(visit, last.id)))}{' '}
          <b>
            {formatNumber(reserve.o2Points, 1)} ±{formatNumber(Math.max(0.1, (reserve.high - reserve.low) / 2), 1)}
          </b>{' '}
          <ChannelName text={curveScreen.reserveUnits} />
        </p>
      )}
      <HintStrip />
      {visit !== undefined && (
        <button type="button" className="button" onClick={sideTurned}>
          {step === 'as-found' ? visitWords.foundSide : step === 'air-curve' ? visitWords.curveSide : visitWords.otherSide}{' '}
          <Key action="curve" />
        </button>
      )}
    </div>
  );
}
