import { formatNumber } from '../../../../shared/format/quantity.ts';
import { HAND_TIMING_EXPANDED_S, type SafetyTest } from '../../../../shared/tuning/safety/safety-plan.ts';
import type { Control } from '../../../../shared/tuning/safety/timed-test.ts';
import { controlWords, safetyWords, timingMissing, timingNotes } from '../../../../shared/words/visit/safety-tests.ts';
import { safetyScreen as words } from '../../../../shared/words/visit/screens/safety.ts';
import type { VisitChange } from '../../../backend/visit-edits.ts';
import { Choice, Field } from '../../../components/Field.tsx';
import { Key } from '../../../components/Key.tsx';
import { KeptField } from '../../../fields/KeptField.tsx';
import { errorOf, typedWithin } from '../../../fields/typed.ts';
import { useVisit } from '../use-visit.ts';
import { InferredTime } from './InferredTime.tsx';
import { TimeScale } from './TimeScale.tsx';
import type { Timing } from './use-timing.ts';
import '../visit.css';
import './TimedTest.css';

/** The watch of one test, the time on its control, and the press that starts and stops it. */
export function TimedTest({ test, timing, measuredBefore }: { test: SafetyTest; timing: Timing; measuredBefore: boolean }) {
  const { visit, may, edit, put } = useVisit();
  const { watch, seconds, rated, typedRated, ratedSeconds, startedFrom, restartS, timed, control, recycles, judged } = timing;
  const text = safetyWords[test.id];
  const controlWith = (part: Partial<Control>): VisitChange => ({
    path: ['control'],
    after: Object.fromEntries(Object.entries({ ...control, ...part }).filter(([, value]) => value !== undefined)),
  });
  return (
    <>
      <div className="watch">
        <div className="watch-figure" aria-live="off">
          {formatNumber(seconds, 1)}
          <span className="watch-unit"> s</span>
        </div>
        <div className="watch-words" role="status">
          <div className="state">{watch.phase === 'ready' ? (measuredBefore ? words.stopped : words.ready) : words[watch.phase]}</div>
          {restartS !== undefined && <div className="second">{controlWords.lapAt(formatNumber(restartS, 1))}</div>}
          {judged?.countedS !== undefined && judged.countedS < seconds - 0.05 && (
            <div className="second">{controlWords.counted(formatNumber(judged.countedS, 1))}</div>
          )}
          {judged?.missing !== undefined && <div className="notice-text">{timingMissing[judged.missing]}</div>}
          {!recycles && startedFrom !== 'burner-starts' && ratedSeconds !== undefined && seconds > 0 && (
            <div className={`left${seconds > ratedSeconds ? ' alarm-text' : ''}`}>
              {seconds > ratedSeconds
                ? words.overBy(formatNumber(seconds - ratedSeconds, 1))
                : words.toRated(formatNumber(ratedSeconds - seconds, 1))}
            </div>
          )}
          <div className="second">{words.byHand(formatNumber(HAND_TIMING_EXPANDED_S, 1))}</div>
          <InferredTime test={test.id} />
          {judged?.notes.map((one) => (
            <div key={one} className="notice-text">
              {timingNotes[one]}
            </div>
          ))}
        </div>
        <span className="grow" />
        <Field
          label={controlWords.rated[recycles ? 'recycling' : (timed ?? 'lockout-no-ignition')][visit.unitPreset]}
          value={rated}
          change={timing.setRated}
          unit="s"
          width={190}
          error={errorOf(typedRated)}
          disabled={!may}
        />
      </div>
      <TimeScale seconds={seconds} rated={ratedSeconds} />
      {timed !== undefined && (
        <div className="form-row">
          <Choice
            label={controlWords.startedFrom}
            value={startedFrom}
            width={220}
            disabled={!may}
            change={timing.setStartedFrom}
            options={(timed === 'flame-failure' ? (['flame-lost'] as const) : (['valve-opens', 'burner-starts'] as const)).map((value) => ({
              value,
              text: controlWords.startedFroms[value],
            }))}
          />
          {timed === 'flame-failure' && (
            <Choice
              label={controlWords.onFlameLoss}
              value={control.onFlameLoss ?? ''}
              width={230}
              disabled={!may}
              change={(value) => put(controlWith({ onFlameLoss: value === '' ? undefined : value }))}
              options={(['', 'locks-out', 'recycles'] as const).map((value) => ({
                value,
                text: controlWords.onFlameLosses[value],
              }))}
            />
          )}
          {(recycles || startedFrom === 'burner-starts') && (
            <SecondsField
              name="valve-on-delay"
              label={controlWords.valveOnDelay}
              value={control.valveOnDelayS}
              keep={(valveOnDelayS) => edit(controlWith({ valveOnDelayS }))}
            />
          )}
          {recycles && (
            <SecondsField
              name="recycle-wait"
              label={controlWords.recycleWait}
              value={control.recycleWaitS}
              keep={(recycleWaitS) => edit(controlWith({ recycleWaitS }))}
            />
          )}
        </div>
      )}
      <div className="watch-buttons">
        <button
          type="button"
          className="button main watch-main"
          disabled={!may || watch.phase === 'stopped'}
          onClick={() => void watch.press()}
        >
          {watch.phase === 'running' ? (text.stopKey ?? words.stop) : (text.startKey ?? words.start)} <Key action="mark" />
        </button>
        {recycles && (
          <button type="button" className="button tall" disabled={!may || watch.phase !== 'running'} onClick={timing.lap}>
            {controlWords.lap}
          </button>
        )}
        <button type="button" className="button tall watch-over" disabled={!may || watch.phase === 'ready'} onClick={timing.startOver}>
          {words.startOver} <Key action="startOver" />
        </button>
      </div>
    </>
  );
}

/** Seconds that are written on the control, kept with the visit. */
function SecondsField({
  name,
  label,
  value,
  keep,
}: {
  name: string;
  label: string;
  value: number | undefined;
  keep: (seconds: number | undefined) => string | undefined;
}) {
  const { may } = useVisit();
  return (
    <KeptField
      name={`control.${name}`}
      label={label}
      shown={value === undefined ? '' : String(value)}
      parse={(text) => typedWithin(text, { low: 0.1, high: 3600 })}
      keep={keep}
      unit="s"
      width={150}
      disabled={!may}
    />
  );
}
