/** Small shapes of verdicts and steps. Shape tells them apart; colour only repeats it. */
import type { CardVerdict } from '../../../shared/tuning/target-card.ts';

export type SignName = CardVerdict | 'not-applicable' | 'open' | 'now';

const slot = 'M8 4H3V22H8M18 4H23V22H18';

export function VerdictSign({ verdict }: { verdict: SignName }) {
  return (
    <svg width="26" height="26" viewBox="0 0 26 26" aria-hidden="true">
      <SignShape verdict={verdict} />
    </svg>
  );
}

function SignShape({ verdict }: { verdict: SignName }) {
  switch (verdict) {
    case 'pass':
      return (
        <>
          <path className="stroke-accent" strokeWidth="3" d={slot} />
          <rect className="fill-accent" x="8.5" y="6" width="9" height="14" />
        </>
      );
    case 'now':
      return (
        <>
          <path className="stroke-accent" strokeWidth="3" d="M9 3H4V23H9M17 3H22V23H17" />
          <rect className="fill-accent" x="9.5" y="8" width="7" height="10" />
        </>
      );
    case 'fail':
      return <path className="stroke-alarm" strokeWidth="4.5" d="M4 5L22 21M22 5L4 21" />;
    case 'too-close':
      return (
        <>
          <path className="stroke-notice" strokeWidth="3" d="M8 4H3V22H8" />
          <rect className="stroke-notice" strokeWidth="3" x="12" y="5" width="10" height="16" />
          <path className="fill-notice" d="M12 13h10v8h-10z" />
        </>
      );
    case 'not-applicable':
      return <path className="stroke-third" strokeWidth="3" d="M5 13H21" />;
    case 'not-known':
    case 'open':
      return <path className="stroke-third" strokeWidth="3" d={slot} />;
  }
}

export function StepSign({ state }: { state: 'done' | 'now' | 'todo' | 'stale' }) {
  if (state === 'now')
    return (
      <svg width="24" height="24" viewBox="0 0 24 24" aria-hidden="true">
        <path className="stroke-accent" strokeWidth="3" d="M8 3H3V21H8M16 3H21V21H16" />
        <rect className="fill-accent" x="8.5" y="7" width="7" height="10" />
      </svg>
    );
  return (
    <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
      {state === 'done' ? (
        <rect className="fill-second" x="3" y="3" width="10" height="10" />
      ) : state === 'stale' ? (
        <path className="stroke-notice" strokeWidth="2.5" d="M8 1.5L14.5 8L8 14.5L1.5 8Z" />
      ) : (
        <rect className="stroke-edge" strokeWidth="2" x="4" y="4" width="8" height="8" />
      )}
    </svg>
  );
}
