import { useRef, useState, type KeyboardEvent } from 'react';
import { common } from '../../../shared/words/common.ts';
import { live } from '../../../shared/words/tune/live.ts';
import { unrestWords } from '../../../shared/words/tune/states.ts';
import { smokeOf } from '../../../shared/tuning/trial/trial-figures.ts';
import { useApp } from '../../app-parts.ts';
import { selectIsRunning, selectMayAct, selectRun } from '../../state/selectors.ts';
import { TrialsFoot } from '../visit/curve/OverLive.tsx';
import { ChannelName } from '../../components/ChannelName.tsx';
import { Key } from '../../components/Key.tsx';
import { useKey, usePrinted } from '../../keys/use-key.ts';
import type { ChannelRowState } from '../../state/channels.ts';
import type { Unrest } from '../../state/readiness.ts';
import { UnrestBlock } from './UnrestBlock.tsx';
import type { NumberedTrial } from '../../../shared/tuning/trial/numbered-trial.ts';
import { DASH, formatPosition, formatSmoke, formatValue, type UnitSystem } from '../../../shared/format/quantity.ts';
import './Tools.css';
import './TrialsColumn.css';

type Props = {
  trials: readonly NumberedTrial[];
  adjusters: readonly string[];
  rows: readonly ChannelRowState[];
  units: UnitSystem;
  waiting: boolean;
  /** what does not come to a rest by waiting */
  unrest: readonly Unrest[];
};

/** Settings tried so far, the running one last. Up and down walk, S types smoke. */
export function TrialsColumn({ trials, adjusters, rows, units, waiting, unrest }: Props) {
  const isUnrest = unrest.length > 0;
  // asked anew when it begins anew
  const beganMs = Math.min(...unrest.map(({ sinceMs }) => sinceMs));
  const [turnedMs, setTurnedMs] = useState<number>();
  const showsUnrest = isUnrest && turnedMs !== beganMs;
  const turn = (): void => setTurnedMs(showsUnrest ? beganMs : undefined);
  useKey('unrest', turn, isUnrest);
  const trialsTurned = useApp((state) => state.trialsTurned);
  const open = useApp((state) => state.trialsOpen);
  const entryOpened = useApp((state) => state.entryOpened);
  const can = useApp((state) => selectMayAct(state) && selectIsRunning(state) && selectRun(state)?.info.replay === undefined);
  const smokeKey = usePrinted('smoke');
  const body = useRef<HTMLTableSectionElement>(null);
  const walk = (event: KeyboardEvent<HTMLTableRowElement>): void => {
    const rows = [...(body.current?.querySelectorAll<HTMLElement>('tr') ?? [])];
    const index = rows.indexOf(event.currentTarget);
    const next = event.key === 'ArrowDown' ? rows[index + 1] : event.key === 'ArrowUp' ? rows[index - 1] : undefined;
    if (next === undefined) return;
    event.preventDefault();
    next.focus();
  };
  const figure = (trial: NumberedTrial, channel: 'o2' | 'co'): string => {
    const mean = trial.reading?.channels[channel]?.mean ?? (trial.running ? rows.find((row) => row.channel === channel)?.value : undefined);
    return mean === undefined ? DASH : formatValue(channel, mean, units);
  };
  return (
    <aside className={`trials${adjusters.length > 1 ? ' two' : ''}${open ? ' open' : ''}`} data-region="right" aria-label={live.trials}>
      <div className="trials-head">
        <h2 className="lead">{showsUnrest ? unrestWords.usuallyTitle : live.trials}</h2>
        <span className="grow" />
        {isUnrest && (
          <button type="button" className="button quiet" aria-label={showsUnrest ? live.trials : unrestWords.usuallyTitle} onClick={turn}>
            <Key action="unrest" />
          </button>
        )}
        <button type="button" className="button quiet" aria-label={live.trials} onClick={trialsTurned}>
          <Key action="trials" />
        </button>
      </div>
      <div className="scroll" hidden={!showsUnrest}>
        {showsUnrest && <UnrestBlock unrest={unrest} rows={rows} />}
      </div>
      <div className="scroll" hidden={showsUnrest}>
        <table aria-label={live.trials}>
          <thead>
            <tr>
              <th scope="col">
                <span className="hidden-text">{live.trial(0).replace(' 0', '')}</span>
              </th>
              {adjusters.map((name) => (
                <th key={name} scope="col" className="right">
                  {name.toLowerCase()}
                </th>
              ))}
              <th scope="col" className="right">
                <ChannelName text={live.trialColumns.o2} />
              </th>
              <th scope="col" className="right">
                {live.trialColumns.co}
              </th>
              <th scope="col" className="right">
                {live.trialColumns.smoke}
              </th>
            </tr>
          </thead>
          <tbody ref={body}>
            {trials.map((trial) => (
              <tr
                key={trial.id}
                className={trial.running ? 'now' : ''}
                tabIndex={trial.running ? 0 : -1}
                onKeyDown={walk}
                aria-current={trial.running ? 'true' : undefined}
              >
                <td className="bold second">{trial.number}</td>
                {adjusters.map((name) => (
                  <td key={name} className="number right">
                    {positionText(trial, name)}
                  </td>
                ))}
                <td className="number right">{figure(trial, 'o2')}</td>
                <td className="number right">{figure(trial, 'co')}</td>
                <td className="number right">
                  <SmokeCell trial={trial} smokeKey={smokeKey} mayType={can} onType={() => entryOpened('smoke')} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        <TrialsFoot />
        <div className="below">
          {trials.length < 2 ? (
            <p className="second">{live.trialsEmpty}</p>
          ) : (
            waiting && <p className="second">{live.trialWaits(live.trial(trials.at(-1)?.number ?? 1))}</p>
          )}
        </div>
      </div>
    </aside>
  );
}

const positionText = ({ setting }: NumberedTrial, name: string): string => {
  const position = setting.positions.find((one) => one.name === name);
  return position === undefined ? DASH : formatPosition(position.value);
};

type SmokeProps = { trial: NumberedTrial; smokeKey: string; mayType: boolean; onType: () => void };

function SmokeCell({ trial, smokeKey, mayType, onType }: SmokeProps) {
  const smoke = smokeOf(trial);
  if (smoke !== undefined) return formatSmoke(smoke);
  if (trial.smoke?.notTaken === true) return <span className="small second">{live.smokeDialog.notTaken.toLowerCase()}</span>;
  if (!trial.running || !mayType) return DASH;
  return (
    <button type="button" className="smoke-key" tabIndex={-1} aria-label={`${live.smoke}, ${common.keyOf(smokeKey)}`} onClick={onType}>
      <kbd>{smokeKey}</kbd>
    </button>
  );
}
