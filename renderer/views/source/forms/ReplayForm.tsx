import { useState } from 'react';
import { source } from '../../../../shared/words/source.ts';
import { useParts } from '../../../app-parts.ts';
import { Choice } from '../../../components/Field.tsx';
import { useKey } from '../../../keys/use-key.ts';
import type { SourceList } from './source-list.ts';
import { StartButton } from './StartButton.tsx';
import { summaryLabel, summaryLine } from './summary-label.ts';
import { formatClock, formatDate } from '../../../../shared/format/duration.ts';
import '../source.css';
import '../SourceKinds.css';

export function ReplayForm({ runs, mayAct }: { runs: SourceList['runs']; mayAct: boolean }) {
  const { actions } = useParts();
  const [chosen, setChosen] = useState<string>();
  const [speed, setSpeed] = useState('1');
  const runId = chosen ?? runs[0]?.runId;
  const ready = mayAct && runId !== undefined;
  const start = (): void => {
    if (ready) void actions.startRun({ source: { kind: 'replay', runId, speed: Number(speed) } });
  };
  useKey('main', start, ready);
  return (
    <>
      {runs.length === 0 ? (
        <p className="second">{source.noRuns}</p>
      ) : (
        <ul className="pick-list" role="radiogroup" aria-label={source.runs}>
          {runs.map((run) => (
            <li key={run.runId} role="presentation">
              <button
                type="button"
                className="pick inset-focus"
                role="radio"
                aria-checked={run.runId === runId}
                onClick={() => setChosen(run.runId)}
              >
                <span className="unwrapped">{`${formatDate(run.header.startWallMs, run.header.zoneMinutes)} ${formatClock(run.header.startWallMs, run.header.zoneMinutes, 'minutes')}`}</span>
                <span className="grow">
                  <span className="name">{summaryLabel(run)}</span> <span className="second">{summaryLine(run)}</span>
                </span>
              </button>
            </li>
          ))}
        </ul>
      )}
      <Choice
        label={source.speed}
        width={140}
        value={speed}
        change={setSpeed}
        options={[1, 2, 5, 10, 30, 60].map((value) => ({ value: String(value), text: source.times(value) }))}
      />
      <StartButton text={source.startReplay} run={start} disabled={!ready} />
    </>
  );
}
