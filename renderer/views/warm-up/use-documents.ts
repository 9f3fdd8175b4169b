import { useCallback, useEffect, useMemo, useState } from 'react';
import type { ZodType } from 'zod';
import type { DocumentKind } from '../../../shared/ipc/store-commands.ts';
import { CallResult, ExerciseSet } from '../../../shared/warm-up/call-it.ts';
import { WarmUpCurve } from '../../../shared/warm-up/curve.ts';
import { useParts } from '../../app-parts.ts';

export type Kept<T> = { readonly id: string; readonly revision: number; readonly body: T };

/** Documents of one kind, read again whenever documents change anywhere. `schema` has to stay the same object. */
function useDocuments<T>(kind: DocumentKind, schema: ZodType<T>): { kept: readonly Kept<T>[]; reload: () => void } {
  const { client } = useParts();
  const [kept, setKept] = useState<readonly Kept<T>[]>([]);
  const reload = useCallback(() => {
    void client.call('document.list', { kind, limit: 200 }).then((found) => {
      if (!found.ok) return;
      setKept(
        found.value.documents.flatMap(({ id, revision, body }) => {
          const read = schema.safeParse(body);
          return read.success ? [{ id, revision, body: read.data }] : [];
        }),
      );
    });
  }, [client, kind, schema]);
  useEffect(() => {
    reload();
    return client.on('records.changed', ({ what }) => {
      if (what === 'documents' || what === 'all') reload();
    });
  }, [client, reload]);
  return { kept, reload };
}

export const useExerciseSets = () => useDocuments('exercises', ExerciseSet);
export const useCalls = () => useDocuments('call', CallResult);

export type KeptCurve = { readonly id: string; readonly revision: number; readonly curve: WarmUpCurve };
export function useCurves(): { curves: readonly KeptCurve[]; reload: () => void } {
  const { kept, reload } = useDocuments('curve', WarmUpCurve);
  const curves = useMemo(() => kept.map(({ id, revision, body }) => ({ id, revision, curve: body })), [kept]);
  return { curves, reload };
}
