import type { EditText } from '../../../shared/report/edit-words.ts';
import { records as words } from '../../../shared/words/records/records.ts';
import './records.css';

export type EditLine = EditText & { readonly time: string; readonly by: string; readonly reason?: string };

/** Changes in words, the oldest first. Where no line can have a reason there is no column for it. */
export function EditTable({ label, lines, reasons = false }: { label: string; lines: readonly EditLine[]; reasons?: boolean }) {
  const { reason: reasonColumn, ...columns } = words.auditColumns;
  return (
    <table className="tight edits" aria-label={label}>
      <thead>
        <tr>
          {[...Object.values(columns), ...(reasons ? [reasonColumn] : [])].map((column) => (
            <th key={column} scope="col">
              {column}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {lines.map(({ time, by, field, before, after, reason }, index) => (
          <tr key={`${time} ${index}`}>
            <td className="unwrapped">{time}</td>
            <td>{by}</td>
            <td>{field}</td>
            <td className="value">{before}</td>
            <td className="value">{after}</td>
            {reasons && <td className="value">{reason}</td>}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
