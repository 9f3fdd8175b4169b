import { useState } from 'react';
import { formatIsoDay } from '../../../../shared/format/date.ts';
import type { Output } from '../../../../shared/ipc/contract.ts';
import { common } from '../../../../shared/words/common.ts';
import { officeWords } from '../../../../shared/words/records/office.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import { startWords } from '../../../../shared/words/visit/screens/start.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { saveDownload } from '../../../backend/save-download.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Field } from '../../../components/Field.tsx';
import { powerText } from '../../../../shared/report/edit-words-appliance.ts';
import { ApplianceKnowledge } from '../../../../shared/measurement/knowledge.ts';
import { tellsPerson } from '../../../../shared/tuning/visit/appliance-edits.ts';
import { recordWords } from '../../../../shared/words/paper/technical-record.ts';
import { ApplianceAudit } from './ApplianceAudit.tsx';
import { ApplianceEditor } from './ApplianceEditor.tsx';
import { errorOf, typedDay, valueOf } from '../../../fields/typed.ts';
import { dueWords } from '../due.ts';
import { History } from '../History.tsx';
import { FetchFromOffice } from '../upkeep/OfficePage.tsx';
import { VisitRow } from '../lists.tsx';
import { Sure } from '../Sure.tsx';
import { useAnswer } from '../../../queries/use-answer.ts';
import { useFigures } from '../visit/VisitPage.tsx';
import { Facts } from '../Facts.tsx';
import '../records.css';

export function AppliancePage({
  applianceId,
  showVisit,
  gone,
}: {
  applianceId: string | undefined;
  showVisit: (id: string) => void;
  gone: () => void;
}) {
  const unit = useAnswer('appliance.get', applianceId === undefined ? undefined : { id: applianceId });
  if (applianceId === undefined) return <h1 className="hidden-text">{words.sections.appliances}</h1>;
  if (unit === undefined || unit.stored.id !== applianceId) return <div className="loading">{common.loading}</div>;
  return <OneAppliance key={applianceId} unit={unit} showVisit={showVisit} gone={gone} />;
}

const MOST_YEARS = 16;

function OneAppliance({ unit, showVisit, gone }: { unit: Output<'appliance.get'>; showVisit: (id: string) => void; gone: () => void }) {
  const { actions } = useParts();
  const mayChange = useApp((state) => state.role !== 'viewer');
  const [asks, setAsks] = useState<'pseudonymise' | 'delete' | 'due' | 'edit' | 'forget'>();
  const [stillIn, setStillIn] = useState<readonly number[]>([]);
  const [openedMs] = useState(() => Date.now());
  const units = useApp((state) => state.settings.units);
  const hasOffice = useApp((state) => state.settings.office.kind !== 'none');
  const { stored, visits, edits, earlierEdits } = unit;
  const { appliance } = stored;
  // also of what was typed again after a person was taken out
  const holdsPerson = appliance.pseudonymised !== true || appliance.notes !== undefined || edits.some(tellsPerson);
  const figures = useFigures(
    visits.slice(0, MOST_YEARS).map(({ id }) => id),
    undefined,
  );
  const remove = async (how: 'pseudonymise' | 'delete'): Promise<void> => {
    setAsks(undefined);
    const done = await actions.ask('appliance.remove', { id: stored.id, how });
    if (done === undefined) return;
    if (how === 'delete') gone();
    else setStillIn(done.stillIn);
  };
  const exportAll = async (): Promise<void> => {
    const made = await actions.ask('visit.export', { ids: visits.slice(0, 500).map(({ id }) => id) });
    if (made !== undefined) saveDownload(made.download, made.fileName);
  };
  const learned = useAnswer('document.list', { kind: 'knowledge', parentId: stored.id, limit: 1 })?.documents[0];
  const forget = async (): Promise<void> => {
    setAsks(undefined);
    await actions.ask('document.remove', { kind: 'knowledge', id: stored.id });
  };
  const due = dueWords(appliance.nextDue, openedMs);
  const power = (kw: number | undefined): string | undefined => (kw === undefined ? undefined : powerText(kw, units));
  const { burner } = appliance;
  const facts: [string, string | undefined][] = [
    [words.facts.kind, startWords.applianceKinds[appliance.kind]],
    [words.facts.maker, [appliance.maker, appliance.model].filter(Boolean).join(', ')],
    [words.facts.serial, appliance.serial],
    [words.facts.year, appliance.year?.toString()],
    [words.facts.ratedInput, power(appliance.ratedInputKw)],
    [words.facts.ratedOutput, power(appliance.ratedOutputKw)],
    [words.facts.burner, [burner?.maker, burner?.model, burner?.serial, burner?.year].filter(Boolean).join(', ')],
    [words.facts.tank, appliance.tank && recordWords.tanks[appliance.tank]],
    [words.facts.flueGas, appliance.flueGas && recordWords.flueGases[appliance.flueGas]],
    [words.facts.place, appliance.pseudonymised === true ? words.pseudonymised : appliance.place],
    [words.facts.owner, appliance.owner],
    [words.facts.contact, appliance.contact],
    [words.facts.consent, appliance.consent === true ? recordWords.yes : undefined],
    [words.facts.notes, appliance.notes],
    [
      words.facts.due,
      appliance.nextDue === undefined ? words.facts.noDue : due?.isOver === false ? formatIsoDay(appliance.nextDue) : due?.text,
    ],
  ];
  return (
    <>
      <div className="records-title">
        <div className="grow">
          <h1>{appliance.name}</h1>
          <span className="second">{words.appliance(stored.visits, undefined)}</span>
        </div>
        <button type="button" className="button" disabled={!mayChange} onClick={() => setAsks('due')}>
          {words.facts.setDue}
        </button>
        <button type="button" className="button" disabled={!mayChange} onClick={() => setAsks('edit')}>
          {words.actions.edit}
        </button>
        {visits.length > 0 && (
          <button type="button" className="button" disabled={!mayChange} onClick={() => void exportAll()}>
            {words.actions.exportAll}
          </button>
        )}
      </div>
      {stillIn.length > 0 && (
        <p className="records-said" role="status">
          {words.stillIn(stillIn)}
        </p>
      )}
      <Facts rows={facts} />
      <FetchFromOffice applianceId={stored.id} />
      {learned !== undefined && (
        <p className="second">
          {words.known(ApplianceKnowledge.safeParse(learned.body).data?.visitIds.length ?? 0)}{' '}
          <button type="button" className="button" disabled={!mayChange} onClick={() => setAsks('forget')}>
            {words.forgetKnown}
          </button>
        </p>
      )}
      {visits.length > 0 && <History visits={figures} chosen={undefined} />}
      {visits.length > 0 && <h2>{words.sections.visits}</h2>}
      <ul className="records-rows">
        {visits.map((visit) => (
          <VisitRow key={visit.id} visit={visit} isChosen={false} choose={() => showVisit(visit.id)} />
        ))}
      </ul>
      <ApplianceAudit edits={edits} earlierEdits={earlierEdits} />
      {(holdsPerson || stored.visits === 0) && (
        <div className="records-remove">
          <span className="grow" />
          {holdsPerson && (
            <button type="button" className="button" disabled={!mayChange} onClick={() => setAsks('pseudonymise')}>
              {words.actions.pseudonymise}
            </button>
          )}
          {stored.visits === 0 && (
            <button type="button" className="button" disabled={!mayChange} onClick={() => setAsks('delete')}>
              {words.actions.removeAppliance}
            </button>
          )}
        </div>
      )}
      {asks === 'pseudonymise' && (
        <Sure
          title={words.pseudonymiseTitle(appliance.name)}
          about={hasOffice ? `${words.pseudonymiseAbout} ${officeWords.signedStays}` : words.pseudonymiseAbout}
          yes={words.yesPseudonymise}
          run={() => remove('pseudonymise')}
          close={() => setAsks(undefined)}
        />
      )}
      {asks === 'forget' && (
        <Sure
          title={words.forgetKnownTitle}
          about={words.forgetKnownAbout}
          yes={words.yesForget}
          run={() => forget()}
          close={() => setAsks(undefined)}
        />
      )}
      {asks === 'delete' && (
        <Sure
          title={words.removeApplianceTitle(appliance.name)}
          about={words.removeApplianceAbout}
          yes={words.yesRemove}
          run={() => remove('delete')}
          close={() => setAsks(undefined)}
        />
      )}
      {asks === 'edit' && <ApplianceEditor stored={stored} close={() => setAsks(undefined)} />}
      {asks === 'due' && <DueDialog unit={unit} close={() => setAsks(undefined)} />}
    </>
  );
}

function DueDialog({ unit, close }: { unit: Output<'appliance.get'>; close: () => void }) {
  const { actions } = useParts();
  const { id, revision, appliance } = unit.stored;
  const [typed, setTyped] = useState(appliance.nextDue ?? '');
  const [isWrong, setIsWrong] = useState(false);
  const day = typedDay(typed);
  const save = async (): Promise<void> => {
    if (day.kind === 'wrong') return setIsWrong(true);
    const saved = await actions.ask('appliance.save', { id, revision, appliance: { ...appliance, nextDue: valueOf(day) } });
    if (saved !== undefined) close();
  };
  return (
    <Dialog title={words.facts.due} close={close} submit={save} foot={<DialogFoot main={common.save} withoutKey />}>
      <Field
        label={words.facts.due}
        value={typed}
        change={(text) => {
          setTyped(text);
          setIsWrong(false);
        }}
        numeric={false}
        first
        hint={words.facts.dueHint}
        error={isWrong ? errorOf(day) : undefined}
      />
    </Dialog>
  );
}
