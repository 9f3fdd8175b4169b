import { useState } from 'react';
import { warmUp } from '../../../shared/words/warm-up.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { Key } from '../../components/Key.tsx';
import { useKey } from '../../keys/use-key.ts';
import { selectMayAct } from '../../state/selectors.ts';
import type { RunRecord } from '../../state/run-record.ts';
import { formatNumber } from '../../../shared/format/quantity.ts';
import './warm-up.css';

const speeds = [1, 2, 5, 10, 20, 30, 60] as const;

/** `quietly`: the keys work, nothing is drawn (the far view has its own face). */
type Props = { record: RunRecord; quietly?: boolean };

/** Pause, step, speed and scrub of a replayed run: the very same path as live, only its pace changes. */
export function ReplayBar({ record, quietly = false }: Props) {
  const { actions } = useParts();
  const mayAct = useApp(selectMayAct);
  const { replay, runId } = record.info;
  const can = mayAct && replay !== undefined;
  const [scrub, setScrub] = useState<number>();
  const control = (input: { playing?: boolean; speed?: number; stepLines?: number; seekMs?: number }): void =>
    void actions.ask('replay.control', { runId, ...input });
  const near = (step: 1 | -1): number => {
    const at = speeds.findLastIndex((speed) => speed <= (replay?.speed ?? 1));
    return speeds[Math.min(speeds.length - 1, Math.max(0, at + step))] ?? 1;
  };
  useKey('mark', () => control({ playing: !(replay?.playing ?? false) }), can);
  useKey('slower', () => control({ speed: near(-1) }), can);
  useKey('faster', () => control({ speed: near(1) }), can);
  useKey('step', () => control({ playing: false, stepLines: 1 }), can);
  if (replay === undefined || quietly) return null;
  const minutes = (ms: number): string => formatNumber(ms / 60_000, 1);
  const now = scrub ?? record.face.timeMs;
  return (
    <>
      <button type="button" className="button tall" disabled={!can} onClick={() => control({ playing: !replay.playing })}>
        {replay.playing ? warmUp.pause : warmUp.play} <Key action="mark" />
      </button>
      <button type="button" className="button tall" disabled={!can} onClick={() => control({ playing: false, stepLines: 1 })}>
        {warmUp.step} <Key action="step" />
      </button>
      <button type="button" className="button tall" disabled={!can} onClick={() => control({ speed: near(-1) })}>
        {warmUp.slower} <Key action="slower" />
      </button>
      <div className="replay-speed">
        <b>{formatNumber(replay.speed, 0)}×</b>
        {warmUp.speed}
      </div>
      <button type="button" className="button tall" disabled={!can} onClick={() => control({ speed: near(1) })}>
        {warmUp.faster} <Key action="faster" />
      </button>
      <input
        type="range"
        className="replay-scrub"
        aria-label={warmUp.scrub}
        disabled={!can}
        aria-valuetext={warmUp.position(minutes(now), minutes(replay.endMs))}
        min={0}
        max={Math.max(1, replay.endMs)}
        step={1000}
        value={now}
        onChange={({ target }) => setScrub(Number(target.value))}
        onPointerUp={() => {
          if (scrub !== undefined) control({ seekMs: scrub });
          setScrub(undefined);
        }}
        onKeyUp={() => {
          if (scrub !== undefined) control({ seekMs: scrub });
          setScrub(undefined);
        }}
      />
      <span className="replay-place">{warmUp.position(minutes(now), minutes(replay.endMs))}</span>
    </>
  );
}
