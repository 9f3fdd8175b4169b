import type { StartFlaw } from '../../bench/session/start.ts';
import { bench } from './bench.ts';
import { benchSetUp } from './bench-run.ts';

/** What a start still needs, in one sentence. @param sourceOf run -> the name of its source */
export function startFlawText(flaw: StartFlaw, sourceOf: (runId: string) => string): string {
  const { missing } = benchSetUp;
  switch (flaw.kind) {
    case 'lines':
      return missing.lines(sourceOf(flaw.runId));
    case 'gas':
      return missing.gas(bench.slots[flaw.slot]);
    case 'inlet':
      return missing.inlet(flaw.gas);
    case 'reason':
      return missing.reason(flaw.gas, flaw.flaws.map((one) => bench.gas.flaws[one]).join(', '));
    default:
      return missing[flaw.kind];
  }
}
