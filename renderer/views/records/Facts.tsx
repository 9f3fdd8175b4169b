import type { ReactNode } from 'react';
import './records.css';

type FactRow = readonly [label: string, value: string | undefined];

/** What is known of one thing; what is not known has no row. */
export const Facts = ({ rows, children }: { rows: readonly FactRow[]; children?: ReactNode }) => (
  <dl className="records-facts">
    {rows
      .filter(([, value]) => value !== undefined && value !== '')
      .map(([label, value]) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    {children}
  </dl>
);
