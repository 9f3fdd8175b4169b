/** As left the last time beside as found now: the slot is what was left, the pin is now. It is no verdict. */
import { useMemo } from 'react';
import { formatDay, formatIsoDay } from '../../../../shared/format/date.ts';
import { formatNumber, formatPosition, flowText, formatSmoke, type UnitSystem } from '../../../../shared/format/quantity.ts';
import { cardFigureText, cardShape, cardUnit } from '../../../../shared/report/card-format.ts';
import { pair } from '../../../../shared/report/written.ts';
import { cardQuantities } from '../../../../shared/tuning/card/target-card.ts';
import { sinceLast, type NoSinceLast, type SinceLast, type SinceRow } from '../../../../shared/tuning/visit/since-last.ts';
import { sinceNote, sinceQuantityName, sinceWords as words } from '../../../../shared/words/visit/since-last.ts';
import { useApp } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { sincePlaces } from './since-geometry.ts';
import { useVisit } from '../use-visit.ts';
import '../visit.css';
import './start.css';

export function useSinceLast(foundId: string | undefined): SinceLast | NoSinceLast {
  const { visit, stage } = useVisit();
  const earlier = useApp((state) => state.lastVisit);
  return useMemo(
    () => sinceLast(visit, { stage: stage.name, found: visit.trials.find(({ id }) => id === foundId), earlier }),
    [visit, stage.name, foundId, earlier],
  );
}

/** What moved, row by row. */
export function SinceTable({ since, foundNumber }: { since: SinceLast; foundNumber: number }) {
  const { units } = useVisit();
  const { from } = since.last;
  return (
    <section aria-label={words.title}>
      <h2>{words.title}</h2>
      <table className="since-table" aria-label={words.title}>
        <thead>
          <tr>
            <td />
            <th scope="col" className="right">
              <b>{words.lastLeft}</b>
              <span className="basis">
                {from.kind === 'papers'
                  ? words.papers(from.day && formatIsoDay(from.day))
                  : words.visit(from.number, formatDay(from.wallMs, from.zoneMinutes))}
              </span>
            </th>
            <th scope="col" className="right">
              <b>{words.now}</b>
              <span className="basis">{foundNumber > 0 ? words.asFound(foundNumber) : ''}</span>
            </th>
            <th scope="col">{words.slot}</th>
            <th scope="col" className="right">
              {words.change}
            </th>
          </tr>
        </thead>
        <tbody>
          {since.rows.map((row) => (
            <Row key={row.kind === 'adjuster' ? row.name : row.quantity} row={row} units={units} />
          ))}
        </tbody>
      </table>
      {since.notes.length > 0 && (
        <ul className="since-notes">
          {since.notes.map((note, at) => (
            <li key={at} className="second">
              <ChannelName text={sinceNote(note, (litres) => flowText(litres, units))} />
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

function Row({ row, units }: { row: SinceRow; units: UnitSystem }) {
  const moved = row.movement === 'up' || row.movement === 'down';
  const { name, unit, basis, before, now } = textsOf(row, units);
  return (
    <tr>
      <th scope="row">
        <ChannelName text={name} />{' '}
        <span className="unit">
          <ChannelName text={[unit, basis].filter(Boolean).join(', ')} />
        </span>
      </th>
      <td className="number right second">
        {before.value} <span className="plus-minus">{before.half}</span>
      </td>
      <td className="number right">
        {now.value} <span className="plus-minus">{now.half}</span>
      </td>
      <td>
        <SinceSlot row={row} />
      </td>
      <td className="number right">{moved ? <b>{changeText(row, units)}</b> : changeText(row, units)}</td>
    </tr>
  );
}

type Text = { value: string; half?: string | undefined };
function textsOf(row: SinceRow, units: UnitSystem): { name: string; unit: string; basis: string; before: Text; now: Text } {
  if (row.kind === 'adjuster') {
    const name = row.name.charAt(0).toUpperCase() + row.name.slice(1);
    return { name, unit: row.unit, basis: '', before: { value: formatPosition(row.before) }, now: { value: formatPosition(row.now) } };
  }
  const { quantity } = row;
  return {
    name: sinceQuantityName(quantity),
    unit: cardUnit(quantity, units),
    basis: cardQuantities[quantity].basis,
    before: cardFigureText(quantity, row.before, units) ?? { value: '–' },
    now: cardFigureText(quantity, row.now, units) ?? { value: '–' },
  };
}

function changeText(row: SinceRow, units: UnitSystem): string {
  const signed = (value: number, text: string): string => (value < 0 ? `−${text}` : `+${text}`);
  if (row.kind === 'adjuster') {
    const change = Number((row.now - row.before).toFixed(6));
    return row.movement === 'same' ? words.asLeft : signed(change, formatPosition(Math.abs(change)));
  }
  const { value, expanded } = row.change;
  if (row.movement === 'not-known' || expanded === undefined) return words.notKnown;
  if (row.quantity === 'smokeNumber') {
    const half = `±${formatNumber(expanded, 1)}`;
    return row.movement === 'same' ? words.within(half) : `${signed(value, formatSmoke(Math.abs(value)))} ${half}`;
  }
  const { factor } = cardShape(row.quantity, units);
  const text = pair(Math.abs(value * factor), expanded * Math.abs(factor), decimalsOf(row.quantity, units));
  return row.movement === 'same' ? words.within(text.half ?? '') : `${signed(value * factor, text.value)} ${text.half ?? ''}`;
}
const decimalsOf = (quantity: string, units: UnitSystem): number => (/Pa$/.test(quantity) && units === 'us' ? 3 : 1);

/** The slot is what was left with the ± of the difference; no cross, for it is no verdict. */
function SinceSlot({ row, width = 154, height = 36 }: { row: SinceRow; width?: number; height?: number }) {
  const half = row.kind === 'figure' ? row.change.expanded : 0;
  const value = row.kind === 'figure' ? row.change.value : row.now - row.before;
  const middle = height / 2;
  if (half === undefined) return null;
  const { low, high, at, linkFrom } = sincePlaces(width, { value, half });
  const moved = linkFrom !== undefined;
  return (
    <svg width={width} height={height} viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
      <path className="stroke-edge" d={`M0 ${middle}H${width}`} />
      {!moved && <rect className="fill-accent-soft" x={low} y={middle - 13} width={high - low} height={26} />}
      {moved && <path className="stroke-notice" strokeWidth="3" d={`M${linkFrom} ${middle}H${at}`} />}
      <path
        className={moved ? 'stroke-ink' : 'stroke-accent'}
        strokeWidth="3"
        fill="none"
        d={`M${low + 7} ${middle - 14}H${low}V${middle + 14}H${low + 7}M${high - 7} ${middle - 14}H${high}V${middle + 14}H${high - 7}`}
      />
      <rect className={moved ? 'fill-notice' : 'fill-accent'} x={at - 5} y={middle - 11} width="10" height="22" />
    </svg>
  );
}

/** One sentence: what moved and where to look first. What did not move is part of the reason. */
export function SinceFinding({ since }: { since: SinceLast }) {
  const { finding } = since;
  const { says, why, then } = words.cause(finding);
  const same = finding.same.map(sinceQuantityName);
  return (
    <>
      <section aria-label={words.lookFirst} className="since-finding" role="status">
        <h2>{words.lookFirst}</h2>
        <p className="lead">
          <b>
            <ChannelName text={says} />
          </b>
        </p>
      </section>
      <section aria-label={words.why}>
        <h2>{words.why}</h2>
        <p>
          <ChannelName text={why} />
        </p>
        {same.length > 0 && finding.moved.length > 0 && (
          <p className="second">
            <ChannelName text={words.stillSame(same)} />
          </p>
        )}
        {then !== '' && (
          <p className="second">
            {words.then}: <ChannelName text={then} />
          </p>
        )}
      </section>
    </>
  );
}
