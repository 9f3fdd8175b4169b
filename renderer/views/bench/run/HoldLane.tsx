/** The slot and the pin for a step of the plan: outside while the gas arrives, seated and filling while it is held. */
export function HoldLane({ phase, part }: { phase: string; part: number }) {
  const filled = Math.min(1, Math.max(0, part));
  const trouble = phase === 'no-change' || phase === 'other-gas';
  const cut = phase === 'lost' || phase === 'silent';
  const tone = phase === 'closed' || phase === 'holding' ? 'accent' : trouble ? 'notice' : 'second';
  return (
    <svg width="96" height="48" viewBox="0 0 96 48" aria-hidden="true">
      {cut ? (
        <path className="stroke-alarm" strokeWidth="3" d="M2 24H38M42 12l-6 24M94 24H58M60 12l-6 24" />
      ) : (
        <>
          <path className="stroke-edge" d="M2 24H94" />
          {phase === 'closed' && <rect className="fill-accent-soft" x="34" y="6" width="38" height="36" />}
          <path
            className={`stroke-${tone}`}
            strokeWidth="4"
            strokeDasharray={phase === 'switch' || phase === 'waiting' ? '8 5' : undefined}
            d="M42 5H33V43H42M64 5H73V43H64"
          />
          {phase === 'arriving' && <rect className="stroke-ink" strokeWidth="3" x="8" y="10" width="12" height="28" />}
          {trouble && <path className="stroke-notice" strokeWidth="3" d="M14 12L26 24L14 36L2 24ZM10 20l8 8M18 20l-8 8" />}
          {phase === 'holding' && (
            <>
              <rect className="stroke-accent" strokeWidth="2" x="45" y="9" width="16" height="30" />
              <rect className="fill-accent" x="45" y={9 + 30 * (1 - filled)} width="16" height={30 * filled} />
            </>
          )}
          {phase === 'closed' && <rect className="fill-accent" x="45" y="9" width="16" height="30" />}
        </>
      )}
    </svg>
  );
}
