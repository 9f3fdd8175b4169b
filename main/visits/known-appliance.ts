/**
 * What earlier visits have taught of an appliance: read when a run of a visit begins, written when it ends. Only lines of an instrument teach; a simulated
 * burner says nothing about a real one.
 */
import { APPLIANCE_KNOWLEDGE_MOST, type ApplianceKnowledge, type SettlingKnowledge } from '../../shared/measurement/knowledge.ts';
import type { RunHeader } from '../../shared/measurement/run.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import type { Records } from '../store/records.ts';
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

export function createKnownAppliances(
  records: Pick<Records, 'use'>,
  { wallMs, changed }: { wallMs: () => number; changed: () => void },
): KnownAppliances {
  return {
    of: (visitId) =>
      records.use((tables) => {
        const found = stored(tables, visitId);
        return found.ok ? ok(found.value?.known?.knowledge) : found;
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
        const body: ApplianceKnowledge = { visitIds, knowledge: { ...knowledge, visits: visitIds.length } };
        const saved = tables.documents.knowledge.save(applianceId, body, { wallMs: wallMs(), parentId: applianceId });
        if (!saved.ok) return saved;
        changed();
        return ok(undefined);
      });
    },
  };
}
