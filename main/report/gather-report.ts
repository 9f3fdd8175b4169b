/** Everything a report is made from, fetched from where it is kept. */
import { BenchTest, lastRound } from '../../shared/bench/bench-test.ts';
import { findInstrument, instrumentThen } from '../../shared/bench/find-instrument.ts';
import { roundResult } from '../../shared/bench/results/test-result.ts';
import type { FoldSettings } from '../../shared/pipeline/run-fold.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import type { ReportInput, ReportInstrument } from '../../shared/report/report-input.ts';
import { applianceThen, type Appliance } from '../../shared/tuning/visit/appliance.ts';
import { withCorrections, type Visit } from '../../shared/tuning/visit/visit.ts';
import { benchResult } from '../../shared/words/bench/bench-result.ts';
import { visitHash } from '../store/visits.ts';
import { loadRuns, type ReportRuns } from './load-run.ts';
import { defined } from '../../shared/defined.ts';

/** The records as the report reads them; undefined when there is no such entry. */
export type ReportSources = {
  readonly appliance: (id: string) => Promise<Appliance | undefined>;
  /** any kept document, not yet checked */
  readonly document: (kind: string, id: string) => Promise<unknown>;
  readonly documentsOf: (kind: string, parentId: string) => Promise<readonly unknown[]>;
  readonly documents: (kind: string) => Promise<readonly { readonly id: string; readonly body: unknown }[]>;
};

export type ReportPlace = { readonly runs: ReportRuns; readonly appVersion: string; readonly settings: Settings };
/** everything but what is read from run files */
export type ReportRecords = Omit<ReportInput, 'runs'>;

export async function gatherReport(
  visit: Visit,
  sources: ReportSources,
  { runs: kept, appVersion, settings }: ReportPlace,
): Promise<ReportInput> {
  const found = await loadRuns(
    kept,
    visit.runs.map(({ id }) => id),
    foldSettingsOf(settings),
  );
  // on the visit's own time, which a clock that was set back does not move
  const startOf = new Map(visit.runs.map(({ id, startWallMs }) => [id, startWallMs]));
  const runs = found.map((run) => ({ ...run, startWallMs: startOf.get(run.runId) ?? run.startWallMs }));
  return { ...(await gatherRecords(visit, sources, appVersion)), runs };
}

export async function gatherRecords(visit: Visit, sources: ReportSources, appVersion: string): Promise<ReportRecords> {
  const appliance = visit.applianceId === undefined ? undefined : await sources.appliance(visit.applianceId);
  const instrument = await instrumentOf(visit, sources);
  const machine = applianceThen(appliance, withCorrections(visit).applianceSigned);
  return {
    visit,
    appVersion,
    ...defined({
      appliance: machine,
      instrument,
      signatureHolds: visit.signature === undefined ? undefined : visitHash(visit) === visit.signature.hash,
    }),
  };
}

async function instrumentOf(visit: Visit, sources: ReportSources): Promise<ReportInstrument | undefined> {
  const shown = withCorrections(visit);
  const found = findInstrument(shown, await sources.documents('instrument'));
  const instrument = instrumentThen(found?.instrument, shown.instrumentSigned);
  if (instrument === undefined) return undefined;
  if (found === undefined) return { instrument };
  const tests = (await sources.documentsOf('bench-test', found.id))
    .flatMap((body) => BenchTest.safeParse(body).data ?? [])
    .filter(({ status, startedWallMs, watermark }) => status === 'done' && startedWallMs <= visit.startedWallMs && watermark === undefined)
    .sort((one, other) => other.startedWallMs - one.startedWallMs);
  const [newest] = tests;
  if (newest === undefined) return { instrument };
  const { verdict } = roundResult(newest, lastRound(newest)).evaluation;
  return {
    instrument,
    benchTest: { wallMs: newest.endedWallMs ?? newest.startedWallMs, verdict: benchResult.verdicts[verdict] },
  };
}

export const foldSettingsOf = ({ bands, tolerances, settlingMode }: Settings): FoldSettings => ({
  bands,
  tolerances,
  mode: settlingMode,
});
