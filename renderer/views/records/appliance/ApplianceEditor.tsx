import { useState } from 'react';
import type { StoredAppliance } from '../../../../shared/ipc/store-commands.ts';
import { common } from '../../../../shared/words/common.ts';
import { records } from '../../../../shared/words/records/records.ts';
import { recordWords } from '../../../../shared/words/paper/technical-record.ts';
import { startWords } from '../../../../shared/words/visit/screens/start.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { useRefusal } from '../../../components/alerts/use-refusal.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Check, Choice, Field } from '../../../components/Field.tsx';
import { optionsOf } from '../../../fields/KeptField.tsx';
import { draftOf, powerUnit, readDraft, type DraftField } from './appliance-draft.ts';
import { problemLine } from '../../../../shared/words/problems.ts';
import { defined } from '../../../../shared/defined.ts';
import './ApplianceEditor.css';

const words = records.particulars;

/** Everything on the plates, where it stands and whose it is. Nothing is asked for but a name. */
export function ApplianceEditor({ stored, close }: { stored: StoredAppliance; close: () => void }) {
  const { client } = useParts();
  const { refused, refuse, isHere } = useRefusal();
  const units = useApp((state) => state.settings.units);
  const [draft, setDraft] = useState(() => draftOf(stored.appliance, units));
  const [errors, setErrors] = useState<Partial<Record<DraftField, string>>>({});
  const save = async (): Promise<void> => {
    const read = readDraft(draft, stored.appliance, units);
    if ('errors' in read) return setErrors(read.errors);
    const kept = await client.call('appliance.save', { id: stored.id, revision: stored.revision, appliance: read.appliance });
    if (!kept.ok) return refuse(kept.error);
    // closed before the answer came: what is open by then is another window
    if (isHere.current) close();
  };
  const typed = (field: DraftField, text: string): void => {
    setDraft((now) => ({ ...now, texts: { ...now.texts, [field]: text } }));
    setErrors((now) => ({ ...now, [field]: undefined }));
  };
  const field = (
    name: DraftField,
    { unit, numeric = false, hint, first = false }: { unit?: string; numeric?: boolean; hint?: string; first?: boolean } = {},
  ) => (
    <Field
      label={words.labels[name]}
      value={draft.texts[name]}
      change={(text) => typed(name, text)}
      numeric={numeric}
      first={first}
      error={errors[name]}
      {...defined({ unit, hint })}
    />
  );
  const isWrong = Object.values(errors).some((error) => error !== undefined);
  return (
    <Dialog
      title={words.title(stored.appliance.name)}
      close={close}
      submit={save}
      wide
      foot={
        <DialogFoot
          main={common.save}
          withoutKey
          says={
            <span className="grow second" role="status">
              {refused !== undefined ? problemLine(refused) : isWrong ? words.lookAgain : ''}
            </span>
          }
        />
      }
    >
      <div className="appliance-form">
        <fieldset>
          <legend>{words.groups.appliance}</legend>
          {field('name', { first: true })}
          <Choice
            label={words.labels.kind}
            value={draft.kind}
            change={(kind) => setDraft((now) => ({ ...now, kind }))}
            options={optionsOf(startWords.applianceKinds)}
          />
          {field('maker')}
          {field('model')}
          {field('serial')}
          {field('year', { numeric: true })}
          {field('ratedInput', { numeric: true, unit: powerUnit(units) })}
          {field('ratedOutput', { numeric: true, unit: powerUnit(units) })}
          <Choice
            label={words.labels.tank}
            value={draft.tank}
            change={(tank) => setDraft((now) => ({ ...now, tank }))}
            options={[{ value: '', text: words.notSaid }, ...optionsOf(recordWords.tanks)]}
          />
          <Choice
            label={words.labels.flueGas}
            value={draft.flueGas}
            change={(flueGas) => setDraft((now) => ({ ...now, flueGas }))}
            options={[{ value: '', text: words.notSaid }, ...optionsOf(recordWords.flueGases)]}
          />
          {field('nextDue', { hint: records.facts.dueHint })}
        </fieldset>
        <fieldset>
          <legend>{words.groups.burner}</legend>
          {field('burnerMaker')}
          {field('burnerModel')}
          {field('burnerSerial')}
          {field('burnerYear', { numeric: true })}
        </fieldset>
        <fieldset>
          <legend>{words.groups.person}</legend>
          {field('place')}
          {field('owner')}
          {field('contact')}
          <div className="whole-row">{field('notes')}</div>
          <div className="whole-row">
            <Check label={words.consent} checked={draft.consent} change={(consent) => setDraft((now) => ({ ...now, consent }))} />
            <p className="second">{words.personAbout}</p>
          </div>
        </fieldset>
      </div>
    </Dialog>
  );
}
