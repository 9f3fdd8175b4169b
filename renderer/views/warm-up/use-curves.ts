import { useCallback, useEffect, useState } from 'react';
import { WarmUpCurve } from '../../../shared/warm-up/curve.ts';
import { useParts } from '../../app-parts.ts';

export type KeptCurve = { readonly id: string; readonly revision: number; readonly curve: WarmUpCurve };

/** The library, read again whenever documents change anywhere. */
export function useCurves(): { curves: readonly KeptCurve[]; reload: () => void } {
  const { client } = useParts();
  const [curves, setCurves] = useState<readonly KeptCurve[]>([]);
  const reload = useCallback(() => {
    void client.call('document.list', { kind: 'curve', limit: 200 }).then((found) => {
      if (!found.ok) return;
      setCurves(
        found.value.documents.flatMap(({ id, revision, body }) => {
          const read = WarmUpCurve.safeParse(body);
          return read.success ? [{ id, revision, curve: read.data }] : [];
        }),
      );
    });
  }, [client]);
  useEffect(() => {
    reload();
    return client.on('records.changed', ({ what }) => {
      if (what === 'documents' || what === 'all') reload();
    });
  }, [client, reload]);
  return { curves, reload };
}
