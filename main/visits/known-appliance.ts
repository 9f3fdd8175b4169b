/**
 * What earlier visits have taught of an appliance: read when a run of a visit begins, written when it ends. Only lines of an instrument teach; a simulated
 * burner says nothing about a real one.
 */
import { APPLIANCE_KNOWLEDGE_MOST, ApplianceKnowledge, type SettlingKnowledge } from '../../shared/measurement/knowledge.ts';
import type { RunHeader } from '../../shared/measurement/run.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import type { Records } from '../store/records.ts';
import type { BenchTest } from '../../shared/bench/bench-test.ts';
import { findInstrument } from '../../shared/bench/find-instrument.ts';
import { knownAtStart, knownResponse } from '../../shared/bench/session/known-response.ts';
import { visitsTexts } from '../../shared/words/host.ts';

export type KnownAppliances = {
  /** @returns undefined where nothing is known; a problem where what is stored is left aside */
  of(visitId: string): Promise<Result<SettlingKnowledge | undefined, Problem>>;
  learn(header: RunHeader, knowledge: SettlingKnowledge | undefined): Promise<Result<undefined, Problem>>;
};

type StoreTables = Parameters<Parameters<Records['use']>[0]>[0];

function stored(
  { visits, documents }: StoreTables,
  visitId: string,
): Result<{ applianceId: string; known: ApplianceKnowledge | undefined } | undefined, Problem> {
  const visit = visits.get(visitId);
  if (!visit.ok) return visit;
  const { applianceId } = visit.value.visit;
  if (applianceId === undefined) return ok(undefined);
  const found = documents.knowledge.get(applianceId);
  if (found.ok) return ok({ applianceId, known: found.value.body as ApplianceKnowledge });
  return found.error.code === 'not-found'
    ? ok({ applianceId, known: undefined })
    : err(problem('file-damaged', visitsTexts.knowledgeUnreadable));
}

/** What the newest bench test of the instrument that the visit names has found. */
function benchOf({ visits, documents }: StoreTables, visitId: string): SettlingKnowledge | undefined {
  const visit = visits.get(visitId);
  if (!visit.ok) return undefined;
  const rows = documents.instrument.list({ limit: 1000 });
  const instrument = rows.ok ? findInstrument(visit.value.visit, rows.value.rows) : undefined;
  const found = instrument === undefined ? undefined : documents.knowledge.get(instrument.id);
  return found?.ok === true ? ApplianceKnowledge.safeParse(found.value.body).data?.knowledge : undefined;
}

/** Saves what a bench test has found of its instrument, where it is newer than what is there. */
export function keepResponse({ documents }: StoreTables, testId: string, test: BenchTest, wallMs: number): Result<unknown, Problem> {
  const body = knownResponse(testId, test);
  if (body === undefined) return ok(undefined);
  const id = test.instrumentId;
  const here = documents.knowledge.get(id);
  const before = here.ok ? ApplianceKnowledge.safeParse(here.value.body).data : undefined;
  if ((before?.knowledge.learnedWallMs ?? 0) > test.startedWallMs) return ok(undefined);
  return documents.knowledge.save(id, body, { wallMs, parentId: id });
}

export function createKnownAppliances(
  records: Pick<Records, 'use'>,
  { wallMs, changed }: { wallMs: () => number; changed: () => void },
): KnownAppliances {
  return {
    of: (visitId) =>
      records.use((tables) => {
        const found = stored(tables, visitId);
        if (!found.ok) return found;
        return ok(knownAtStart(found.value?.known?.knowledge, benchOf(tables, visitId), wallMs()));
      }),
    async learn({ visitId, source }, knowledge) {
      if (visitId === undefined || knowledge === undefined || source.kind !== 'serial') return ok(undefined);
      return records.use((tables) => {
        const found = stored(tables, visitId);
        if (!found.ok) return found;
        if (found.value === undefined) return ok(undefined);
        const { applianceId, known } = found.value;
        // several runs of one visit are one visit
        const visitIds = [...(known?.visitIds ?? []).filter((id) => id !== visitId), visitId].slice(-APPLIANCE_KNOWLEDGE_MOST);
        const { benchWallMs: _, ...ofAppliance } = knowledge;
        const body: ApplianceKnowledge = { visitIds, knowledge: { ...ofAppliance, visits: visitIds.length } };
        const saved = tables.documents.knowledge.save(applianceId, body, { wallMs: wallMs(), parentId: applianceId });
        if (!saved.ok) return saved;
        changed();
        return ok(undefined);
      });
    },
  };
}
