import type { Output } from '../../../../shared/ipc/contract.ts';
import { applianceEditText } from '../../../../shared/report/edit-words-appliance.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import { useApp } from '../../../app-parts.ts';
import { timeHere } from '../due.ts';
import { EditTable } from '../EditTable.tsx';
import '../records.css';

/** Every change of the particulars and of the due date by a person, with what stood before. */
export function ApplianceAudit({ edits, earlierEdits }: Pick<Output<'appliance.get'>, 'edits' | 'earlierEdits'>) {
  const units = useApp((state) => state.settings.units);
  return (
    <section className="records-audit" aria-label={words.auditOfAppliance}>
      <h2>{words.auditOfAppliance}</h2>
      {edits.length === 0 && <p className="second">{words.auditNone}</p>}
      {earlierEdits > 0 && <p className="second">{words.auditEarlier(earlierEdits)}</p>}
      {edits.length > 0 && (
        <EditTable
          label={words.auditOfAppliance}
          lines={edits.map((edit) => ({ time: timeHere(edit.wallMs), by: edit.by, ...applianceEditText(edit, units) }))}
        />
      )}
    </section>
  );
}
