import { formatDay } from '../../../../shared/format/date.ts';
import { formatClock } from '../../../../shared/format/duration.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { editText, isShown } from '../../../../shared/report/edit-words.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import { useApp } from '../../../app-parts.ts';
import { EditTable } from '../EditTable.tsx';
import { RecordSign } from '../RecordSign.tsx';
import '../records.css';
import './visit.css';

/** Signing, locking, and every change by a person with what stood before. */
export function Audit({ visit, applianceName }: { visit: Visit; applianceName: (id: string) => string | undefined }) {
  const units = useApp((state) => state.settings.units);
  const time = (wallMs: number): string => `${formatDay(wallMs, visit.zoneMinutes)} ${formatClock(wallMs, visit.zoneMinutes, 'minutes')}`;
  const { signature } = visit;
  const corrections = new Set(signature === undefined ? [] : visit.edits.slice(signature.editsBefore));
  const lines = visit.edits.filter(isShown).map((edit) => ({
    time: time(edit.wallMs),
    by: edit.by,
    ...editText(edit, { visit, units, applianceName }),
    reason: [corrections.has(edit) ? words.correction : undefined, edit.reason].filter(Boolean).join(': '),
  }));
  const status = signature !== undefined ? 'signed' : visit.kind === 'training' && visit.endedWallMs !== undefined ? 'training' : 'open';
  return (
    <section className="records-audit">
      <h2>{words.lock}</h2>
      <p className="row lock-line">
        <RecordSign status={status} />
        {signature !== undefined
          ? words.lockWords.signed(signature.name, time(signature.wallMs))
          : words.lockWords[status === 'training' ? 'training' : 'open']}
      </p>
      {signature !== undefined && (
        <p className="second">
          {words.hash}: <span className="mono hash">{signature.hash}</span> {words.signedStays}
        </p>
      )}
      <h2>{words.audit}</h2>
      {lines.length === 0 ? <p className="second">{words.auditNone}</p> : <EditTable label={words.audit} lines={lines} reasons />}
    </section>
  );
}
