/** The recent samples of each run, what earlier visits left at the appliance, and the patterns that both show. */
import { findFuel } from '../../shared/combustion/fuel.ts';
import type { Client } from '../../shared/ipc/client.ts';
import type { Sample } from '../../shared/measurement/sample.ts';
import { airCurve } from '../../shared/tuning/air-curve.ts';
import { diagnose } from '../../shared/tuning/diagnosis/diagnose.ts';
import { earlierOf } from '../../shared/tuning/diagnosis/earlier.ts';
import { sortTrials } from '../../shared/tuning/staleness.ts';
import { withCorrections, type Visit } from '../../shared/tuning/visit.ts';
import { samplesFromHistory } from '../live/samples-from-history.ts';
import { selectRun } from '../state/selectors.ts';
import type { AppStore } from '../state/store.ts';

export type VisitPatterns = {
  /** the last half hour of a run, at most two a second */
  samplesOf: (runId: string) => readonly Sample[];
  stop: () => void;
};

const KEPT_MS = 30 * 60_000;
const THIN_MS = 450;
const DIAGNOSE_MS = 5000;
/** a run older than this when it is first seen has a past that this window did not see */
const YOUNG_MS = 5000;
const BUCKETS = 4000;
/** earlier visits that are looked at, newest first */
const MOST_EARLIER = 5;

export function startVisitPatterns(client: Client, store: AppStore): VisitPatterns {
  const state = () => store.getState();
  const samples = new Map<string, Sample[]>();
  const asked = new Set<string>();
  let earlier: { of: string; visits: readonly Visit[] } = { of: '', visits: [] };

  const take = (runId: string, news: readonly Sample[]): void => {
    const kept = samples.get(runId) ?? [];
    for (const sample of news) {
      const last = kept.at(-1);
      if (last === undefined || sample.timeMs - last.timeMs >= THIN_MS) kept.push(sample);
    }
    const end = kept.at(-1)?.timeMs ?? 0;
    const old = kept.findIndex(({ timeMs }) => timeMs >= end - KEPT_MS);
    if (old > 200) kept.splice(0, old);
    samples.set(runId, kept);
  };

  async function fetchPast(runId: string, nowMs: number): Promise<void> {
    const fromMs = Math.max(0, nowMs - KEPT_MS);
    const history = await client.call('run.history', { runId, fromMs, toMs: Math.max(1, nowMs), buckets: BUCKETS });
    if (!history.ok) return;
    const news = samples.get(runId) ?? [];
    const firstMs = news[0]?.timeMs ?? Infinity;
    samples.delete(runId);
    take(runId, [...samplesFromHistory(history.value).filter(({ timeMs }) => timeMs < firstMs), ...news]);
  }

  async function fetchEarlier(of: string, applianceId: string, ownId: string): Promise<void> {
    earlier = { of, visits: [] };
    const list = await client.call('visit.list', { applianceId, limit: MOST_EARLIER + 1 });
    if (!list.ok) return;
    const visits: Visit[] = [];
    for (const { id, status } of list.value.visits) {
      if (id === ownId || status === 'open') continue;
      const got = await client.call('visit.get', { id });
      if (got.ok) visits.push(withCorrections(got.value.visit));
    }
    if (earlier.of === of) earlier = { of, visits: visits.sort((a, b) => b.startedWallMs - a.startedWallMs).slice(0, MOST_EARLIER) };
  }

  function look(): void {
    const record = selectRun(state());
    if (record === undefined) return state().hints.length > 0 ? state().hintsCame([]) : undefined;
    const { runId, timeMs } = record.info;
    if (!asked.has(runId)) {
      asked.add(runId);
      if (timeMs > YOUNG_MS) void fetchPast(runId, timeMs);
    }
    const { visit } = state();
    const key = visit?.applianceId === undefined ? '' : `${visit.applianceId}|${visit.id}`;
    if (key !== earlier.of) {
      if (visit?.applianceId === undefined) earlier = { of: '', visits: [] };
      else void fetchEarlier(key, visit.applianceId, visit.id);
    }
    const stage = visit?.stages.find(({ name }) => name === state().visitStage);
    const fuel = findFuel(visit?.fuelId ?? record.info.fuelId);
    const fresh = visit === undefined || stage === undefined ? [] : sortTrials(stage.name, visit).fresh;
    const onset =
      fuel === undefined || fresh.length < 3
        ? undefined
        : airCurve(fresh, { stage: stage?.name ?? '1', co2MaxPercent: fuel.stoichiometry.co2MaxPercent, reserveCo2Points: 1 }).onset;
    const wanted = visit?.setUp.rows.pumpPressurePa?.maker?.nominal;
    const hints = diagnose({
      samples: samples.get(runId) ?? [],
      adjustmentsMs: record.marks.filter(({ body }) => body.kind === 'adjustment').map(({ timeMs: at }) => at),
      trials: visit?.trials ?? [],
      judgedIds: [stage?.asFoundTrialId, stage?.asLeftTrialId].filter((id) => id !== undefined),
      earlier: earlier.visits.flatMap((one) => earlierOf(one, stage?.name ?? '1') ?? []),
      ...(wanted === undefined ? {} : { pumpPressureWantedPa: wanted }),
      ...(onset?.state === 'found' ? { onsetO2: onset.o2 } : {}),
    });
    if (JSON.stringify(hints) !== JSON.stringify(state().hints)) state().hintsCame(hints);
  }

  const stopBatches = client.on('live.batch', ({ runId, samples: news }) => {
    // a run that begins before this window's eyes has no past to fetch
    if (!samples.has(runId) && (news[0]?.timeMs ?? 0) <= YOUNG_MS) asked.add(runId);
    take(runId, news);
  });
  const timer = setInterval(look, DIAGNOSE_MS);
  return {
    samplesOf: (runId) => samples.get(runId) ?? [],
    stop() {
      stopBatches();
      clearInterval(timer);
    },
  };
}
