import { useState } from 'react';
import { ticks } from 'd3-array';
import { debriefs, withoutCurve, type Debrief } from '../../../../shared/warm-up/debrief.ts';
import type { CallResult, Watched } from '../../../../shared/warm-up/call-it.ts';
import { Drawing, DrawnWords } from '../../../../shared/report/drawings/Drawing.tsx';
import { linear, n, type Scale } from '../../../../shared/report/drawings/coordinates.ts';
import { channelWords } from '../../../../shared/words/tune/states.ts';
import { warmUp } from '../../../../shared/words/warm-up.ts';
import { useApp } from '../../../app-parts.ts';
import { Choice } from '../../../components/Field.tsx';
import { selectUnits } from '../../../state/selectors.ts';
import { shownAs, type UnitSystem } from '../../../../shared/format/quantity.ts';
import { formatDate, formatDuration } from '../../../../shared/format/duration.ts';
import './ClassCurve.css';

const WIDTH = 860;
const LEFT = 64;
const RIGHT = WIDTH - 12;
const STRIP = 96;
const BETWEEN = 26;
const ROW = 20;
const channels = ['stackTemperature', 'o2'] as const;

/** Everybody's calls of one curve, to be looked at together. */
type ClassProps = { results: readonly CallResult[]; timing: (earlyS: number | undefined) => string };

export function ClassCurve(props: ClassProps) {
  return (
    <>
      <OneCurve {...props} />
      <WithoutCurve {...props} />
    </>
  );
}

/** What cannot be drawn is listed with the reason, not left out. */
function WithoutCurve({ results, timing }: ClassProps) {
  const calls = withoutCurve(results);
  if (calls.length === 0) return null;
  return (
    <section aria-label={warmUp.noCurveTitle(calls.length)}>
      <h3>{warmUp.noCurveTitle(calls.length)}</h3>
      <p className="second">{warmUp.noCurveWhy}</p>
      <ol className="debrief-list">
        {calls.map((one) => (
          <li key={`${one.wallMs} ${one.trainee}`}>
            {warmUp.noCurveCall(formatDate(one.wallMs, 0), one.trainee, one.exercise, timing(one.earlyS))}
          </li>
        ))}
      </ol>
    </section>
  );
}

function OneCurve({ results, timing }: ClassProps) {
  const units = useApp(selectUnits);
  const all = debriefs(results);
  const [chosen, setChosen] = useState<string>();
  const shown = all.find(({ of }) => of === chosen) ?? all[0];
  if (shown === undefined) return null;
  const { exercise, readyS, calls } = shown;
  const about = (readyS === undefined ? warmUp.debriefNever : warmUp.debriefAbout)(exercise);
  const said = calls.map(({ number, result }) => warmUp.debriefSummary(String(number), result.trainee, timing(result.earlyS)));
  return (
    <section aria-label={warmUp.debriefTitle}>
      <h3>{warmUp.debriefTitle}</h3>
      {all.length > 1 && (
        <Choice
          label={warmUp.debriefChoice}
          width={340}
          value={shown.of}
          change={setChosen}
          options={all.map(({ of, exercise: name, calls: { length } }) => ({ value: of, text: warmUp.debriefOption(name, length) }))}
        />
      )}
      <p className="second">{about}</p>
      <CallsDrawing debrief={shown} units={units} label={`${about} ${said.join('; ')}`} />
      <ol className="debrief-list" aria-hidden="true">
        {said.map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ol>
    </section>
  );
}

/** Numbers of calls that came close together go into further rows. */
function placed(calls: Debrief['calls'], x: Scale): { number: number; at: number; row: number }[] {
  const ends: number[] = [];
  return calls.map(({ number, result }) => {
    const at = x(result.calledMs / 1000);
    const free = ends.findIndex((end) => end < at - 22);
    const row = free < 0 ? ends.length : free;
    ends[row] = at;
    return { number, at, row };
  });
}

function CallsDrawing({ debrief, units, label }: { debrief: Debrief; units: UnitSystem; label: string }) {
  const { curve, readyS, calls } = debrief;
  const strips = channels.flatMap((channel) => (curve[channel] === undefined ? [] : [{ channel, watched: curve[channel] }]));
  const times = [...strips.flatMap(({ watched }) => watched.seconds), ...calls.map(({ result }) => result.calledMs / 1000)];
  const [from, to] = [Math.min(...times), Math.max(...times)];
  const x = linear(from, Math.max(to, from + 60), LEFT, RIGHT);
  const marks = placed(calls, x);
  const top = ROW * (1 + Math.max(0, ...marks.map(({ row }) => row))) + 30;
  const bottom = top + strips.length * (STRIP + BETWEEN) - BETWEEN;
  const minutes = ticks(from / 60, to / 60, 8);
  return (
    <Drawing width={WIDTH} height={bottom + 34} label={label} className="class-curve">
      {strips.map(({ channel, watched }, index) => (
        <Strip key={channel} channel={channel} watched={watched} x={x} top={top + index * (STRIP + BETWEEN)} units={units} />
      ))}
      {readyS !== undefined && (
        <>
          <path className="stroke-accent" strokeWidth="2" d={`M${n(x(readyS) - 2)} 4V${bottom}M${n(x(readyS) + 2)} 4V${bottom}`} />
          <text
            className="fill-ink strong"
            x={n(x(readyS) + (x(readyS) > RIGHT - 60 ? -8 : 8))}
            y={14}
            textAnchor={x(readyS) > RIGHT - 60 ? 'end' : 'start'}
          >
            {warmUp.debriefReady}
          </text>
        </>
      )}
      {marks.map(({ number, at, row }) => (
        <g key={number}>
          <path className="stroke-ink" strokeWidth="1.5" d={`M${n(at)} ${n(top - 12 - ROW * row)}V${bottom}`} />
          <text className="fill-ink strong halo" x={n(at)} y={n(top - 16 - ROW * row)} textAnchor="middle">
            {number}
          </text>
        </g>
      ))}
      <path className="axis" d={`M${LEFT} ${bottom + 4}H${RIGHT}`} />
      {minutes.map((minute) => (
        <g key={minute}>
          <path className="axis" d={`M${n(x(minute * 60))} ${bottom + 4}v5`} />
          <text x={n(x(minute * 60))} y={bottom + 25} textAnchor="middle">
            {formatDuration(minute * 60_000)}
          </text>
        </g>
      ))}
    </Drawing>
  );
}

function Strip({
  channel,
  watched,
  x,
  top,
  units,
}: {
  channel: (typeof channels)[number];
  watched: Watched;
  x: Scale;
  top: number;
  units: UnitSystem;
}) {
  const { factor, offset, unit } = shownAs(channel, units);
  const values = watched.values.map((value) => value * factor + offset);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const margin = Math.max(0.5, (high - low) * 0.08);
  const y = linear(low - margin, high + margin, top + STRIP, top);
  const points = watched.seconds.map((second, at) => `${n(x(second))} ${n(y(values[at] ?? 0))}`);
  return (
    <>
      {ticks(low, high, 3).map((tick) => (
        <g key={tick}>
          <path className="grid" d={`M${LEFT} ${n(y(tick))}H${RIGHT}`} />
          <text x={LEFT - 8} y={n(y(tick) + 5)} textAnchor="end">
            {tick}
          </text>
        </g>
      ))}
      {points.length > 1 && <path className={channel === 'o2' ? 'stroke-o2' : 'stroke-ink'} strokeWidth="2.5" d={`M${points.join('L')}`} />}
      <text className="fill-ink strong halo" x={LEFT + 6} y={top - 5}>
        <DrawnWords text={`${channelWords[channel].name}, ${unit}`} />
      </text>
    </>
  );
}
