import { useEffect, useState } from 'react';
import type { OfficeState } from '../../../../shared/ipc/office-commands.ts';
import { useParts } from '../../../app-parts.ts';

/** How it stands with the office, as the host says it. */
export function useOfficeState(): OfficeState | undefined {
  const { client } = useParts();
  const [state, setState] = useState<OfficeState>();
  useEffect(() => {
    let isHere = true;
    void client.call('office.state', {}).then((got) => {
      if (isHere && got.ok) setState(got.value);
    });
    const stop = client.on('office.changed', (next) => setState(next));
    return () => {
      isHere = false;
      stop();
    };
  }, [client]);
  return state;
}
