import { useEffect, useState } from 'react';
import type { FoundAppliance } from '../../../../shared/ipc/office-commands.ts';
import type { StoredAppliance } from '../../../../shared/ipc/store-commands.ts';
import type { Appliance } from '../../../../shared/tuning/visit/appliance.ts';
import { officeWords } from '../../../../shared/words/records/office.ts';
import { startWords as words } from '../../../../shared/words/visit/screens/start.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Choice, Field } from '../../../components/Field.tsx';
import { optionsOf } from '../../../fields/KeptField.tsx';
import { carryOver } from '../../../../shared/tuning/visit/carry-over.ts';
import { carryWords } from '../../../../shared/words/tune/trade.ts';
import { useVisit } from '../use-visit.ts';
import '../visit.css';
import './start.css';

const SEARCH_MS = 200;
const MOST_SHOWN = 4;
const LEAST_LETTERS = 3;

/** From the records, or a new one by its name. What is on the plates can be added in Records. */
export function ApplianceField() {
  const { visit, may, put } = useVisit();
  const appliance = useApp((state) => state.appliance);
  const [searching, setSearching] = useState(false);
  const { visits, store } = useParts();
  /** What is the same as at the last visit here is not typed again. */
  async function takeOver(applianceId: string): Promise<void> {
    const last = await visits.findLast(applianceId);
    const now = store.getState().visit;
    if (last === undefined || now === undefined || now.id !== visit.id || now.applianceId !== applianceId) return;
    const { changes, parts } = carryOver(now, last, carryWords.notes(last.number), visits.nowWallMs());
    if (changes.length === 0) return;
    const refused = visits.edit(changes);
    if (refused !== undefined) return store.getState().commandFailed(refused);
    store.getState().carriedOverSaid(now.id, parts);
  }
  if (visit.applianceId !== undefined && !searching)
    return (
      <div className="chosen">
        <div className="grow">
          <div className="field-label">{words.appliance}</div>
          <div className="lead">{appliance?.appliance.name ?? '…'}</div>
          <div className="second small">
            {appliance === undefined
              ? ''
              : [
                  words.applianceKinds[appliance.appliance.kind],
                  appliance.appliance.place ?? '',
                  words.visits(Math.max(0, appliance.visits - 1)),
                ]
                  .filter((part) => part !== '')
                  .join(' · ')}
          </div>
        </div>
        <button type="button" className="button" disabled={!may} onClick={() => setSearching(true)}>
          {words.change}
        </button>
      </div>
    );
  return (
    <ApplianceSearch
      choose={(id) => {
        if (!put({ path: ['applianceId'], after: id })) return;
        setSearching(false);
        void takeOver(id);
      }}
    />
  );
}

function ApplianceSearch({ choose }: { choose: (id: string) => void }) {
  const { actions, client } = useParts();
  const { may } = useVisit();
  const hasOffice = useApp((state) => state.settings.office.kind !== 'none');
  const text = useApp((state) => state.fieldTexts['appliance-search'] ?? '');
  const fieldTyped = useApp((state) => state.fieldTyped);
  const [kind, setKind] = useState<Appliance['kind']>('boiler-water');
  const [found, setFound] = useState<readonly StoredAppliance[]>([]);
  const [there, setThere] = useState<readonly FoundAppliance[]>([]);
  useEffect(() => {
    const timer = setTimeout(
      () => void actions.ask('appliance.list', { search: text, limit: MOST_SHOWN }).then((list) => setFound(list?.appliances ?? [])),
      SEARCH_MS,
    );
    return () => clearTimeout(timer);
  }, [actions, text]);
  const asksOffice = hasOffice && text.trim().length >= LEAST_LETTERS;
  useEffect(() => {
    if (!asksOffice) return undefined;
    // an office that is away is no obstacle: the list from here stands by itself
    const timer = setTimeout(
      () =>
        void client
          .call('office.search', { words: text, limit: MOST_SHOWN })
          .then((got) => setThere(got.ok ? got.value.found.filter(({ isHere }) => !isHere) : [])),
      SEARCH_MS,
    );
    return () => clearTimeout(timer);
  }, [client, text, asksOffice]);
  const takeFromOffice = (id: string): void =>
    void actions.ask('office.fetch', { applianceId: id }).then((got) => {
      if (got?.isHere === true) choose(id);
    });
  const name = text.trim();
  const known = found.some(({ appliance }) => appliance.name.toLowerCase() === name.toLowerCase());
  const create = (): void =>
    void actions.ask('appliance.save', { appliance: { format: 1, name: name.slice(0, 120), kind } }).then((saved) => {
      if (saved === undefined) return;
      fieldTyped('appliance-search', undefined);
      choose(saved.id);
    });
  return (
    <div className="appliance">
      <Field
        label={words.appliance}
        numeric={false}
        value={text}
        disabled={!may}
        change={(next) => fieldTyped('appliance-search', next)}
        hint={words.search}
      />
      {name !== '' && !known && (
        <div className="form-row align-end">
          <Choice bare label={words.applianceKind} value={kind} change={setKind} width={236} options={optionsOf(words.applianceKinds)} />
          <button type="button" className="button" onClick={create}>
            {words.newOne(name)}
          </button>
        </div>
      )}
      {asksOffice && there.length > 0 && (
        <ul className="found" aria-label={officeWords.section}>
          {there.map(({ applianceId, name: called, place, visits }) => (
            <li key={applianceId}>
              <button type="button" className="found-row" disabled={!may} onClick={() => takeFromOffice(applianceId)}>
                <b>{called === '' ? applianceId : called}</b>
                <span className="second">
                  {[officeWords.isThere, place, officeWords.visits(visits)].filter((part) => part !== '').join(' · ')}
                </span>
              </button>
            </li>
          ))}
        </ul>
      )}
      {found.length > 0 && (
        <ul className="found" aria-label={words.found}>
          {found.map(({ id, appliance, visits }) => (
            <li key={id}>
              <button type="button" className="found-row" onClick={() => choose(id)}>
                <b>{appliance.name}</b>
                <span className="second">{[appliance.place ?? '', words.visits(visits)].filter((part) => part !== '').join(' · ')}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
