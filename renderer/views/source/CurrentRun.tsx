import { useState } from 'react';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import { source } from '../../../shared/words/source.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { Choice, Field } from '../../components/Field.tsx';
import { selectUnits } from '../../state/selectors.ts';
import { errorOf, typedQuantity, valueOf } from '../../fields/typed.ts';
import { fuelOptions } from './fuel-options.ts';
import { formatNumber, formatValue, shownAs } from '../../../shared/format/quantity.ts';
import './source.css';

const speeds = [1, 2, 5, 10, 30, 60];

/** The run under way: its fuel, a typed air temperature, replay controls, its end. */
export function CurrentRun({ info, mayAct }: { info: RunInfo; mayAct: boolean }) {
  const { actions, store } = useParts();
  const units = useApp(selectUnits);
  const { runId } = info;
  const [air, setAir] = useState(info.typedAirC === undefined ? '' : formatValue('airTemperature', info.typedAirC, units));
  const typed = typedQuantity(air, 'airTemperature', units);
  const change = (patch: { fuelId?: string; typedAirC?: number | null }): void =>
    void actions.ask('run.change', { runId, ...patch }).then((next) => next !== undefined && store.getState().runChanged(next));
  const control = (patch: { playing?: boolean; speed?: number }): void => void actions.ask('replay.control', { runId, ...patch });
  return (
    <div className="column current-run">
      <h2 className="second size-body">{source.applies}</h2>
      <Choice label={source.fuel} value={info.fuelId} options={fuelOptions} disabled={!mayAct} change={(fuelId) => change({ fuelId })} />
      {!info.channels.includes('airTemperature') && (
        <div className="row gap-3 align-end">
          <Field
            label={source.typedAir}
            value={air}
            change={setAir}
            unit={shownAs('airTemperature', units).unit}
            width={190}
            disabled={!mayAct}
            error={errorOf(typed)}
          />
          <button
            type="button"
            className="button"
            disabled={!mayAct || typed.kind === 'wrong'}
            onClick={() => change({ typedAirC: valueOf(typed) ?? null })}
          >
            {typed.kind === 'empty' ? source.takeBackAir : source.typedAir.split(',')[0]}
          </button>
        </div>
      )}
      {info.replay !== undefined && (
        <div className="choice-row" role="group" aria-label={source.replayBar.label}>
          <button type="button" className="button" disabled={!mayAct} onClick={() => control({ playing: info.replay?.playing !== true })}>
            {info.replay.playing ? source.replayBar.pause : source.replayBar.play}
          </button>
          <Choice
            label={source.speed}
            width={120}
            disabled={!mayAct}
            value={String(info.replay.speed)}
            options={[...new Set([...speeds, info.replay.speed])]
              .sort((a, b) => a - b)
              .map((speed) => ({ value: String(speed), text: source.times(speed) }))}
            change={(speed) => control({ speed: Number(speed) })}
          />
        </div>
      )}
      <div className="choice-row">
        {info.phase === 'lost' && (
          <button type="button" className="button" disabled={!mayAct} onClick={() => void actions.ask('run.reconnect', { runId })}>
            {source.reconnect}
          </button>
        )}
        <button type="button" className="button" disabled={!mayAct} onClick={() => void actions.endRun()}>
          {source.endRun}
        </button>
      </div>
      <span className="hidden-text">{formatNumber(info.counters.lines, 0)}</span>
    </div>
  );
}
