import { Instrument } from '../../../shared/bench/instrument.ts';
import { formatDay, formatIsoDay } from '../../../shared/format/date.ts';
import { documentKinds, type DocumentKind } from '../../../shared/ipc/store-commands.ts';
import { recordWords } from '../../../shared/words/report.ts';
import { records as words } from '../../../shared/words/records.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { useAnswer } from './use-records.ts';

const KIND = 'instrument';
const isKind = (kind: string): kind is DocumentKind => Object.hasOwn(documentKinds, kind);

/** Instruments as the bench keeps them; read only here. */
export function InstrumentTable() {
  const kind = isKind(KIND) ? KIND : undefined;
  const list = useAnswer('document.list', kind === undefined ? undefined : { kind });
  const rows = (list?.documents ?? []).flatMap(({ id, changedMs, body }) => {
    const read = Instrument.safeParse(body);
    return read.success ? [{ id, changedMs, instrument: read.data }] : [];
  });
  if (rows.length === 0)
    return (
      <div className="records-none">
        <b>{words.noInstruments}</b>
        <p className="second">{words.noInstrumentsAbout}</p>
      </div>
    );
  const { labels } = recordWords;
  return (
    <table className="tight">
      <thead>
        <tr>
          {[labels.instrument, labels.serial, labels.cells, labels.certificate, labels.filter].map((label) => (
            <th key={label} scope="col">
              {label}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ id, changedMs, instrument }) => (
          <tr key={id} title={formatDay(changedMs, 0)}>
            <th scope="row">{instrument.name}</th>
            <td>{instrument.serial ?? '–'}</td>
            <td>
              <ChannelName text={instrument.cells.map(({ channel }) => channel.toUpperCase()).join(', ') || '–'} />
            </td>
            <td>{instrument.certificateUntil === undefined ? '–' : formatIsoDay(instrument.certificateUntil)}</td>
            <td>{instrument.filterChanged === undefined ? '–' : formatIsoDay(instrument.filterChanged)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
