/** Everything a report is made from, fetched from where it is kept. */
import { z } from 'zod';
import { Instrument } from '../../shared/bench/instrument.ts';
import type { FoldSettings } from '../../shared/pipeline/fold-run.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import type { ReportInput, ReportInstrument, ReportRun } from '../../shared/report/report-input.ts';
import type { Appliance } from '../../shared/tuning/appliance.ts';
import type { Visit } from '../../shared/tuning/visit.ts';
import { visitHash } from '../store/visits.ts';
import { loadReportRun } from './load-run.ts';

/** The records as the report reads them; undefined when there is no such entry. */
export type ReportSources = {
  readonly appliance: (id: string) => Promise<Appliance | undefined>;
  /** any kept document, not yet checked */
  readonly document: (kind: string, id: string) => Promise<unknown>;
  readonly documentsOf: (kind: string, parentId: string) => Promise<readonly unknown[]>;
};

export type ReportPlace = { readonly dataFolder: string; readonly appVersion: string; readonly settings: Settings };

export async function gatherReport(
  visit: Visit,
  sources: ReportSources,
  { dataFolder, appVersion, settings }: ReportPlace,
): Promise<ReportInput> {
  const runs: ReportRun[] = [];
  for (const { id } of visit.runs) {
    const run = await loadReportRun(dataFolder, id, foldSettingsOf(settings));
    if (run !== undefined) runs.push(run);
  }
  const appliance = visit.applianceId === undefined ? undefined : await sources.appliance(visit.applianceId);
  const instrument = visit.instrumentId === undefined ? undefined : await instrumentOf(visit.instrumentId, visit.startedWallMs, sources);
  return {
    visit,
    runs,
    appVersion,
    ...(appliance === undefined ? {} : { appliance }),
    ...(instrument === undefined ? {} : { instrument }),
    ...(visit.signature === undefined ? {} : { signatureHolds: visitHash(visit) === visit.signature.hash }),
  };
}

/** What a bench test must hold for the report; its other parts are the certificate's business. */
const BenchTest = z.object({ endedWallMs: z.number().optional(), startedWallMs: z.number(), verdict: z.string().optional() });

async function instrumentOf(id: string, beforeMs: number, sources: ReportSources): Promise<ReportInstrument | undefined> {
  const instrument = Instrument.safeParse(await sources.document('instrument', id));
  if (!instrument.success) return undefined;
  const tests = (await sources.documentsOf('bench-test', id))
    .flatMap((body) => BenchTest.safeParse(body).data ?? [])
    .map(({ endedWallMs, startedWallMs, verdict }) => ({ wallMs: endedWallMs ?? startedWallMs, verdict: verdict ?? '' }))
    .filter(({ wallMs }) => wallMs <= beforeMs)
    .sort((a, b) => b.wallMs - a.wallMs);
  return { instrument: instrument.data, benchTest: tests[0] };
}

const foldSettingsOf = ({ bands, tolerances, settlingMode }: Settings): FoldSettings => ({
  bands: { o2Percent: bands.o2Percent, coPpm: bands.coPpm, coFraction: bands.coShare, stackC: bands.stackK, airC: bands.airK },
  tolerances,
  mode: settlingMode,
});
