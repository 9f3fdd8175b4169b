/** Small shapes of the steps. Shape tells them apart; colour only repeats it. */

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
