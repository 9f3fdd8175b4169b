/** Simulated instruments to practise on: one in good order, then the faulty ones. */
export const practiceScenarios = [
  'bench-healthy',
  'low-span',
  'drifting-zero',
  'clogged-filter',
  'slow-co-cell',
  'cross-sensitive-co',
  'non-linear-co',
] as const;
