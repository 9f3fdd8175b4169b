import type { VisitSummary } from '../../../shared/ipc/store-commands.ts';

/** Pin in the slot: signed. Slot alone: open. Slot with slanted lines: training. */
export function RecordSign({ status }: { status: VisitSummary['status'] }) {
  const ink = status === 'signed' ? 'stroke-accent' : 'stroke-edge';
  return (
    <svg width="26" height="26" viewBox="0 0 26 26" aria-hidden="true">
      <path className={ink} strokeWidth="3" d="M9 3H4V23H9M17 3H22V23H17" />
      {status === 'signed' && <rect className="fill-accent" x="9" y="8" width="8" height="10" />}
      {status === 'training' && <path className="stroke-edge" strokeWidth="2" d="M9 18l4-10M13 18l4-10" />}
    </svg>
  );
}
