import { useMemo, useState } from 'react';
import type { SettlingChannel } from '../../../../shared/measurement/channel.ts';
import type { Sample } from '../../../../shared/measurement/sample.ts';
import { hintsFor } from '../../../../shared/tuning/advice/visit-hints.ts';
import type { Hint } from '../../../../shared/tuning/diagnosis/patterns.ts';
import { channelWords } from '../../../../shared/words/tune/states.ts';
import { hintLabels, hintWords } from '../../../../shared/words/tune/tune-hints.ts';
import { hintWordsOnScreen as words } from '../../../../shared/words/visit/hints-on-screen.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Dialog } from '../../../components/Dialog.tsx';
import { NoteSign } from '../../../components/Signs.tsx';
import { samplesBetween } from '../../../live/samples-from-history.ts';
import { selectHints, selectRun, selectUnits } from '../../../state/selectors.ts';
import { formatsFor } from '../../../../shared/words/formats.ts';
import { formatValue, shownAs } from '../../../../shared/format/quantity.ts';
import '../visit.css';
import './curve.css';

/** The clearest pattern in one line; what it may come from and what to check next behind one press. Never a cause. */
export function HintStrip() {
  const all = useApp(selectHints);
  const flueGas = useApp((state) => state.appliance?.appliance.flueGas);
  const hints = useMemo(() => hintsFor(all, flueGas), [all, flueGas]);
  const units = useApp(selectUnits);
  const [open, setOpen] = useState(false);
  const first = hints[0];
  if (first === undefined) return null;
  const title = hintWords(first, formatsFor(units)).title;
  return (
    <div>
      <button type="button" className="say hint-button" onClick={() => setOpen(true)}>
        <NoteSign />
        <span className="grow">
          <b>
            <ChannelName text={title} />
          </b>
          {hints.length > 1 && <span className="second"> {words.more(hints.length - 1)}</span>}
        </span>
        <span className="second">{words.open}</span>
      </button>
      {open && <HintWindow hints={hints} close={() => setOpen(false)} />}
    </div>
  );
}

function HintWindow({ hints, close }: { hints: readonly Hint[]; close: () => void }) {
  const units = useApp(selectUnits);
  const formats = formatsFor(units);
  return (
    <Dialog title={words.title} close={close} wide>
      {hints.slice(0, 4).map((hint) => {
        const text = hintWords(hint, formats);
        return (
          <section key={hint.pattern} className="hint">
            <h3>
              <ChannelName text={text.title} />
            </h3>
            <p>
              <b>{hintLabels.seen}: </b>
              <ChannelName text={text.seen} />
            </p>
            <p>
              <b>{hintLabels.may}: </b>
              {text.may.join('; ')}.
            </p>
            <p>
              <b>{hintLabels.next}: </b>
              <ChannelName text={text.next} />
            </p>
            {hint.stretch !== undefined && <Stretch stretch={hint.stretch} />}
          </section>
        );
      })}
      <p className="second">{words.never}</p>
    </Dialog>
  );
}

const LANE = { width: 820, height: 62, left: 92 } as const;
const channels = ['o2', 'co', 'stackTemperature'] as const;

/** The stretch itself, with a little before and after; one strip per channel. */
function Stretch({ stretch }: { stretch: NonNullable<Hint['stretch']> }) {
  const { buffers } = useParts();
  const runId = useApp((state) => selectRun(state)?.info.runId);
  const units = useApp(selectUnits);
  const margin = Math.max(20_000, (stretch.toMs - stretch.fromMs) * 0.2);
  const [from, to] = [stretch.fromMs - margin, stretch.toMs + margin];
  const samples = runId === undefined ? [] : samplesBetween(buffers.of(runId), from, to);
  const x = (timeMs: number): number => LANE.left + ((timeMs - from) / (to - from)) * (LANE.width - LANE.left - 8);
  const shown = channels.filter((channel) => samples.some(({ values }) => values[channel] !== undefined));
  if (shown.length === 0) return null;
  return (
    <svg
      className="stretch drawn"
      viewBox={`0 0 ${LANE.width} ${shown.length * LANE.height + 4}`}
      width="100%"
      role="img"
      aria-label={words.stretch}
    >
      <rect
        className="fill-accent-soft"
        x={x(stretch.fromMs)}
        y="0"
        width={Math.max(2, x(stretch.toMs) - x(stretch.fromMs))}
        height={shown.length * LANE.height}
      />
      {shown.map((channel, at) => (
        <Strip
          key={channel}
          channel={channel}
          samples={samples}
          top={at * LANE.height}
          x={x}
          label={`${channelWords[channel].name} ${shownAs(channel, units).unit}`}
          write={(value) => formatValue(channel, value, units)}
        />
      ))}
    </svg>
  );
}

function Strip({
  channel,
  samples,
  top,
  x,
  label,
  write,
}: {
  channel: SettlingChannel;
  samples: readonly Sample[];
  top: number;
  x: (ms: number) => number;
  label: string;
  write: (value: number) => string;
}) {
  const values = samples.flatMap(({ timeMs, values: all }) => (all[channel] === undefined ? [] : [{ timeMs, value: all[channel] }]));
  const [low, high] = [Math.min(...values.map(({ value }) => value)), Math.max(...values.map(({ value }) => value))];
  const y = (value: number): number => top + 50 - ((value - low) / Math.max(1e-6, high - low)) * 36;
  return (
    <g>
      <text className="fill-ink" x="0" y={top + 22}>
        {label}
      </text>
      <text x="0" y={top + 42}>
        {write(low)} – {write(high)}
      </text>
      <path
        className={`stretch-${channel}`}
        strokeWidth="2"
        fill="none"
        d={values.map((point, at) => `${at === 0 ? 'M' : 'L'}${x(point.timeMs).toFixed(1)} ${y(point.value).toFixed(1)}`).join('')}
      />
      <path className="grid" d={`M0 ${top + LANE.height}H${LANE.width}`} />
    </g>
  );
}
