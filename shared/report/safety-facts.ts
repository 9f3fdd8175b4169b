import { safetyTestIds, testsOfVisit, type SafetyTestId } from '../tuning/safety/safety-plan.ts';
import type { Appliance } from '../tuning/visit/appliance.ts';
import type { Visit } from '../tuning/visit/visit.ts';
import { safetyWords } from '../words/visit/safety-tests.ts';
import type { SafetyResult } from '../tuning/safety/safety-result.ts';

export type SafetyRow = { readonly test: string; readonly title: string; readonly result: SafetyResult | undefined };
export type SafetyFacts = {
  /** the newest result of each test that applies, and of every other test that was made; in the order of the plan */
  readonly rows: readonly SafetyRow[];
  readonly passed: readonly SafetyRow[];
  readonly failed: readonly SafetyRow[];
  readonly notApplicable: readonly SafetyRow[];
  readonly open: readonly SafetyRow[];
  readonly bypassesOpen: readonly string[];
};

const isKnown = (test: string): test is SafetyTestId => (safetyTestIds as readonly string[]).includes(test);
export const testTitle = (test: string): string => (isKnown(test) ? safetyWords[test].title : test);

export function safetyFacts(visit: Visit, appliance: Appliance | undefined): SafetyFacts {
  const newest = new Map(visit.safety.map((result) => [result.test, result]));
  const wanted = new Set<string>(testsOfVisit(visit, appliance).map(({ id }) => id));
  const planned = safetyTestIds.filter((id) => wanted.has(id) || newest.has(id));
  const others = [...newest.keys()].filter((test) => !isKnown(test));
  const rows = [...planned, ...others].map((test) => ({ test, title: testTitle(test), result: newest.get(test) }));
  const having = (result: SafetyResult['result'] | undefined): SafetyRow[] => rows.filter((row) => row.result?.result === result);
  return {
    rows,
    passed: having('pass'),
    failed: having('fail'),
    notApplicable: having('not-applicable'),
    open: having(undefined),
    bypassesOpen: visit.bypasses.filter(({ closedWallMs }) => closedWallMs === undefined).map(({ what }) => what),
  };
}
