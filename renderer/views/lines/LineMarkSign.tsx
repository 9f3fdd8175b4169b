import type { LineMark } from '../../../shared/ipc/line-report.ts';

/** How a line fared, by shape. */
export function LineMarkSign({ mark }: { mark: LineMark }) {
  switch (mark) {
    case 'read':
      return (
        <svg width="14" height="14" aria-hidden="true">
          <rect className="fill-accent" x="3" y="3" width="8" height="8" />
        </svg>
      );
    case 'read-absent':
      return (
        <svg width="16" height="14" aria-hidden="true">
          <path className="stroke-third" strokeWidth="2" strokeDasharray="5 2" d="M5 2H2V12H5M11 2H14V12H11" />
        </svg>
      );
    case 'ignored':
      return (
        <svg width="14" height="14" aria-hidden="true">
          <path className="stroke-third" strokeWidth="2" d="M3 7H11" />
        </svg>
      );
    case 'rejected':
      return (
        <svg width="16" height="16" aria-hidden="true">
          <path className="stroke-notice" strokeWidth="2" d="M8 1L15 8L8 15L1 8Z" />
        </svg>
      );
    case 'part':
      return (
        <svg width="14" height="14" aria-hidden="true">
          <rect className="stroke-accent" strokeWidth="2" x="4" y="4" width="6" height="6" />
        </svg>
      );
  }
}
