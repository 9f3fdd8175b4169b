import type { DecisionRule } from '../../measurement/decision-rule.ts';

/** One line of an uncertainty budget: a standard uncertainty in the channel's unit, and where it comes from. */
export type Contribution = {
  readonly key: 'gas' | 'resolution' | 'repeatability' | 'drift' | 'timing' | 'pressure' | 'humidity';
  readonly u: number;
};
export type Budget = { readonly contributions: readonly Contribution[]; readonly combined: number; readonly expanded: number };

/**
 * Combines independent contributions.
 *
 *     u_c = sqrt(sum u_i^2),   U = 2 u_c
 *
 * @throws RangeError on a negative or non-finite contribution (a bug in the caller)
 * @source JCGM 100:2008, 5.1.2 and 6.2.1
 */
export function budgetOf(contributions: readonly Contribution[]): Budget {
  for (const { key, u } of contributions) if (!(u >= 0 && Number.isFinite(u))) throw new RangeError(`${key} ${u}`);
  const combined = Math.sqrt(contributions.reduce((sum, { u }) => sum + u * u, 0));
  return { contributions, combined, expanded: 2 * combined };
}

export type ReadingBudget = {
  /** expanded uncertainty (k = 2) of the reference */
  gasExpanded: number;
  resolution: number;
  /** standard deviation of single readings and how many were averaged */
  sd: number;
  n: number;
  drift?: number | undefined;
  /** half-widths, rectangular */
  pressureHalfWidth?: number | undefined;
  humidityHalfWidth?: number | undefined;
};

/** The budget of one error: reading minus reference. @source shape of the budget: JCGM 100:2008, 4.2.3 (repeatability), 4.3.7 (rectangular), F.2.2.1 (resolution) */
export const readingBudget = ({
  gasExpanded,
  resolution,
  sd,
  n,
  drift = 0,
  pressureHalfWidth = 0,
  humidityHalfWidth = 0,
}: ReadingBudget): Budget =>
  budgetOf(
    [
      { key: 'gas' as const, u: gasExpanded / 2 },
      { key: 'resolution' as const, u: resolution / Math.sqrt(12) },
      { key: 'repeatability' as const, u: sd / Math.sqrt(Math.max(1, n)) },
      { key: 'drift' as const, u: drift / Math.sqrt(3) },
      { key: 'pressure' as const, u: pressureHalfWidth / Math.sqrt(3) },
      { key: 'humidity' as const, u: humidityHalfWidth / Math.sqrt(3) },
    ].filter(({ u }) => u > 0),
  );

export type Acceptance = 'pass' | 'conditional' | 'fail';

/**
 * One error against a symmetrical limit. `conditional`: inside the limit, but not by the guard band.
 * Simple acceptance is only fair where the uncertainty is small against the limit; `fair` says whether it is (U at most a third, common practice).
 *
 * @source JCGM 106:2012 and ISO 14253-1, guard band w = U (from memory); guarded rejection: 1. BImSchV Annex 2 no. 2.3
 */
export function accept({ error, expanded, limit, rule }: { error: number; expanded: number; limit: number; rule: DecisionRule }): {
  verdict: Acceptance;
  comparedWith: number;
  fair: boolean;
} {
  const size = Math.abs(error);
  const slack = 1e-9 * Math.max(1, limit);
  const fair = expanded <= limit / 3 + slack;
  if (rule === 'simple') return { verdict: size <= limit + slack ? 'pass' : 'fail', comparedWith: limit, fair };
  if (rule === 'guarded-rejection')
    return { verdict: size <= limit + expanded + slack ? 'pass' : 'fail', comparedWith: limit + expanded, fair };
  const comparedWith = Math.max(0, limit - expanded);
  // an uncertainty wider than the limit leaves no room for a pass, not even for an error of zero
  const passes = expanded <= limit + slack && size <= comparedWith + slack;
  return { verdict: passes ? 'pass' : size <= limit + slack ? 'conditional' : 'fail', comparedWith, fair };
}
