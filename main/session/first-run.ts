import type { Caller } from '../../shared/ipc/contract.ts';
import { SourceChoice } from '../../shared/ipc/run-documents.ts';
import type { RunInfo, RunSummary } from '../../shared/ipc/run-info.ts';
import type { Problem } from '../../shared/problem.ts';
import type { RunService } from '../runs/run-service.ts';

type Known = { readonly runs: readonly RunInfo[]; readonly interrupted: readonly RunSummary[]; readonly stored: readonly RunSummary[] };

/**
 * A newcomer sees a burner being measured without choosing anything: the simulated one begins by itself. That ends for good with the first run
 * from a real instrument, and it never comes between a person and a run that was cut off.
 */
function isNewcomer({ runs, interrupted, stored }: Known): boolean {
  const hasOwnRuns = stored.some(({ header }) => header.source.kind === 'serial' || header.source.kind === 'typed');
  return runs.length === 0 && interrupted.length === 0 && !hasOwnRuns;
}

const host: Caller = { clientId: 'host', role: 'operator' };

/** @returns what was wrong, or undefined */
export async function beginFirstRun(
  runService: Pick<RunService, 'handlers' | 'runs' | 'interrupted'>,
  wish: SourceChoice | 'newcomer' | 'none',
): Promise<Problem | undefined> {
  if (wish === 'none') return undefined;
  if (wish === 'newcomer') {
    const listed = await runService.handlers['source.list']({}, host);
    const stored = listed.ok ? listed.value.runs : [];
    if (!isNewcomer({ runs: runService.runs(), interrupted: await runService.interrupted(), stored })) return undefined;
  }
  const source = wish === 'newcomer' ? SourceChoice.parse({ kind: 'simulated' }) : wish;
  const started = await runService.handlers['run.start']({ source }, host);
  return started.ok ? undefined : started.error;
}
