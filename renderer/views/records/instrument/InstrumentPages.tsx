import { useState } from 'react';
import { BenchTest } from '../../../../shared/bench/bench-test.ts';
import { Instrument } from '../../../../shared/bench/instrument.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import { dueWords } from '../due.ts';
import { List } from '../lists.tsx';
import { useAnswer } from '../../../queries/use-answer.ts';
import { OneInstrument } from './OneInstrument.tsx';
import type { Known, Tested } from './tested.ts';
import '../records.css';

/** Instruments as the bench saves them, each with its tests: read only here. */
export function InstrumentPages() {
  const instruments = useAnswer('document.list', { kind: 'instrument' });
  const stored = useAnswer('document.list', { kind: 'bench-test' });
  const [chosen, setChosen] = useState<string>();
  if (instruments === undefined || stored === undefined)
    return <nav className="records-list" aria-label={words.sections.instruments} aria-busy="true" />;
  const tests = stored.documents
    .flatMap(({ id, body }): Tested[] => {
      const read = BenchTest.safeParse(body);
      return read.success ? [{ id, test: read.data }] : [];
    })
    .sort((a, b) => b.test.startedWallMs - a.test.startedWallMs);
  const known = instruments.documents.flatMap(({ id, body }): Known[] => {
    const read = Instrument.safeParse(body);
    return read.success ? [{ id, instrument: read.data, tests: tests.filter(({ test }) => test.instrumentId === id) }] : [];
  });
  const shown = known.find(({ id }) => id === chosen) ?? known[0];
  return (
    <>
      <List
        title={words.sections.instruments}
        search=""
        shown={known.length}
        total={known.length}
        grow={undefined}
        empty={
          <>
            <b>{words.noInstruments}</b>
            <p className="second">{words.noInstrumentsAbout}</p>
          </>
        }
      >
        {known.map((one) => (
          <InstrumentRow key={one.id} known={one} isChosen={one === shown} choose={() => setChosen(one.id)} />
        ))}
      </List>
      <section className="records-page" data-region="right">
        {shown === undefined ? <h1 className="hidden-text">{words.sections.instruments}</h1> : <OneInstrument key={shown.id} {...shown} />}
      </section>
    </>
  );
}

function InstrumentRow({ known: { instrument, tests }, isChosen, choose }: { known: Known; isChosen: boolean; choose: () => void }) {
  const [openedMs] = useState(() => Date.now());
  const due = dueWords(instrument.certificateUntil, openedMs);
  return (
    <li>
      <button type="button" className="record-row" aria-current={isChosen ? 'true' : undefined} onClick={choose}>
        <span className="grow">
          <b>{instrument.name}</b>
          <span className="second">
            {[instrument.serial, words.instrument.testCount(tests.length), due?.isOver === false ? due.text : undefined]
              .filter(Boolean)
              .join(' · ')}
          </span>
          {due?.isOver === true && <span className="overdue">{due.text}</span>}
        </span>
      </button>
    </li>
  );
}
