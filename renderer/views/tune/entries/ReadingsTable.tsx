/** The trend as text: every reading and every mark in time order. */
import { Dialog } from '../../../components/Dialog.tsx';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { live } from '../../../../shared/words/tune/live.ts';
import type { Mark } from '../../../../shared/measurement/mark.ts';
import type { Reading } from '../../../../shared/measurement/state.ts';
import { settlingChannels } from '../../../../shared/measurement/channel.ts';
import { useApp } from '../../../app-parts.ts';
import type { RunRecord } from '../../../state/run-record.ts';
import { selectUnits } from '../../../state/selectors.ts';
import { numberedChanges } from '../../../charts/trend-content.ts';
import { settingWords } from '../setting-words.ts';
import { formatClock } from '../../../../shared/format/duration.ts';
import { DASH, formatSmoke, formatWithHalf, formatWithUnit, shownAs, type UnitSystem } from '../../../../shared/format/quantity.ts';

type Line = { key: string; timeMs: number; what: string; reading: Reading | undefined };
const columns = live.tableColumns;

export function ReadingsTable({ record, close }: { record: RunRecord; close: () => void }) {
  const { info, marks, readings } = record;
  return (
    <Dialog title={live.tableTitle} close={close} wide>
      {readings.length + marks.length === 0 ? (
        <p className="second below-4">{live.tableEmpty}</p>
      ) : (
        <ReadingRows readings={readings} marks={marks} startWallMs={info.startWallMs} zoneMinutes={info.zoneMinutes} />
      )}
    </Dialog>
  );
}

type RowsProps = {
  readings: readonly Reading[];
  marks: readonly Mark[];
  startWallMs: number;
  zoneMinutes: number;
  /** changes wear the number that they have over the strips */
  isNumbered?: boolean;
  className?: string;
};

export function ReadingRows({ readings, marks, startWallMs, zoneMinutes, isNumbered = false, className }: RowsProps) {
  const units = useApp(selectUnits);
  const changes = numberedChanges(marks);
  const numbered = (mark: Mark): string => {
    const number = isNumbered ? changes.get(mark.id) : undefined;
    return number === undefined ? markWords(mark, units) : `${number} · ${markWords(mark, units)}`;
  };
  const lines: Line[] = [
    ...readings.map((reading): Line => ({
      key: reading.id,
      timeMs: reading.takenMs,
      what: reading.settled ? live.tableReading[reading.scope] : live.tableReading.hand,
      reading,
    })),
    ...marks.map((mark): Line => ({ key: mark.id, timeMs: mark.timeMs, what: numbered(mark), reading: undefined })),
  ].sort((a, b) => a.timeMs - b.timeMs);
  return (
    <table className={className} aria-label={live.tableTitle}>
      <thead>
        <tr>
          <th scope="col">{columns.time}</th>
          <th scope="col">{columns.what}</th>
          <th scope="col" className="right">
            <ChannelName text={columns.o2} />
          </th>
          <th scope="col" className="right">
            {columns.co}
          </th>
          <th scope="col" className="right">{`${columns.stack} ${shownAs('stackTemperature', units).unit}`}</th>
          <th scope="col" className="right">{`${columns.air} ${shownAs('airTemperature', units).unit}`}</th>
        </tr>
      </thead>
      <tbody>
        {lines.map(({ key, timeMs, what, reading }) => (
          <tr key={key}>
            <td className="unwrapped">{formatClock(startWallMs + timeMs, zoneMinutes, 'seconds')}</td>
            <td>{what}</td>
            {settlingChannels.map((channel) => (
              <td key={channel} className="number right">
                {reading === undefined ? '' : figure(reading, channel, units)}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Mean with its expanded uncertainty, U = 2 u. */
function figure({ channels }: Reading, channel: (typeof settlingChannels)[number], units: UnitSystem) {
  const statistics = channels[channel];
  if (statistics === undefined) return DASH;
  const text = formatWithHalf(channel, { value: statistics.mean, half: 2 * statistics.u }, units);
  return (
    <>
      {text.value} <span className="plus-minus">{text.half}</span>
    </>
  );
}

export function markWords({ body }: Mark, units: UnitSystem): string {
  const words = live.markWords;
  switch (body.kind) {
    case 'adjustment':
      return words.adjustment(settingWords(body.setting));
    case 'smoke':
      return body.notTaken === true ? words.smokeNot : words.smoke(body.spots.map(({ number }) => formatSmoke(number)).join(', '));
    case 'draft':
      return words.draft(
        [
          body.overFirePa === undefined ? [] : [`${words.overFire} ${formatWithUnit('draft', body.overFirePa, units)}`],
          body.breechPa === undefined ? [] : [`${words.breech} ${formatWithUnit('draft', body.breechPa, units)}`],
        ]
          .flat()
          .join(', '),
      );
    case 'pressure':
      return words.pressure(formatWithUnit('pumpPressure', body.pumpPa, units));
    case 'note':
      return words.note(body.text);
    case 'pause':
      return words.pause(body.on);
  }
}
