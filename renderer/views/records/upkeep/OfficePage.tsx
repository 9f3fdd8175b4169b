import { useState } from 'react';
import { formatDay, formatIsoDay } from '../../../../shared/format/date.ts';
import type { Output } from '../../../../shared/ipc/contract.ts';
import type { OfficeConflict } from '../../../../shared/ipc/office-commands.ts';
import type { Problem } from '../../../../shared/problem.ts';
import { officeWords as words } from '../../../../shared/words/records/office.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Field } from '../../../components/Field.tsx';
import { errorOf, typedDay, valueOf } from '../../../fields/typed.ts';
import { useAnswer } from '../../../queries/use-answer.ts';
import { problems } from '../../../../shared/words/problems.ts';
import { defined } from '../../../../shared/defined.ts';
import '../records.css';
import './upkeep.css';

const dayHere = (wallMs: number): string => formatDay(wallMs, -new Date(wallMs).getTimezoneOffset());
const problemWords = ({ code, detail }: Problem): string =>
  [problems[code].title, detail, problems[code].nextStep].filter(Boolean).join(' ');

/** What other laptops sent, apart from what is on this computer; and what two laptops changed at once. */
export function OfficePage({ showAppliance }: { showAppliance: (id: string) => void }) {
  const { client } = useParts();
  const mayChange = useApp((state) => state.role !== 'viewer');
  const [typed, setTyped] = useState('');
  const [due, setDue] = useState('');
  const [showsWrong, setShowsWrong] = useState(false);
  const day = typedDay(due);
  const [found, setFound] = useState<Output<'office.search'>['found']>();
  const [said, setSaid] = useState('');
  const search = async (): Promise<void> => {
    setSaid('');
    // a date that cannot be read is not left out of the search: what came would look as if it had been asked for
    if (day.kind === 'wrong') return setShowsWrong(true);
    const dueBefore = valueOf(day);
    const got = await client.call('office.search', { words: typed, limit: 50, ...defined({ dueBefore }) });
    if (got.ok) setFound(got.value.found);
    else setSaid(problemWords(got.error));
  };
  const take = async (id: string): Promise<void> => {
    const got = await client.call('office.fetch', { applianceId: id });
    if (!got.ok) return setSaid(problemWords(got.error));
    if (got.value.isHere) showAppliance(id);
  };
  return (
    <div className="records-keeping">
      <h1>{words.section}</h1>
      <p>{words.sectionAbout}</p>
      <form
        className="form-row align-end"
        onSubmit={(event) => {
          event.preventDefault();
          void search();
        }}
      >
        <Field label={words.search} value={typed} numeric={false} change={setTyped} width={360} />
        <Field
          label={words.dueBefore}
          value={due}
          numeric={false}
          change={(text) => {
            setDue(text);
            setShowsWrong(false);
          }}
          width={160}
          error={showsWrong ? errorOf(day) : undefined}
        />
        <button type="submit" className="button">
          {words.searchNow}
        </button>
      </form>
      <p className="records-said" role="status">
        {said !== '' ? said : found?.length === 0 ? words.noneFound : ''}
      </p>
      {found !== undefined && found.length > 0 && (
        <ul className="records-rows" aria-label={words.section}>
          {found.map((one) => (
            <li key={one.applianceId} className="record-row">
              <span className="grow">
                <b>{one.name === '' ? one.applianceId : one.name}</b>
                <span className="second">
                  {[
                    one.isHere ? words.isHere : words.isThere,
                    one.place,
                    one.owner,
                    words.visits(one.visits),
                    one.lastVisitWallMs === undefined ? '' : words.lastSeen(dayHere(one.lastVisitWallMs)),
                    one.due === undefined ? '' : words.due(formatIsoDay(one.due)),
                  ]
                    .filter((part) => part !== '')
                    .join(' · ')}
                </span>
              </span>
              <button type="button" className="button" disabled={!mayChange} onClick={() => void take(one.applianceId)}>
                {one.isHere ? words.look : words.take}
              </button>
            </li>
          ))}
        </ul>
      )}
      <Conflicts />
    </div>
  );
}

function Conflicts() {
  const { actions } = useParts();
  const mayChange = useApp((state) => state.role !== 'viewer');
  const list = useAnswer('office.conflicts', {})?.conflicts ?? [];
  const settle = (one: OfficeConflict, take: 'here' | 'there'): void => void actions.ask('office.settle', { key: one.key, take });
  return (
    <section>
      <h2>{words.conflicts}</h2>
      {list.length === 0 ? (
        <p className="second">{words.noConflicts}</p>
      ) : (
        <>
          <p>{words.conflictsAbout}</p>
          <ul className="records-rows">
            {list.map((one) => (
              <li key={one.key} className="record-row">
                <span className="grow">
                  <b>
                    {[words.conflictKinds[one.kind] ?? one.kind, one.name, one.field === '' ? words.wholeThing : one.field]
                      .filter(Boolean)
                      .join(' · ')}
                  </b>
                  <span className="second">
                    {words.conflictHere}: {one.here === '' ? words.empty : one.here}
                    {one.taken === 'here' ? ` (${words.counts})` : ''} · {words.conflictThere}: {one.there === '' ? words.empty : one.there}
                    {one.taken === 'there' ? ` (${words.counts})` : ''}
                  </span>
                  {one.kind === 'visit' && one.field === '' && <span className="second">{words.visitTwice}</span>}
                </span>
                <button type="button" className="button" disabled={!mayChange} onClick={() => settle(one, 'here')}>
                  {one.canTake ? words.keepHere : words.seen}
                </button>
                {one.canTake && (
                  <button type="button" className="button" disabled={!mayChange} onClick={() => settle(one, 'there')}>
                    {words.takeThere}
                  </button>
                )}
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}

/** On an appliance's page: what other laptops know of it. */
export function FetchFromOffice({ applianceId }: { applianceId: string }) {
  const { client } = useParts();
  const isOn = useApp((state) => state.settings.office.kind !== 'none');
  const mayChange = useApp((state) => state.role !== 'viewer');
  const [said, setSaid] = useState('');
  if (!isOn) return null;
  const fetch = async (): Promise<void> => {
    const got = await client.call('office.fetch', { applianceId });
    if (!got.ok) return setSaid(problemWords(got.error));
    setSaid(words.fetched(got.value.visits, got.value.lastVisitWallMs === undefined ? undefined : dayHere(got.value.lastVisitWallMs)));
  };
  return (
    <p className="second">
      <button type="button" className="button" disabled={!mayChange} onClick={() => void fetch()}>
        {words.fetch}
      </button>{' '}
      <span role="status">{said}</span>
    </p>
  );
}
